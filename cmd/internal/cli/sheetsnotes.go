package cli

import (
	"fmt"
	"unicode/utf8"

	"github.com/spf13/cobra"

	"fitfill/cmd/internal/app"
	"fitfill/compat/fit"
)

func newSheetsNotes(e *env) *cobra.Command {
	var said app.NoteSaid
	var all bool
	c := &cobra.Command{
		Use:   "notes [SUPPLIER [NOTE]]",
		Short: "The notes of the lists, grouped by text, and what they mean",
		Long: `Group the notes of suppliers' lists by text and show which are not understood.
A note with a limiting word (only, from, except ...) is asked about at every fit
until it is answered; one without is shown and lets its rows pass. One answer
settles every row of that supplier with the same text, and holds for its later
lists. NOTE is the text, or a part of it that no other note has.
` + exits(),
		Example: `  fitfill sheets notes
  fitfill sheets notes Ostrel "trade counter" --harmless
  fitfill sheets notes Ostrel "188F" --only "to 2005"
  fitfill sheets notes Ostrel "less turbo" --not-for turbo`,
		Args: cobra.MaximumNArgs(2),
		RunE: func(cmd *cobra.Command, args []string) error {
			args = append(args, "", "")
			said.Supplier, said.Text = args[0], args[1]
			return e.with(nil, func(shop *app.Shop) error {
				if said.Text == "" && (said.Harmless || said.Forget || said.Only != "" || said.Except != "") {
					return &app.UsageError{Problem: "an answer is about one note of one supplier", Hint: `fitfill sheets notes SUPPLIER "part of the note" --harmless`}
				}
				if said.Text != "" {
					g, err := shop.AnswerNote(cmd.Context(), said)
					if err != nil {
						return err
					}
					return e.noteAnswered(g)
				}
				a, err := shop.Notes(cmd.Context(), said.Supplier)
				if err != nil {
					return err
				}
				if e.asJSON {
					return writeJSON(e.Out, a)
				}
				e.printNotes(a, all)
				return nil
			})
		},
	}
	c.Flags().BoolVar(&said.Harmless, "harmless", false, "the note conditions nothing")
	c.Flags().StringVar(&said.Only, "only", "", "its rows are only for what this names: A/C, from 2006, VIN K ...")
	c.Flags().StringVar(&said.Except, "not-for", "", "its rows are not for what this names")
	c.Flags().BoolVar(&said.Forget, "forget", false, "take the answer back")
	c.Flags().BoolVar(&all, "all", false, "also the notes that are understood or answered")
	return c
}

func (e *env) noteAnswered(g app.NoteGroup) error {
	if e.asJSON {
		return writeJSON(e.Out, g)
	}
	_, err := fmt.Fprint(e.Out, wrap("", 2, fmt.Sprintf("%s, %q: %s (%s)", g.Supplier, g.Note, noteNow(g), app.Plural(g.Rows, "row", "rows"))))
	return err
}

// noteNow says what a note comes to now.
func noteNow(g app.NoteGroup) string {
	if g.Means != "" {
		return g.Means + ", said on " + g.Answered
	}
	switch g.Kind {
	case fit.NoteUnread:
		return "not understood: asked at every fit"
	case fit.NotePasses:
		return "not known: lets its rows pass"
	case fit.NoteRead:
		return "asks for " + g.HangsOn
	}
	return "harmless"
}

func (e *env) printNotes(a app.NotesAnswer, all bool) {
	fmt.Fprint(e.Out, wrap("", 2, fmt.Sprintf("%s on %s; %s to be answered, on %s",
		app.Plural(a.Texts, "note text", "note texts"), app.Plural(a.Rows, "row", "rows"), app.Plural(a.OpenTexts, "text", "texts"), app.Plural(a.OpenRows, "row", "rows"))))
	var rows [][]string
	first := ""
	for _, g := range a.Notes {
		if g.Open && first == "" {
			first = fmt.Sprintf("fitfill sheets notes %q %q", g.Supplier, g.Note)
		}
		if g.Open || all {
			rows = append(rows, []string{g.Supplier, fmt.Sprint(g.Rows), fmt.Sprint(g.Parts), noteNow(g), g.Note})
		}
	}
	if len(rows) > 0 {
		fmt.Fprintln(e.Out)
		columns(e.Out, e.style, []string{"supplier", ">rows", ">parts", "now", "note"}, cutLast(rows, textWidth))
	}
	if first != "" {
		fmt.Fprintln(e.Out)
		fmt.Fprint(e.Out, wrap("> Answer one: ", 2, first+` --harmless | --only "A/C" | --not-for "turbo"`))
	}
	if !all && a.OpenTexts < a.Texts {
		fmt.Fprintf(e.Out, "\nThe %s understood or answered: --all.\n", app.Plural(a.Texts-a.OpenTexts, "text", "texts"))
	}
}

// cutLast shortens the last cell of each row so that a row fits the width.
func cutLast(rows [][]string, width int) [][]string {
	widest := make([]int, len(rows[0]))
	for _, row := range rows {
		for i, cell := range row {
			widest[i] = max(widest[i], utf8.RuneCountInString(cell))
		}
	}
	last := len(widest) - 1
	room := width
	for _, w := range widest[:last] {
		room -= w + len("  ")
	}
	for _, row := range rows {
		if r := []rune(row[last]); len(r) > room && room > 1 {
			row[last] = string(r[:room-1]) + "…"
		}
	}
	return rows
}
