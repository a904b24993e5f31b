package cli

import (
	"github.com/spf13/cobra"
	"github.com/spf13/pflag"

	"fitfill/cmd/internal/app"
)

func newMix(e *env) *cobra.Command {
	var q app.MixQuestion
	var capPressure, altitude, coldest string
	var explain bool
	c := &cobra.Command{
		Use:   "mix --fill WHAT|--vehicle MARK --add WHAT",
		Short: "May this coolant go on top of what is in there",
		Long: `Judge whether a coolant may be poured on top of what is in the engine, what the
mixture will freeze and boil at, and how to find out what is not known.

WHAT is a chemistry (iat, iat-phosphate, iat-heavy-duty, oat, si-oat,
hoat-silicate, p-hoat, psi-oat, noat, hd-oat, waterless, low-conductivity,
not-engine), several it may be (oat+iat), a colour, a product number, an
approval number ("TK 1140", better "approved: TK 1140"), factory (first fill,
never opened: needs --engine; factory+green says what it shows), water, or
unknown. What goes in may also be the number of a coolant filter.
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
					e.printMix(a, shop.Settings.Units, explain)
					e.printNotKept(a.NotKept)
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
	f.BoolVar(&explain, "explain", false, "show every reason, each computation, all steps and where each comes from")
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
