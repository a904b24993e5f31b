package cli

import (
	"fmt"
	"strings"
	"time"

	"github.com/spf13/cobra"

	"fitfill/cmd/internal/app"
)

func newBackup(e *env) *cobra.Command {
	q := app.BackupQuestion{}
	c := &cobra.Command{
		Use:   "backup FILE",
		Short: "Write one file with all that this data folder holds",
		Long: `Write one file with all that the data folder holds and nothing else could make
again: the catalogue with every kept sheet, what you put down by hand, sheets that
wait for a decision, your own tables, the settings, and the digest of the page's
passphrase. The search index is not in it; it builds itself again.

Others read and import meanwhile: what is written is the catalogue as of one
moment. It is looked over as "doctor" does, and the file appears under its name
when it is whole. It is a zip archive with a list of what is in it; only you can
read it, since it may name customers. Keep it on another disk.
` + exits(),
		Example: `  fitfill backup /media/stick/shop-2026-11-30.zip
  fitfill backup /media/stick/shop.zip --overwrite`,
		Args: cobra.ExactArgs(1),
		RunE: func(cmd *cobra.Command, args []string) error {
			q.File = args[0]
			return e.with(nil, func(shop *app.Shop) error {
				a, err := shop.Backup(cmd.Context(), q)
				if err != nil {
					return err
				}
				if e.asJSON {
					return writeJSON(e.Out, a)
				}
				fmt.Fprintln(e.Out, e.style.strong("Backed up: "+holds(a.BackupList)))
				for _, line := range holdsMore(a.BackupList) {
					fmt.Fprint(e.Out, wrap("  ", 4, line))
				}
				fmt.Fprint(e.Out, wrap("  ", 4, fmt.Sprintf("%s: %s, took %s, made %s", a.File, size(a.Size), seconds(a.Seconds), moment(a.MadeAt))))
				fmt.Fprint(e.Out, wrap("Bring it back: ", 2, a.Restore))
				return nil
			})
		},
	}
	c.Flags().BoolVar(&q.Overwrite, "overwrite", false, "a file of that name may go")
	return c
}

// holds sums up a backup in a line.
func holds(l app.BackupList) string {
	h := l.Holds
	return fmt.Sprintf("%s, %s, %s", app.Plural(h.Sheets, "sheet", "sheets"), app.Plural(h.Parts, "part", "parts"), app.Plural(h.Vehicles, "vehicle", "vehicles"))
}

// holdsMore says what else is in a backup.
func holdsMore(l app.BackupList) (lines []string) {
	h := l.Holds
	if h.LastSheet != "" {
		lines = append(lines, fmt.Sprintf("last import: %s, %s", h.LastSheet, moment(h.LastImport)))
	}
	var with []string
	if h.Waiting > 0 {
		with = append(with, app.Plural(h.Waiting, "sheet that waits", "sheets that wait")+" for a decision")
	}
	if h.Logged > 0 {
		with = append(with, app.Plural(h.Logged, "entry", "entries")+" by hand")
	}
	if h.OwnTables > 0 {
		with = append(with, app.Plural(h.OwnTables, "table", "tables")+" of your own")
	}
	if l.Has(app.SettingsFile) {
		with = append(with, "settings")
	}
	if l.Has(app.PassphraseFile) {
		with = append(with, "the passphrase's digest")
	}
	if len(with) > 0 {
		lines = append(lines, "with "+strings.Join(with, ", "))
	}
	return lines
}

// moment writes a time of a catalogue (RFC 3339, UTC) as the clock on the wall
// showed it.
func moment(at string) string {
	t, err := time.Parse(time.RFC3339, at)
	if err != nil {
		return at
	}
	return t.Local().Format("2006-01-02 15:04")
}

// size writes a number of bytes for people.
func size(n int64) string {
	for _, unit := range []struct {
		bytes int64
		name  string
	}{{1e9, "GB"}, {1e6, "MB"}, {1e3, "kB"}} {
		if n >= unit.bytes {
			return fmt.Sprintf("%.1f %s", float64(n)/float64(unit.bytes), unit.name)
		}
	}
	return app.Plural(int(n), "byte", "bytes")
}

func seconds(s float64) string { return fmt.Sprintf("%.1f s", s) }
