package cli

import (
	"fmt"

	"github.com/spf13/cobra"

	"fitfill/catalog/units"
	"fitfill/cmd/internal/app"
	"fitfill/compat/coolant"
)

func newFlush(e *env) *cobra.Command {
	var q app.FlushQuestion
	var coldest string
	c := &cobra.Command{
		Use:   "flush --from WHAT --to WHAT",
		Short: "How to get the old coolant out and the new one in",
		Long: `Plan the rounds: how much to drain, what to pour, what stands in the engine
after each round, and what it ends at. The rounds are as few as leave no more
of the old coolant than the new one takes as clean, so that the next top-off
with it is clean too.

WHAT is what it is for mix. What the system holds and what comes out of the tap
are those of the engine unless --volume and --drain say otherwise. With water
between the rounds, part of the rinse stays in and thins the last fill; where
that ends too weak, the plan says so and names the nearest way that does not.

It ends with 3 where it cannot be reached that way, or with something to mind.
` + exits(exitNo, exitCannotSay),
		Example: `  fitfill flush --engine VSR18 --from green --to PR-SIC-5 --coldest -12C
  fitfill flush --from iat --to oat --volume 8L --drain 4.4L --strength 50`,
		Args: cobra.NoArgs,
		RunE: func(cmd *cobra.Command, _ []string) error {
			return e.with(map[string]string{"coldest": coldest}, func(shop *app.Shop) error {
				a, err := shop.Flush(cmd.Context(), q)
				if err != nil {
					return err
				}
				if e.asJSON {
					if err := writeJSON(e.Out, a); err != nil {
						return err
					}
				} else {
					e.printFlush(a, shop.Settings.Units)
				}
				return outcomeExit(a.Outcome)
			})
		},
	}
	f := c.Flags()
	f.StringVar(&q.Engine, "engine", "", "engine family: takes its capacity, drain volume and strength")
	f.StringVar(&q.Circuit, "circuit", "", "circuit, where the engine has several")
	f.StringVar(&q.From.What, "from", "", "what is in it")
	f.StringVar(&q.From.Strength, "from-strength", "", "its strength in vol % as poured")
	f.StringVar(&q.From.Glycol, "from-glycol", "", "its base: ethylene or propylene")
	f.StringVar(&q.To.What, "to", "", "what shall be in it (default: the house coolant)")
	f.StringVar(&q.To.Strength, "to-strength", "", "strength of the bottle in vol % as poured")
	f.StringVar(&q.To.Glycol, "to-glycol", "", "its base: ethylene or propylene")
	f.StringVar(&q.Volume, "volume", "", "what the whole system holds, such as 8L")
	f.StringVar(&q.Drain, "drain", "", "what comes out in one drain, such as 4.4L")
	f.StringVar(&q.DrainWith, "drain-with", "", "how it is drained: tap, block-plug or vacuum")
	f.StringVar(&q.Residue, "residue", "", "how much of the old fill may stay, such as 5%")
	f.StringVar(&q.Strength, "strength", "", "strength to end at, in vol % as poured")
	f.StringVar(&q.Rinse, "rinse", "", "water or coolant in the rounds before the last (default: water, with a premix coolant)")
	f.IntVar(&q.CoolantRounds, "coolant-rounds", 0, "how many of the last rounds get coolant (default 1)")
	f.StringVar(&q.Cleaner, "cleaner", "", "number of a cleaner that is used")
	f.StringVar(&q.Look, "look", "", "how the old fill looks: clear, hazy, rusty, oily or gel")
	f.StringVar(&coldest, "coldest", "", "coldest expected temperature, such as -25 C")
	return c
}

func (e *env) printFlush(a app.FlushAnswer, u units.System) {
	fmt.Fprintf(e.Out, "%s\n", e.style.strong(outcomeMark[a.Outcome]+" "+a.First))
	where := ""
	if a.Engine != "" {
		where = " in " + a.Engine
	}
	fmt.Fprint(e.Out, wrap("  ", 2, fmt.Sprintf("from %s to %s%s", a.From, a.To, where)))
	e.printRounds(a.FlushPlan, u, a.Frost)
	e.findings(e.Out, a.Findings, false)
	e.findings(e.Out, a.NotChecked, false)
	if a.Ask != "" {
		fmt.Fprint(e.Out, wrap("    > ", 6, "add --circuit NAME"))
	}
	for i, w := range a.Nearest {
		lead := "  Sooner: "
		switch {
		case i > 0:
			lead = "      or: "
		case !a.Reachable:
			lead = "  Nearest that does: "
		}
		fmt.Fprint(e.Out, wrap(lead, 10, w.Says+" ("+w.Flag+")"))
	}
	for i, s := range a.Steps {
		fmt.Fprint(e.Out, wrap(fmt.Sprintf("  %d. ", i+1), 5, s))
	}
	e.own(a.Own)
	if len(a.Cautions) > 0 {
		text := ""
		for _, c := range a.Cautions {
			text += c + " "
		}
		fmt.Fprint(e.Out, e.style.faint(wrap("  Mind: ", 8, text)))
	}
}

// printRounds prints a line for every round and the sums.
func (e *env) printRounds(p coolant.FlushPlan, u units.System, why string) {
	if len(p.Rounds) == 0 {
		return
	}
	var rows [][]string
	starred := false
	for i, r := range p.Rounds {
		pour := u.FormatVolume(r.Water) + " " + r.With
		if r.With == coolant.RinseCoolant {
			pour = u.FormatVolume(r.Bottle) + " coolant"
			if r.Water.Nanolitres() > 0 {
				pour += " + " + u.FormatVolume(r.Water) + " water"
			}
		}
		strength := fmt.Sprintf("%.1f %%", r.Strength.Percents())
		if d := r.StrengthHigh.Percents() - r.Strength.Percents(); d >= 1 {
			strength = fmt.Sprintf("%.0f-%.0f %%", r.Strength.Percents(), r.StrengthHigh.Percents())
		}
		freezes := "-"
		if r.Freeze != nil {
			freezes = u.FormatTemperature(r.Freeze.Value)
		}
		if r.DoNotLeave {
			freezes, starred = freezes+" *", true
		} else if starred {
			freezes += "  "
		}
		rows = append(rows, []string{"   " + fmt.Sprint(i+1), pour, fmt.Sprintf("%.3g %%", r.OldLeft.Percents()), strength, freezes})
	}
	fmt.Fprintf(e.Out, "  Drain %s each time, then pour:\n", u.FormatVolume(p.Rounds[0].Drain))
	columns(e.Out, e.style, []string{"   #", "in", ">old left", ">strength", ">freezes"}, rows)
	if starred {
		fmt.Fprint(e.Out, wrap("  * ", 4, "Do not leave it standing like this: "+why))
	}
	all := u.FormatVolume(p.Bottle) + " of coolant (" + p.BottleIs + ")"
	if p.Water.Nanolitres() > 0 {
		all += ", " + u.FormatVolume(p.Water) + " of water"
	}
	fmt.Fprint(e.Out, wrap("  In all: ", 4, all+"; "+u.FormatVolume(p.Waste)+" to the collector"))
}
