package cli

import (
	"fmt"
	"strings"

	"github.com/spf13/cobra"

	"fitfill/cmd/internal/app"
	"fitfill/cmd/internal/web"
)

func newServe(e *env) *cobra.Command {
	at := web.Place{}
	c := &cobra.Command{
		Use:   "serve",
		Short: "The same answers as a page: Counter, Bay and Office",
		Long: `Serve the same answers as a page in the browser of this machine: the Counter with
its one box, the Bay for a phone-sized screen, the Office. It runs until it is
stopped with Ctrl-C; answers under way are finished first. Every address can be
bookmarked; with .json behind its path it is the answer for another program.

Only this machine reaches it, until --listen names another address of it (0.0.0.0
for all) and a passphrase is set: fitfill passphrase. The page then asks each
browser for it once and lets it in for a week, or until it leaves or is not used
for twelve hours. Guesses are slowed down. It is asked for under the machine's
addresses and its own name; --name says another one.
` + onTheNetwork + exits(),
		Example: `  fitfill serve
  fitfill serve --listen localhost:8018
  fitfill serve --listen 0.0.0.0:8017
  fitfill serve --name parts.example`,
		Args: cobra.NoArgs,
		RunE: func(cmd *cobra.Command, _ []string) error {
			return e.with(nil, func(shop *app.Shop) error { return e.serve(cmd, shop, at) })
		},
	}
	c.Flags().StringVar(&at.Listen, "listen", defaultListen, "address to serve it at")
	c.Flags().StringArrayVar(&at.Names, "name", nil, "another name that it is asked for under, such as a proxy's")
	return c
}

const defaultListen = "localhost:8017"

func (e *env) serve(cmd *cobra.Command, shop *app.Shop, at web.Place) error {
	return web.Serve(cmd.Context(), shop, at, func(s web.Standing) {
		if e.asJSON {
			writeJSON(e.Out, map[string]any{"address": s.Addresses[0], "addresses": s.Addresses, "others_reach_it": s.Others, "passphrase": s.Passphrase})
			return
		}
		fmt.Fprintf(e.Out, "The page stands at %s (stop it with Ctrl-C)\n", strings.Join(s.Addresses, " and "))
		if s.Passphrase {
			fmt.Fprint(e.Out, wrap("  ", 2, "It asks for the passphrase."))
		}
		if s.Others {
			fmt.Fprint(e.Out, wrap("  ", 2, "What is typed and shown travels readable through the network: let it be the shop's own wired one, or put a proxy with TLS in front (fitfill serve --help)."))
		}
	})
}
