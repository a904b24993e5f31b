package cli

import (
	"context"
	"fmt"
	"path/filepath"
	"slices"
	"strings"

	"github.com/spf13/cobra"

	"fitfill/catalog"
	"fitfill/cmd/internal/app"
)

type importFlags struct {
	supplier, as string
	table        string
	maps, set    []string
	ignore       []string
	accept       []string
	check        bool
}

func newImport(e *env) *cobra.Command {
	var f importFlags
	c := &cobra.Command{
		Use:   "import FILE...",
		Short: "Read a sheet into the catalogue",
		Long: `Read a sheet (separated text, also in gz or zip) into the catalogue. Headings are
mapped to our fields by their names and values; what is not clear is asked, with
the words that answer it, and nothing is changed until it is answered. Rows that
cannot be read are held back with their reason; all others are taken.

A new version of a sheet takes the place of the old one; other lists of the same
supplier stay beside it. Importing the same file again changes nothing.

` + limitHelp() + exits(exitHeld, exitStaged),
		Example: `  fitfill import ostrel.csv --supplier Ostrel
  fitfill import prices.csv --supplier Ostrel --map number="Code no." --ignore "Shelf"
  fitfill import bought.csv --as purchases --set dates=dmy`,
		Args: cobra.MinimumNArgs(1),
		RunE: func(cmd *cobra.Command, args []string) error {
			q, err := f.question()
			if err != nil {
				return err
			}
			q.Progress, q.Unpacking = progress(e.Err, "rows"), progress(e.Err, "kB unpacked")
			return e.with(nil, func(shop *app.Shop) error { return e.importFiles(cmd.Context(), shop, q, args) })
		},
	}
	f.add(c)
	c.Flags().StringVar(&f.as, "as", "", "kind of sheet: supplier, engines, vehicles, purchases, returns, fills, fitted, or table (your own rows of a reference table)")
	c.Flags().StringVar(&f.table, "table", "", "with --as table: which one (else the file's name says it)")
	c.Flags().BoolVar(&f.check, "check", false, "only stage it: say what would happen, change nothing")
	return c
}

// add adds the flags by which questions about a sheet are answered.
func (f *importFlags) add(c *cobra.Command) {
	fl := c.Flags()
	fl.StringVar(&f.supplier, "supplier", "", "whose sheet it is (purchases and returns name theirs in a column)")
	fl.StringArrayVar(&f.maps, "map", nil, `field="Their heading"; may be repeated`)
	fl.StringArrayVar(&f.ignore, "ignore", nil, `set the column "Their heading" aside; may be repeated`)
	fl.StringArrayVar(&f.set, "set", nil, `NAME=VALUE: a setting or a limit of those above; of one column: decimal:"Their heading"=comma`)
	fl.StringArrayVar(&f.accept, "accept", nil, "go on although a gate asks: its name stands beside the question")
}

func (f importFlags) question() (q app.ImportQuestion, err error) {
	q = app.ImportQuestion{Supplier: f.supplier, As: f.as, Table: f.table, Ignore: f.ignore, Accept: f.accept, Check: f.check}
	if q.Maps, err = app.Pairs("--map", f.maps); err != nil {
		return q, err
	}
	q.Settings, err = app.Pairs("--set", f.set)
	return q, err
}

// longImport is the size of a sheet in bytes whose import takes longer than
// anybody at the counter should have to wait beside it.
const longImport = 1 << 20

// importFiles imports each file and ends with the gravest code of them all. All
// files are opened before the first is imported.
func (e *env) importFiles(ctx context.Context, shop *app.Shop, q app.ImportQuestion, files []string) error {
	sheets := make([]*sheetFile, len(files))
	for i, file := range files {
		var err error
		if sheets[i], err = openSheet(file); err != nil {
			return err
		}
		defer sheets[i].Close()
		if sheets[i].size >= longImport {
			_ = app.GiveWay() // where that is refused, the import takes its share as before
		}
	}
	var answers []app.ImportAnswer
	for i, file := range files {
		q.Name, q.File = filepath.Base(file), sheets[i]
		a, err := shop.Import(ctx, q)
		if err != nil {
			if len(answers) > 0 && !e.asJSON {
				e.importDone(answers) // these are in; the error comes last
			}
			return err
		}
		answers = append(answers, a)
	}
	return e.importDone(answers)
}

