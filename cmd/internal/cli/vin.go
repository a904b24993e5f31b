package cli

import (
	"fmt"
	"strings"

	"github.com/spf13/cobra"

	"fitfill/cmd/internal/app"
	"fitfill/compat"
)

func newVIN(e *env) *cobra.Command {
	var heavy bool
	c := &cobra.Command{
		Use:   "vin VIN",
		Short: "What a VIN says: year, check digit, which engines",
		Long: `Take a VIN apart: is it one, which model year, and which of the engines on file
it can mean by the character at position 8. What may have been misread is
offered, never put right silently.
` + exits(exitNo, exitCannotSay),
		Example: `  fitfill vin Z0XAB12C74K123456`,
		Args:    cobra.MinimumNArgs(1),
		RunE: func(cmd *cobra.Command, args []string) error {
			return e.with(nil, func(shop *app.Shop) error {
				a, err := shop.VIN(cmd.Context(), strings.Join(args, ""), heavy)
				if err != nil {
					return err
				}
				return e.printVIN(a)
			})
		},
	}
	c.Flags().BoolVar(&heavy, "heavy", false, "a truck above 4536 kg, a bus, a trailer or a motorcycle: position 7 does not tell its year")
	return c
}

func (e *env) printVIN(a app.VINAnswer) error {
	var end error
	switch {
	case !a.Valid:
		end = answered(exitNo)
	case !a.Settled():
		end = answered(exitCannotSay)
	}
	if e.asJSON {
		if err := writeJSON(e.Out, a); err != nil {
			return err
		}
		return end
	}
	mark := compat.Yes
	if end != nil {
		mark = compat.CannotSay
	}
	if !a.Valid {
		mark = compat.No
	}
	fmt.Fprint(e.Out, e.style.strong(wrap(outcomeMark[mark]+" ", 2, a.First())))
	e.vinDetails(a)
	for _, c := range a.Corrections {
		note := "its check digit is right"
		if !c.Proved {
			note = "nothing proves it: its maker need not use a check digit"
		}
		fmt.Fprint(e.Out, wrap("  Perhaps ", 4, fmt.Sprintf("%s (%s; %s): fitfill vin %s", c.VIN, c.Changed, note, c.VIN)))
	}
	return end
}

func (e *env) vinDetails(a app.VINAnswer) {
	for _, p := range a.Problems[min(1, len(a.Problems)):] {
		fmt.Fprint(e.Out, wrap("  ", 2, app.Capital(p.Says)+"."))
	}
	if !a.Valid {
		return
	}
	for _, m := range a.Engines {
		fmt.Fprint(e.Out, wrap("  ", 4, strings.TrimSpace(m.Plate()+": "+m.Why+" "+cite(m.Origin))))
	}
	if a.Ask != "" {
		fmt.Fprint(e.Out, wrap("  > ", 4, a.Ask))
	}
	year := "no model year"
	if len(a.Years) > 0 {
		year = "model year " + strings.Trim(strings.ReplaceAll(fmt.Sprint(a.Years), " ", " or "), "[]")
	}
	fmt.Fprint(e.Out, wrap("  ", 2, app.Capital(year)+": "+a.YearNote+". It may have been built in the year before."))
	check := fmt.Sprintf("Check digit %s: right.", a.CheckDigit.Is)
	if !a.CheckDigit.Right { // only where no rule asks for one
		check = fmt.Sprintf("Check digit: position 9 is %s and the sum asks for %s, which binds nobody outside North America.", a.CheckDigit.Is, a.CheckDigit.Wants)
	}
	fmt.Fprint(e.Out, wrap("  ", 2, check))
	maker := fmt.Sprintf("Maker %s (%s), position 8 %s.", a.Maker, a.Region, a.VIN8)
	if a.LowVolume {
		maker += " A maker of few vehicles: positions 12 to 14 tell which."
	}
	fmt.Fprint(e.Out, wrap("  ", 2, maker))
	if a.Vehicle != "" {
		fmt.Fprint(e.Out, wrap("  ", 2, "On file as "+a.Vehicle+": fitfill vehicle show \""+a.Vehicle+"\""))
	}
	if a.Settled() {
		fmt.Fprintln(e.Out, "  Parts for it: fitfill fit "+a.Engines[0].Engine+" --type thermostat")
	}
}
