package cli

import (
	"bytes"
	_ "embed"
	"html/template"
	"sync"

	"github.com/spf13/cobra"

	"fitfill/cmd/internal/app"
)

//go:embed templates/tag.html
var tagPage string

var tagTemplate = sync.OnceValue(func() *template.Template { return template.Must(template.New("tag").Parse(tagPage)) })

func newVehicleTag(e *env) *cobra.Command {
	var circuit, out string
	c := &cobra.Command{
		Use:   "tag MARK --out FILE.html",
		Short: "A tag for under the bonnet: what is in it, what to top with",
		Long: `Write a small card to print and hang under the bonnet: what is in the circuit by
its log, since when, and what it may be topped with. That was judged against the
log; where nothing surely mixes, the card says to ask. It names neither the
vehicle nor its owner.
` + exits(exitCannotSay),
		Example: `  fitfill vehicle tag "AB 123" --out tag.html`,
		Args:    cobra.ExactArgs(1),
		RunE: func(cmd *cobra.Command, args []string) error {
			if out == "" && !e.asJSON {
				return &app.UsageError{Problem: "not said where the tag is written to", Hint: "add --out tag.html"}
			}
			return e.with(nil, func(shop *app.Shop) error {
				t, err := shop.Tag(cmd.Context(), args[0], circuit)
				if err != nil {
					return err
				}
				if out == "" {
					return writeJSON(e.Out, t)
				}
				var page bytes.Buffer
				if err := tagTemplate().Execute(&page, t); err != nil {
					return err
				}
				if err := writeNew(out, page.Bytes()); err != nil {
					return err
				}
				if e.asJSON {
					return writeJSON(e.Out, t)
				}
				says := "top with " + t.TopWith
				if t.TopWith == "" {
					says = "it names nothing to top with: what is in there is not surely known"
				}
				return e.said(map[string]any{"file": out}, "%s: %s circuit, %s", out, t.Circuit, says)
			})
		},
	}
	c.Flags().StringVar(&circuit, "circuit", "", "circuit, where there are several")
	c.Flags().StringVar(&out, "out", "", "file to write, such as tag.html")
	return c
}