// importDone prints what became of the sheets.
func (e *env) importDone(answers []app.ImportAnswer) error {
	var end answered
	for i, a := range answers {
		switch {
		case a.Status == app.Staged:
			end = max(end, exitStaged)
		case a.RowsHeld > 0:
			end = max(end, exitHeld)
		}
		if !e.asJSON {
			if i > 0 {
				fmt.Fprintln(e.Out)
			}
			e.printImport(a)
		}
	}
	if e.asJSON {
		var out any = answers
		if len(answers) == 1 {
			out = answers[0]
		}
		if err := writeJSON(e.Out, out); err != nil {
			return err
		}
	}
	if end > 0 {
		return end
	}
	return nil
}

// printColumns shows the mapping; headings that are our own names are only
// listed.
func (e *env) printColumns(list []app.MappedColumn) {
	var mapped, same []string
	for _, c := range list {
		text := fmt.Sprintf("%s = %s", c.Heading, c.Field)
		if catalog.Fold(c.Heading) == catalog.Fold(c.Field) {
			text = c.Heading
		}
		if c.Reading != "" {
			text += " (" + c.Reading + ")"
		}
		if strings.Contains(text, " = ") {
			mapped = append(mapped, text)
		} else {
			same = append(same, text)
		}
	}
	if len(mapped) > 0 {
		fmt.Fprint(e.Out, wrap("  columns: ", 4, strings.Join(mapped, "; ")))
	}
	if len(same) > 0 {
		fmt.Fprint(e.Out, wrap("  under our own names: ", 4, strings.Join(same, ", ")))
	}
}

// heldShown is how many groups of held rows an import prints; held lists them all.
const heldShown = 5

func (e *env) printImport(a app.ImportAnswer) {
	if a.Kind == app.TableKind {
		e.printTable(a)
		return
	}
	whose := strings.TrimSpace(string(a.Kind) + " sheet")
	if a.Supplier != "" {
		whose += " of " + a.Supplier
	}
	if a.NewSupplier {
		whose += ", a new supplier"
	}
	if a.RowsCorrected > 0 {
		whose += fmt.Sprintf(", %s by hand", app.Plural(a.RowsCorrected, "row corrected", "rows corrected"))
	}
	fmt.Fprintf(e.Out, "%s: %s\n", e.style.strong(a.Sheet), whose)
	e.printColumns(a.Columns)
	if len(a.Ignored) > 0 {
		fmt.Fprint(e.Out, wrap("  set aside: ", 4, strings.Join(a.Ignored, "; ")))
	}
	for _, n := range a.Notes {
		if slices.ContainsFunc(a.Open, func(o app.OpenQuestion) bool { return o.Code == n.Code }) {
			continue // the question says it
		}
		where := ""
		if n.Line > 0 {
			where = fmt.Sprintf("line %d: ", n.Line)
		}
		fmt.Fprint(e.Out, wrap("  note: ", 4, where+n.Text))
	}
	if a.RowsTaken+a.RowsHeld > 0 {
		fmt.Fprintf(e.Out, "  %s: %d taken, %d held back, %d skipped (blank, repeated heading, total)\n",
			app.Plural(a.RowsRead, "row", "rows"), a.RowsTaken, a.RowsHeld, a.RowsSkipped)
	}
	if a.Repeats > 0 {
		fmt.Fprintf(e.Out, "  %s word for word what an earlier one says\n", app.Plural(a.Repeats, "row says", "rows say"))
	}
	for _, r := range a.Remarks {
		fmt.Fprint(e.Out, wrap("  note: ", 4, fmt.Sprintf("column %q: %s (%s, first on line %d)", r.Column, r.Says, app.Plural(r.Rows, "row", "rows"), r.Line)))
	}
	const most = 3
	for _, k := range a.SetAside[:min(most, len(a.SetAside))] {
		fmt.Fprint(e.Out, wrap("  ", 4, fmt.Sprintf("line %d is a %s: %q", k.Line, k.Class, shorten(k.Text))))
	}
	if n := len(a.SetAside) - most; n > 0 {
		fmt.Fprintf(e.Out, "  and %d more such lines; a row among them: --set rows=LINE\n", n)
	}
	switch a.Status {
	case app.Unchanged:
		fmt.Fprintln(e.Out, "  Imported before, unchanged: nothing to do.")
	case app.Imported:
		e.printChanges(a)
	case app.Staged:
		if a.RowsTaken > 0 {
			e.printChanges(a)
		}
		e.printOpen(a)
	}
}

