package cli

import (
	"fmt"
	"slices"
	"strings"

	"github.com/spf13/cobra"
	"github.com/spf13/pflag"

	"fitfill/catalog/units"
	"fitfill/cmd/internal/app"
	"fitfill/compat"
	"fitfill/compat/coolant"
)

func newMix(e *env) *cobra.Command {
	var q app.MixQuestion
	var capPressure, altitude, coldest string
	c := &cobra.Command{
		Use:   "mix --fill WHAT|--vehicle MARK --add WHAT",
		Short: "May this coolant go on top of what is in there",
		Long: `Judge whether a coolant may be poured on top of what is in the engine, what the
mixture will freeze and boil at, and how to find out what is not known.

WHAT is a chemistry (iat, iat-phosphate, iat-heavy-duty, oat, si-oat,
hoat-silicate, p-hoat, psi-oat, noat, hd-oat, waterless, low-conductivity,
not-engine), several it may be (oat+iat), a colour, a product number, factory
(first fill, never opened: needs --engine), water, or unknown.
` + exits(exitNo, exitCannotSay),
		Example: `  fitfill mix --engine KR6 --fill green --add BX-500 --add-volume 0.5L
  fitfill mix --fill oat --add water`,
		Args: cobra.NoArgs,
		RunE: func(cmd *cobra.Command, _ []string) error {
			over := map[string]string{"cap_pressure": capPressure, "altitude": altitude, "coldest": coldest}
			return e.with(over, func(shop *app.Shop) error {
				a, err := shop.Mix(cmd.Context(), q)
				if err != nil {
					return err
				}
				if e.asJSON {
					if err := writeJSON(e.Out, a); err != nil {
						return err
					}
				} else {
					e.printMix(a, shop.Settings.Units)
				}
				return outcomeExit(a.Outcome)
			})
		},
	}
	f := c.Flags()
	f.StringVar(&q.Vehicle, "vehicle", "", "mark or plate: what is in it by the log of its fills")
	f.StringVar(&q.Engine, "engine", "", "engine family")
	f.StringVar(&q.Circuit, "circuit", "", "circuit, where the engine has several")
	f.StringVar(&q.Fill.What, "fill", "", "what is in the engine")
	f.StringVar(&q.Fill.Strength, "fill-strength", "", "its strength in vol % as poured")
	f.StringVar(&q.Fill.Volume, "fill-volume", "", "how much of it is in there, such as 6L")
	f.StringVar(&q.Fill.Glycol, "fill-glycol", "", "its base: ethylene or propylene")
	f.StringVar(&q.Add.What, "add", "", "what is going in")
	f.StringVar(&q.Add.Strength, "add-strength", "", "its strength in vol % as poured")
	f.StringVar(&q.Add.Volume, "add-volume", "", "how much of it; without it, the largest safe amounts are given")
	f.StringVar(&q.Add.Glycol, "add-glycol", "", "its base: ethylene or propylene")
	f.StringVar(&capPressure, "cap", "", "rating of the pressure cap, such as 15 psi")
	f.StringVar(&altitude, "altitude", "", "height above sea level, such as 500 m")
	f.StringVar(&coldest, "coldest", "", "coldest expected temperature, such as -25 C")
	f.StringVar(&q.Look, "look", "", "how the fill looks: clear, hazy, rusty, oily or gel")
	addTests(f, &q.Tests)
	f.StringVar(&q.Hardness, "hardness", "", "hardness of the water in mg/L as CaCO3")
	f.StringVar(&q.Chloride, "chloride", "", "chloride of the water in mg/L")
	return c
}

// addTests adds the flags for what tests of the fill showed.
func addTests(f *pflag.FlagSet, t *app.TestsSaid) {
	f.StringVar(&t.PH, "ph", "", "pH of the fill by strip")
	f.StringVar(&t.Nitrite, "nitrite", "", "nitrite strip: mg/kg, none or shows")
	f.StringVar(&t.Phosphate, "phosphate", "", "phosphate strip: mg/kg, none or shows")
	f.StringVar(&t.Silicate, "silicate", "", "silicate drops: mg/kg, none or shows")
	f.StringVar(&t.Molybdate, "molybdate", "", "molybdate strip: mg/kg, none or shows")
	f.StringVar(&t.Reserve, "reserve-alkalinity", "", "alkalinity kit: per cent of new coolant, high or low")
	f.StringVar(&t.FreezeReads, "freeze-reads", "", "freezing point that a refractometer reads, such as -18 C")
	f.StringVar(&t.Scale, "scale", "", "the refractometer's scale: ethylene or propylene")
	f.StringVar(&t.Age, "age", "", "age of the fill, such as 14months or 2years")
}

