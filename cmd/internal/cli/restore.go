package cli

import (
	"fmt"
	"strings"

	"github.com/spf13/cobra"

	"fitfill/cmd/internal/app"
)

func newRestore(e *env) *cobra.Command {
	q := app.RestoreQuestion{}
	c := &cobra.Command{
		Use:   "restore FILE",
		Short: "Bring a backup back into the data folder",
		Long: `Bring a backup back into the data folder. A folder that holds a catalogue already
is left alone unless --replace is given: what is there is then kept aside, in a
folder of the data folder that the answer names, and is a data folder of its own.

The backup is unpacked, compared with the digests of its list and looked over as
"doctor" does before anything changes; one of an older fitfill is brought up to
date, one of a newer fitfill is refused. The search index is built. Nobody may have
the catalogue open: stop the page first.

A vehicle that was forgotten after the backup was made is forgotten again in what
comes back. The backup file itself still names it.
` + exits(),
		Example: `  fitfill restore /media/stick/shop-2026-11-30.zip
  fitfill restore /media/stick/shop-2026-11-30.zip --replace`,
		Args: cobra.ExactArgs(1),
		RunE: func(cmd *cobra.Command, args []string) error {
			home, err := e.dataFolder()
			if err != nil {
				return err
			}
			q.File, q.Home = args[0], home
			a, err := app.Restore(cmd.Context(), q)
			if err != nil {
				return err
			}
			if e.asJSON {
				return writeJSON(e.Out, a)
			}
			fmt.Fprintln(e.Out, e.style.strong("Restored: "+holds(a.BackupList)))
			fmt.Fprint(e.Out, wrap("  ", 4, fmt.Sprintf("into %s, as of %s; took %s", a.Home, moment(a.MadeAt), seconds(a.Seconds))))
			for _, line := range append(holdsMore(a.BackupList), restoredToo(a)...) {
				fmt.Fprint(e.Out, wrap("  ", 4, line))
			}
			return nil
		},
	}
	c.Flags().BoolVar(&q.Replace, "replace", false, "the backup takes the place of what is there, which is kept aside")
	return c
}

// restoredToo says what else restoring did.
func restoredToo(a app.RestoreAnswer) (lines []string) {
	if a.KeptAside != "" {
		lines = append(lines, fmt.Sprintf("What was there is kept in %s. It is a data folder of its own: ask it with --home. Delete it when it is not needed.", a.KeptAside))
	}
	if a.OldSettings {
		lines = append(lines, "The settings of the data folder stay as they are.")
	}
	switch {
	case a.NewPassphrase:
		lines = append(lines, "The passphrase of the page is that of the backup.")
	case a.Has(app.PassphraseFile):
		lines = append(lines, "The passphrase of the page stays as it is.")
	}
	f := a.Forgotten
	if len(f.Vehicles) > 0 {
		lines = append(lines, fmt.Sprintf("! %s forgotten after the backup was made, and forgotten again: kept as %s. The backup file itself still names %s.",
			app.Plural(len(f.Vehicles), "vehicle was", "vehicles were"), strings.Join(f.Vehicles, ", "), map[bool]string{true: "it", false: "them"}[len(f.Vehicles) == 1]))
	}
	if len(f.Dropped) > 0 {
		lines = append(lines, "! A sheet that waited for a decision named one of them and was dropped: "+strings.Join(f.Dropped, ", ")+".")
	}
	if !f.Remarks {
		lines = append(lines, "! A mark is too short or too plain to be looked for in remarks: read them through.")
	}
	if f.Unread {
		lines = append(lines, "! The catalogue that was there is damaged, and so nobody can tell which vehicles it had forgotten since the backup was made: forget those again (fitfill vehicle forget MARK --yes).")
	}
	return lines
}
