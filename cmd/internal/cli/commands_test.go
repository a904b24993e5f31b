package cli

import (
	"bytes"
	"context"
	"io"
	"strings"
	"testing"
)

// A command says the same whether it stands alone or among all others.
func TestACommandAloneSaysWhatItSaysAmongAll(t *testing.T) {
	for i, c := range newRoot(&env{}, "").Commands() { // in the order of their names
		alone := newRoot(&env{}, c.Name()).Commands()
		if len(alone) != 1 || alone[0].Name() != c.Name() {
			t.Fatalf("%s: %d commands", c.Name(), len(alone))
		}
		for _, args := range [][]string{{c.Name(), "--help"}, {c.Name(), "--jsn"}, {"--home", t.TempDir(), c.Name(), "--help"}} {
			says := func(only string) string {
				var out, errs bytes.Buffer
				e := &env{Streams: Streams{Out: &out, Err: &errs}}
				root := newRoot(e, only)
				root.SetArgs(args)
				root.SetOut(&out)
				root.SetErr(&errs)
				code := exitCode(context.Background(), root.ExecuteContext(context.Background()), false, e.Streams)
				return strings.Join([]string{out.String(), errs.String(), string(rune('0' + code))}, "|")
			}
			if one, all := says(named(args)), says(""); one != all || len(one) < 20 || named(args) != c.Name() {
				t.Errorf("%d %q says\n%s\nand among all\n%s", i, args, one, all)
			}
		}
	}
}

func TestWhichCommandALineNames(t *testing.T) {
	for line, want := range map[string]string{
		"fit TKV38": "fit", "--json fit TKV38": "fit", "--home demo fit TKV38": "fit", "--home=demo --units us fit": "fit", "--json=false job": "job",
		"": "", "--help": "", "fits": "", "help fit": "", "--home fit": "", "--home": "", "--units": "", "-h fit": "", "--unit us fit": "", "-- fit": "", "completion": "", "--version": "",
	} {
		if got := named(strings.Fields(line)); got != want {
			t.Errorf("%q names %q, want %q", line, got, want)
		}
	}
	var out bytes.Buffer
	if code := Run(context.Background(), []string{"fits"}, Streams{Out: io.Discard, Err: &out}); code != exitUsage || !strings.Contains(out.String(), "fitfill fit") {
		t.Errorf("exit code %d, %s", code, out.String())
	}
}
