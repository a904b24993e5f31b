package cli

import (
	"bytes"
	"encoding/json"
	"os"
	"path/filepath"
	"strings"
	"testing"
)

// typed runs a command with an input.
func typed(t *testing.T, input string, args ...string) (int, string, string) {
	t.Helper()
	var out, errs bytes.Buffer
	code := Run(t.Context(), args, Streams{In: strings.NewReader(input), Out: &out, Err: &errs})
	return code, out.String(), strings.Join(strings.Fields(errs.String()), " ")
}

func TestPassphraseIsSetChangedAndRemoved(t *testing.T) {
	home := t.TempDir()
	path := filepath.Join(home, "passphrase")
	for _, step := range []struct {
		input string
		args  []string
		code  int
		says  string
		there bool
	}{
		{"", []string{"--remove"}, exitYes, "No passphrase was set.", false},
		{"", nil, exitUsage, "no passphrase was given", false},
		{"\n", nil, exitUsage, "no passphrase was given", false},
		{"too short\n", nil, exitUsage, "has 9 characters; it needs 10 to 500", false},
		{"four blue cans\r\nanother line\n", nil, exitYes, "The passphrase is set.", true},
		{"nine green jars", nil, exitYes, "The passphrase is changed.", true},
		{"short", nil, exitUsage, "has 5 characters", true},
		{"", []string{"--remove"}, exitYes, "The passphrase is removed", false},
	} {
		code, out, errs := typed(t, step.input, append([]string{"--home", home, "passphrase"}, step.args...)...)
		if code != step.code || !strings.Contains(out+errs, step.says) {
			t.Errorf("%q %v: %d %s%s", step.input, step.args, code, out, errs)
		}
		if strings.Contains(out+errs, strings.TrimSpace(step.input)) && step.code == exitYes && step.input != "" {
			t.Errorf("it is shown: %s%s", out, errs)
		}
		if _, err := os.Stat(path); (err == nil) != step.there {
			t.Errorf("%q %v: the file is there: %v", step.input, step.args, err == nil)
		}
	}
	code, out, errs := typed(t, "four blue cans", "--home", home, "--json", "passphrase")
	var a map[string]any
	if err := json.Unmarshal([]byte(out), &a); err != nil || code != exitYes || a["set"] != true || a["changed"] != false {
		t.Errorf("%d %s%s", code, out, errs)
	}
	code, out, _ = typed(t, "", "--home", home, "--json", "passphrase", "--remove")
	if err := json.Unmarshal([]byte(out), &a); err != nil || code != exitYes || a["removed"] != true {
		t.Errorf("%d %s", code, out)
	}
	if code, out, errs := call(t, "--home", home, "passphrase"); code != exitUsage { // no input at all
		t.Errorf("%d %s%s", code, out, errs)
	}
}

// The help says what a passphrase does not do.
func TestTheNetworkIsSpokenOf(t *testing.T) {
	for _, command := range []string{"passphrase", "serve"} {
		_, out, _ := call(t, command, "--help")
		if !strings.Contains(out, "travels readable through the network") || !strings.Contains(out, "proxy with TLS") {
			t.Errorf("%s: %s", command, out)
		}
	}
}
