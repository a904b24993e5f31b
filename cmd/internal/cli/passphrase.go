package cli

import (
	"bufio"
	"context"
	"errors"
	"fmt"
	"io"
	"os"
	"strings"

	"github.com/spf13/cobra"
	"golang.org/x/term"

	"fitfill/cmd/internal/app"
)

func newPassphrase(e *env) *cobra.Command {
	var remove bool
	c := &cobra.Command{
		Use:   "passphrase",
		Short: "Set, change or remove the passphrase of the page",
		Long: fmt.Sprintf(`Set the passphrase under which other machines may ask for the page, or change the
one that is set. It is typed twice and not shown; where the input is no terminal,
its first line is taken. It needs %d characters. Once it is set, the page asks
everybody for it, on this machine too, and everybody again when it is changed.
The data folder keeps a slow, salted digest of it, in a file that only you can read.

Other machines reach the page only after "fitfill serve --listen" says so.
%s`, app.ShortestPassphrase, onTheNetwork) + exits(),
		Example: `  fitfill passphrase
  fitfill passphrase --remove`,
		Args: cobra.NoArgs,
		RunE: func(cmd *cobra.Command, _ []string) error {
			home, err := e.dataFolder()
			if err != nil {
				return err
			}
			if remove {
				return e.removePassphrase(home)
			}
			before, damaged := app.ReadPassphrase(home)
			text, err := e.newPassphrase(cmd.Context())
			if err != nil {
				return err
			}
			if err := app.SetPassphrase(home, text); err != nil {
				return err
			}
			changed := before != nil || damaged != nil
			if e.asJSON {
				return writeJSON(e.Out, map[string]any{"set": true, "changed": changed, "removed": false, "home": home})
			}
			fmt.Fprintln(e.Out, e.style.strong(map[bool]string{true: "The passphrase is changed.", false: "The passphrase is set."}[changed]))
			if changed {
				fmt.Fprint(e.Out, wrap("  ", 2, "The page asks everybody for the new one."))
			} else {
				fmt.Fprint(e.Out, wrap("  ", 2, "The page asks everybody for it. To let other machines in: fitfill serve --listen 0.0.0.0:8017"))
			}
			return nil
		},
	}
	c.Flags().BoolVar(&remove, "remove", false, "remove it: the page is for this machine alone again")
	return c
}

// onTheNetwork says what a passphrase does not do, in a command's help.
const onTheNetwork = `What is typed and shown, the passphrase too, travels readable through the network:
the page speaks no TLS. Let it be the shop's own wired network, or put a reverse
proxy with TLS in front, on this machine, and name it with "serve --name".
`

func (e *env) removePassphrase(home string) error {
	was, err := app.RemovePassphrase(home)
	if err != nil {
		return err
	}
	if e.asJSON {
		return writeJSON(e.Out, map[string]any{"set": false, "changed": false, "removed": was, "home": home})
	}
	if !was {
		fmt.Fprintln(e.Out, "No passphrase was set.")
		return nil
	}
	fmt.Fprintln(e.Out, e.style.strong("The passphrase is removed: the page is for this machine alone."))
	return nil
}

// newPassphrase asks for a passphrase: twice and without showing it on a
// terminal, else for the first line of the input.
func (e *env) newPassphrase(ctx context.Context) (string, error) {
	in, ok := e.In.(*os.File)
	if !ok || !term.IsTerminal(int(in.Fd())) {
		return firstLine(e.In)
	}
	text, err := e.unseen(ctx, in, fmt.Sprintf("New passphrase, at least %d characters: ", app.ShortestPassphrase))
	if err != nil {
		return "", err
	}
	again, err := e.unseen(ctx, in, "The same once more: ")
	if err != nil {
		return "", err
	}
	if text != again {
		return "", &app.UsageError{Problem: "the two are not the same, and nothing was changed", Hint: "try again: fitfill passphrase"}
	}
	return text, nil
}

// unseen reads a line from a terminal that does not show it.
func (e *env) unseen(ctx context.Context, in *os.File, asks string) (string, error) {
	before, err := term.GetState(int(in.Fd()))
	if err != nil {
		return "", err
	}
	fmt.Fprint(e.Err, asks)
	defer fmt.Fprintln(e.Err)
	type line struct {
		text []byte
		err  error
	}
	read := make(chan line, 1)
	go func() {
		text, err := term.ReadPassword(int(in.Fd()))
		read <- line{text, err}
	}()
	select {
	case l := <-read:
		if errors.Is(l.err, io.EOF) {
			return "", noPassphrase
		}
		return string(l.text), l.err
	case <-ctx.Done(): // reading does not notice; the terminal has to show again what is typed
		return "", errors.Join(ctx.Err(), term.Restore(int(in.Fd()), before))
	}
}

var noPassphrase = &app.UsageError{Problem: "no passphrase was given, and nothing was changed", Hint: "type it at a terminal: fitfill passphrase (or give it as the first line of the input)"}

// mostInput is how much of an input is looked at for its first line.
const mostInput = 1 << 16

func firstLine(in io.Reader) (string, error) {
	if in == nil {
		return "", noPassphrase
	}
	text, err := bufio.NewReader(io.LimitReader(in, mostInput)).ReadString('\n')
	if err != nil && !errors.Is(err, io.EOF) {
		return "", err
	}
	text = strings.TrimSuffix(strings.TrimSuffix(text, "\n"), "\r")
	if text == "" {
		return "", noPassphrase
	}
	return text, nil
}
