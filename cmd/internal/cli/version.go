package cli

import (
	"fmt"
	"runtime/debug"

	"github.com/spf13/cobra"
)

func newVersion(e *env) *cobra.Command {
	return &cobra.Command{
		Use:   "version",
		Short: "Print the version of this program",
		Long:  "Print the version of this program.\n" + exits(),
		RunE: func(*cobra.Command, []string) error {
			version, revision := "(unknown)", ""
			if info, ok := debug.ReadBuildInfo(); ok {
				version = info.Main.Version
				for _, s := range info.Settings {
					if s.Key == "vcs.revision" {
						revision = s.Value
					}
				}
			}
			if e.asJSON {
				return writeJSON(e.Out, map[string]string{"version": version, "revision": revision})
			}
			_, err := fmt.Fprintln(e.Out, "fitfill", version, revision)
			return err
		},
	}
}
