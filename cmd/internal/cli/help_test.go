package cli

import (
	"strings"
	"testing"
)

// "help COMMAND" prints what "COMMAND --help" prints.
func TestHelpIsWhatTheFlagPrints(t *testing.T) {
	for _, of := range [][]string{nil, {"fit"}, {"sheets"}, {"sheets", "show"}} {
		_, flag, _ := call(t, append(of, "--help")...)
		if code, got, _ := call(t, append([]string{"help"}, of...)...); code != exitYes || got != flag {
			t.Errorf("help %q: exit %d\n%s\nthe flag prints\n%s", of, code, got, flag)
		}
	}
	for _, c := range []struct {
		args []string
		near string
	}{{[]string{"fot"}, "fitfill fit"}, {[]string{"sheets", "lst"}, "fitfill sheets list"}} {
		code, _, says := call(t, append([]string{"help"}, c.args...)...)
		if code != exitUsage || !strings.Contains(says, "the nearest is: "+c.near+"\n") {
			t.Errorf("help %q: exit %d, %q", c.args, code, says)
		}
	}
}
