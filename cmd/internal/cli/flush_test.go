package cli

import (
	"strings"
	"testing"
)

// The plan is read beside the car: it keeps to the page's width in any units.
func TestFlushPlansKeepToThePage(t *testing.T) {
	for _, question := range []string{
		"flush --engine VSR18 --from green --to PR-SIC-5 --coldest -12C", "flush --engine VSR18 --from red --to PR-SIC-5 --drain-with vacuum",
		"flush --from iat --to oat --volume 8L --drain 3.6L", "flush --from iat --to oat --volume 8L --drain 4.4L --cleaner PR-CD-1 --look gel",
	} {
		for _, system := range []string{"metric", "us"} {
			_, out, errs := call(t, append([]string{"--home", demoHome(t), "--units", system}, strings.Fields(question)...)...)
			lines := strings.Split(strings.TrimRight(out, "\n"), "\n")
			if errs != "" || len([]rune(lines[0])) > 62 {
				t.Errorf("%s: %q %s", question, lines[0], errs)
			}
			for _, l := range lines {
				if len([]rune(l)) > textWidth {
					t.Errorf("%s (%s): %d columns: %s", question, system, len([]rune(l)), l)
				}
			}
			if !strings.Contains(out, "Do not leave it standing") || !strings.Contains(out, "collector") {
				t.Errorf("%s:\n%s", question, out)
			}
		}
	}
}
