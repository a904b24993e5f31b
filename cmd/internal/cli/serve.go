package cli

import (
	"fmt"

	"github.com/spf13/cobra"

	"fitfill/cmd/internal/app"
	"fitfill/cmd/internal/web"
)

func newServe(e *env) *cobra.Command {
	var listen string
	c := &cobra.Command{
		Use:   "serve",
		Short: "The same answers as a page: Counter, Bay and Office",
		Long: `Serve the same answers as a page in the browser of this machine: the Counter with
its one box, the Bay for a phone-sized screen, the Office. It runs until it is
stopped with Ctrl-C; answers under way are finished first. Only this machine
reaches it. Every address can be bookmarked; with .json behind its path it is the
answer for another program.
` + exits(),
		Example: `  fitfill serve
  fitfill serve --listen localhost:8018`,
		Args: cobra.NoArgs,
		RunE: func(cmd *cobra.Command, _ []string) error {
			return e.with(nil, func(shop *app.Shop) error { return e.serve(cmd, shop, listen) })
		},
	}
	c.Flags().StringVar(&listen, "listen", defaultListen, "address on this machine")
	return c
}

const defaultListen = "localhost:8017"

func (e *env) serve(cmd *cobra.Command, shop *app.Shop, listen string) error {
	return web.Serve(cmd.Context(), shop, listen, func(address string) {
		if e.asJSON {
			writeJSON(e.Out, map[string]string{"address": address})
			return
		}
		fmt.Fprintf(e.Out, "The page stands at %s (stop it with Ctrl-C)\n", address)
	})
}