func (e *env) printMix(a app.MixAnswer, u units.System) {
	fmt.Fprintf(e.Out, "%s\n", e.style.strong(outcomeMark[a.Outcome]+" "+a.First))
	where := ""
	switch {
	case a.Vehicle != "" && a.Engine != "":
		where = " in " + a.Vehicle + " (" + a.Engine + ")"
	case a.Vehicle != "":
		where = " in " + a.Vehicle
	case a.Engine != "":
		where = " in " + a.Engine
	}
	fmt.Fprint(e.Out, wrap("  ", 2, fmt.Sprintf("%s on top of %s%s", a.Add, a.Fill, where)))
	e.findings(e.Out, a.Findings, false)
	if a.Ask != "" {
		fmt.Fprint(e.Out, wrap("    > ", 6, a.Ask))
	}
	e.printBefore(a)
	e.printResult(a.Result, u)
	e.printLadder(a, u)
	for i, s := range a.Settle {
		lead := "  To find out: "
		if i > 0 {
			lead = "           or: "
		}
		fmt.Fprint(e.Out, wrap(lead, 15, s.Test+": "+s.Tells))
	}
	if a.GetHome != nil {
		fmt.Fprint(e.Out, wrap("  ", 4, a.GetHome.Says))
	}
	if len(a.NotChecked) > 0 {
		var missing []string
		for _, f := range a.NotChecked {
			if f.Missing != "" && !slices.Contains(missing, f.Missing) {
				missing = append(missing, f.Missing)
			}
		}
		fmt.Fprint(e.Out, wrap("  Not checked, for want of: ", 4, strings.Join(missing, "; ")))
	}
	if len(a.Cautions) > 0 {
		fmt.Fprint(e.Out, e.style.faint(wrap("  Mind: ", 8, strings.Join(a.Cautions, " "))))
	}
}

// printBefore prints what is wrong with the fill already, as far as no finding
// has said it.
func (e *env) printBefore(a app.MixAnswer) {
	var says []string
	for _, text := range a.Before.Says {
		if !slices.ContainsFunc(a.Findings, func(f compat.Finding) bool { return f.Says == text }) {
			says = append(says, text)
		}
	}
	if len(says) > 0 {
		fmt.Fprint(e.Out, wrap("  As it is now: ", 4, strings.Join(says, " ")))
	}
}

func (e *env) printResult(r coolant.Result, u units.System) {
	var parts []string
	if r.Strength != nil {
		parts = append(parts, fmt.Sprintf("strength %.0f %% (±%.0f)", r.Strength.Value.Percents(), r.Strength.PM.Percents()))
	}
	if r.Freeze != nil {
		parts = append(parts, "freezes at "+plusMinus(u, r.Freeze))
	}
	if r.BoilOpen != nil {
		parts = append(parts, "boils open at "+plusMinus(u, r.BoilOpen))
	}
	if r.BoilCapped != nil {
		parts = append(parts, "under the cap, if it holds, at "+plusMinus(u, r.BoilCapped))
	}
	if r.Months > 0 {
		parts = append(parts, fmt.Sprintf("next change in %d months at the latest", r.Months))
	}
	if len(parts) > 0 {
		fmt.Fprint(e.Out, wrap("  Afterwards: ", 4, strings.Join(parts, "; ")))
	}
}

func plusMinus(u units.System, f *coolant.Figure[units.Temperature, units.TempDelta]) string {
	return u.FormatTemperature(f.Value) + " (±" + strings.TrimPrefix(u.FormatTempDelta(f.PM), "+") + ")"
}

// printLadder shows up to which amount each verdict holds. Where it gets better
// again because more than half of the old coolant would have to be out first, it
// ends: that is no longer a top-off.
func (e *env) printLadder(a app.MixAnswer, u units.System) {
	if len(a.Ladder) == 0 {
		return
	}
	all := a.Ladder[len(a.Ladder)-1].UpTo
	for i, step := range a.Ladder {
		amount := "up to " + u.FormatVolume(step.UpTo)
		if i > 0 {
			before := a.Ladder[i-1]
			if before.Outcome.Worse(step.Outcome) && before.UpTo.Compare(all.Scale(0.5)) > 0 {
				fmt.Fprint(e.Out, wrap("      ", 6, "Beyond that most of the old coolant is out: a change, not a top-off."))
				break
			}
			if i == len(a.Ladder)-1 {
				amount = "more than " + u.FormatVolume(before.UpTo)
			}
		}
		fmt.Fprint(e.Out, wrap("    "+outcomeMark[step.Outcome]+" ", 6, amount+": "+step.Why))
	}
	if a.LadderNote != "" {
		fmt.Fprint(e.Out, wrap("      ", 6, a.LadderNote))
	}
}
