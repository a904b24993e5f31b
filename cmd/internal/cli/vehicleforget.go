package cli

import (
	"fmt"
	"strings"

	"github.com/spf13/cobra"

	"fitfill/cmd/internal/app"
)

func newVehicleForget(e *env) *cobra.Command {
	var yes bool
	c := &cobra.Command{
		Use:   "forget MARK",
		Short: "Drop a vehicle's mark and VIN, and keep its history without them",
		Long: `Drop the mark and the VIN of a vehicle wherever they are kept: in its records, in
remarks, in the log and in the kept copies of your sheets, with what stands in
columns of those rows that nothing reads. Fills and returns still count, under a
name that says nothing. It cannot be taken back.

Backups made before, and your own files, still name it; restoring such a backup
forgets it again. A sheet that names it is known when it is imported again: its
rows are kept without the mark and count once. For that a digest of mark and VIN
stays in the catalogue, under a key of its own; whoever has the data folder could
try a guessed mark against it. "vehicle add MARK" takes the digest away: the
vehicle is then a new one, and what older sheets say of it counts again.
` + exits(exitCannotSay),
		Example: `  fitfill vehicle forget "AB 123" --yes`,
		Args:    cobra.ExactArgs(1),
		RunE: func(cmd *cobra.Command, args []string) error {
			if !yes {
				return &app.UsageError{Problem: "forgetting " + args[0] + " cannot be taken back", Hint: fmt.Sprintf("if it is the right one: fitfill vehicle forget %q --yes", args[0])}
			}
			return e.with(nil, func(shop *app.Shop) error {
				a, err := shop.ForgetVehicle(cmd.Context(), args[0])
				if err != nil {
					return err
				}
				if e.asJSON {
					return writeJSON(e.Out, a)
				}
				fmt.Fprintln(e.Out, e.style.strong("Forgotten; its history stays as "+a.As))
				if len(a.Sheets) > 0 {
					fmt.Fprint(e.Out, wrap("  ", 4, "Written over in the kept copies of: "+strings.Join(a.Sheets, ", ")))
				}
				if !a.Remarks {
					fmt.Fprint(e.Out, wrap("  ! ", 4, "The mark is too short or too plain to be looked for in remarks: read them through (fitfill vehicle show \""+a.As+"\" --all)."))
				}
				if len(a.Aside) > 0 {
					fmt.Fprint(e.Out, wrap("  ! ", 4, "Catalogues that were replaced by a backup are kept and may name it still; delete them when they are not needed: "+strings.Join(a.Aside, ", ")))
				}
				if !a.Complete {
					fmt.Fprint(e.Out, wrap("  ! ", 4, "Another program, such as the page, holds the catalogue open: close it and run fitfill doctor, so that nothing is left in its log."))
				}
				fmt.Fprint(e.Out, wrap("  ", 4, "Backups made before, and your own files, still name it. A sheet that names it and is imported again does not bring it back: a keyed digest of the mark stays to know it by."))
				return nil
			})
		},
	}
	c.Flags().BoolVar(&yes, "yes", false, "do it")
	return c
}