// flagsShown is how many answers to one question are written out; --json has them
// all.
const flagsShown = 3

// printOpen prints what a person has to decide, with the words that do it.
func (e *env) printOpen(a app.ImportAnswer) {
	fmt.Fprintf(e.Out, "  Nothing was changed. It waits as number %d, to be decided:\n", a.ID)
	defer func() {
		fmt.Fprint(e.Out, wrap("  ", 4, fmt.Sprintf("Add the answers to the command, or: fitfill sheets accept %d ANSWERS; to forget it: fitfill sheets drop %d", a.ID, a.ID)))
	}()
	for _, o := range a.Open {
		fmt.Fprint(e.Out, wrap("  ? ", 4, o.Question))
		for _, x := range o.Examples {
			fmt.Fprint(e.Out, wrap("      ", 8, x))
		}
		if len(o.Choices) > 1 {
			fmt.Fprint(e.Out, wrap("      ", 6, "one of: "+strings.Join(o.Choices, ", ")))
		}
		if flags := strings.Split(o.Command, " or "); len(flags) > flagsShown {
			fmt.Fprint(e.Out, wrap("      ", 6, "answer with: "+flags[0]+", or another of them"))
		} else if o.Command != "" {
			fmt.Fprint(e.Out, wrap("      ", 6, "answer with: "+o.Command))
		}
	}
}

// printChanges prints what a sheet changes and which rows it holds back.
func (e *env) printChanges(a app.ImportAnswer) {
	c := a.Changes
	fmt.Fprintf(e.Out, "  %d new, %d changed, %d unchanged, %d no longer listed", c.Added, c.Changed, c.Unchanged, c.Withdrawn)
	if len(a.Replaces) > 0 {
		fmt.Fprintf(e.Out, "; takes the place of %s", strings.Join(a.Replaces, ", "))
	}
	fmt.Fprintln(e.Out)
	e.printReport(a.Report)
	if n := a.Unread; n != nil {
		fmt.Fprint(e.Out, wrap("  ", 4, fmt.Sprintf("%s not understood: %s, answered once each: fitfill sheets notes %q", app.Plural(n.Rows, "note", "notes"), app.Plural(n.Texts, "text", "texts"), a.Supplier)))
	}
	rows := make([]app.HeldLine, len(a.Held))
	for i, h := range a.Held {
		rows[i].HeldRow = h
	}
	left := len(rows)
	for _, g := range together(rows)[:min(heldShown, len(together(rows)))] {
		e.heldGroup(g)
		left -= len(g.rows)
	}
	if left > 0 && a.Status == app.Imported {
		fmt.Fprintf(e.Out, "  and %d more: fitfill held --sheet %d\n", left, a.ID)
	} else if left > 0 {
		fmt.Fprintf(e.Out, "  and %d more\n", left)
	}
}

// limitHelp lists the settings of a sheet and the limits on what one file may do.
func limitHelp() string {
	var b strings.Builder
	b.WriteString("Settings, by --set NAME=VALUE; those of values also of one column, as in\n--set decimal:\"Their heading\"=comma:\n")
	for _, s := range app.ReadingSettings() {
		b.WriteString(wrap(fmt.Sprintf("  %-11s%-19s ", s.Name, s.Takes), 33, s.Says))
	}
	b.WriteString("\n")
	b.WriteString("Limits, changed by --set NAME=VALUE:\n")
	for _, l := range app.Limits() {
		b.WriteString(wrap(fmt.Sprintf("  %-16s%8s  ", l.Name, l.Usual), 28, l.Says))
	}
	return b.String()
}
