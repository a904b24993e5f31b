package cli

import (
	"context"
	"fmt"
	"path/filepath"
	"strings"

	"github.com/spf13/cobra"

	"fitfill/cmd/internal/app"
	"fitfill/cmd/internal/web"
)

func newDemo(e *env) *cobra.Command {
	var listen string
	var serve bool
	c := &cobra.Command{
		Use:   "demo",
		Short: "Load an invented garage and ask it three questions",
		Long: `Load the sheets of an invented garage into a data folder of its own (or the one
that --home names) and answer the mechanic, the counter and the buyer. All
names in it are invented. Running it again changes nothing. --serve opens it as a
page instead: Counter, Bay and Office.
` + exits(),
		Args: cobra.NoArgs,
		RunE: func(cmd *cobra.Command, _ []string) error {
			if e.home == "" {
				home, err := e.dataFolder()
				if err != nil {
					return err
				}
				e.home = filepath.Clean(home) + "-demo"
			}
			if serve {
				return e.with(demoHabits, func(shop *app.Shop) error {
					if err := shop.LoadDemo(cmd.Context(), func(app.ImportAnswer) {}); err != nil {
						return err
					}
					return e.serve(cmd, shop, web.Place{Listen: listen})
				})
			}
			return e.with(nil, func(shop *app.Shop) error { return e.demo(cmd.Context(), shop) })
		},
	}
	c.Flags().BoolVar(&serve, "serve", false, "serve the demo garage as a page")
	c.Flags().StringVar(&listen, "listen", defaultListen, "with --serve: address on this machine")
	return c
}

// demoHabits are the settings of the demo garage, for its page.
var demoHabits = map[string]string{"house_coolant": "PR-SI50-20", "labour_rate": "60 EUR", "coldest": "-25 C"}

// demoQuestions are asked the way a user would ask them, so that what the demo
// prints is what the commands print.
var demoQuestions = []struct{ who, asks, command string }{
	{"The mechanic", "Green in it, our house coolant in the hand, half a litre, -12 °C tonight. May I?", "mix --engine VSR18 --fill green --add PR-SI50-20 --add-volume 0.5L --coldest -12C"},
	{"The counter", "Which thermostat goes into the three point eight?", "fit TKV38 --type thermostat"},
	{"The buyer", "Whose parts come back, and is that luck?", "suppliers"},
}

// demoNext are commands to try next; {home} is the data folder.
var demoNext = []string{
	"find thermostat TKV38", "fit TKV38 --type seal --explain", "mix --fill iat --add oat", "held", "suppliers --type thermostat",
}

func (e *env) demo(ctx context.Context, shop *app.Shop) error {
	if !e.asJSON {
		fmt.Fprintf(e.Out, "Loading the demo garage into %s\n", e.home)
	}
	rows, held := 0, 0
	err := shop.LoadDemo(ctx, func(a app.ImportAnswer) {
		rows, held = rows+a.RowsTaken, held+a.RowsHeld
		if !e.asJSON {
			fmt.Fprintf(e.Out, "  %-22s %-10s %s taken, %d held back\n", a.Sheet, a.Kind, app.Plural(a.RowsTaken, "row", "rows"), a.RowsHeld)
		}
	})
	if err != nil {
		return err
	}
	if e.asJSON {
		return writeJSON(e.Out, map[string]any{"home": e.home, "rows_taken": rows, "rows_held": held})
	}
	for _, q := range demoQuestions {
		fmt.Fprintf(e.Out, "\n%s\n%s\n$ fitfill %s\n\n", strings.Repeat("-", textWidth), e.style.strong(q.who+": "+q.asks), q.command)
		code := Run(ctx, append([]string{"--home", e.home, "--units", e.units}, strings.Fields(q.command)...), Streams{Out: e.Out, Err: e.Err})
		if code == exitFailed || code == exitUsage || code == exitInterrupted || code == exitBusy {
			return answered(code)
		}
	}
	fmt.Fprintf(e.Out, "\n%s\nTry next (export %s_HOME=%s, or --home each time):\n", strings.Repeat("-", textWidth), app.EnvPrefix, e.home)
	for _, c := range demoNext {
		fmt.Fprintf(e.Out, "  fitfill %s\n", c)
	}
	return nil
}
