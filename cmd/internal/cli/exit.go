package cli

import (
	"context"
	"encoding/json"
	"errors"
	"fmt"
	"io"
	"strings"

	"fitfill/cmd/internal/app"
	"fitfill/compat"
)

// The exit codes. Every command's help prints those that it can end with.
const (
	exitYes         = 0   // answered yes, or done
	exitFailed      = 1   // something went wrong
	exitUsage       = 2   // wrong command, flag or argument
	exitNo          = 3   // answered no or caution
	exitCannotSay   = 4   // answered cannot say, or nothing found
	exitHeld        = 5   // imported, some rows held back
	exitBusy        = 6   // the catalogue is busy
	exitStaged      = 7   // import waits for a decision, nothing changed
	exitInterrupted = 130 // stopped by the user
)

var exitMeaning = map[int]string{
	exitYes: "answered yes, or done", exitFailed: "failed", exitUsage: "wrong usage",
	exitNo: "answered no or caution", exitCannotSay: "answered cannot say, or nothing found",
	exitHeld: "imported, some rows held back", exitBusy: "catalogue busy",
	exitStaged: "import waits for a decision, nothing changed", exitInterrupted: "interrupted",
}

// exits builds the paragraph of a command's help that lists its exit codes.
func exits(codes ...int) string {
	var b strings.Builder
	b.WriteString("\nExit codes:\n")
	for _, c := range append(append([]int{exitYes, exitFailed, exitUsage}, codes...), exitBusy, exitInterrupted) {
		fmt.Fprintf(&b, "  %3d  %s\n", c, exitMeaning[c])
	}
	return b.String()
}

// answered ends a command with a code that is not an error.
type answered int

func (a answered) Error() string { return fmt.Sprintf("exit code %d", int(a)) }

// outcomeExit turns an outcome into how the command ends.
func outcomeExit(o compat.Outcome) error {
	switch o {
	case compat.Yes:
		return nil
	case compat.No, compat.Caution:
		return answered(exitNo)
	}
	return answered(exitCannotSay)
}

// exitCode is the only place where an error becomes an exit code. It prints
// the error as two lines: what went wrong, and what to do.
func exitCode(ctx context.Context, err error, asJSON bool, s Streams) int {
	var code answered
	switch {
	case err == nil:
		return exitYes
	case errors.As(err, &code):
		return int(code)
	}
	problem, hint, exit := describe(ctx, err)
	if asJSON {
		writeJSON(s.Out, map[string]string{"error": problem, "hint": hint})
	}
	fmt.Fprint(s.Err, wrap("fitfill: ", 2, problem))
	if hint != "" {
		fmt.Fprint(s.Err, wrap("  ", 2, hint))
	}
	return exit
}

func describe(ctx context.Context, err error) (problem, hint string, exit int) {
	var usage *app.UsageError
	var other *app.BusyError
	hint, unknown := app.IsUnknown(err)
	switch {
	case ctx.Err() != nil:
		return "stopped; the catalogue is as it was", "", exitInterrupted
	case errors.As(err, &usage):
		return usage.Problem, usage.Hint, exitUsage
	case unknown:
		return err.Error(), hint, exitCannotSay
	case errors.As(err, &other):
		return other.Problem, other.Hint, exitBusy
	case errors.Is(err, app.ErrBusy):
		return err.Error(), "", exitBusy
	}
	return err.Error(), "", exitFailed
}

func writeJSON(w io.Writer, v any) error {
	e := json.NewEncoder(w)
	e.SetEscapeHTML(false)
	e.SetIndent("", "  ")
	return e.Encode(v)
}
