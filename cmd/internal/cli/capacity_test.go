package cli

import (
	"encoding/json"
	"strings"
	"testing"
)

func TestCapacityWithoutTheBook(t *testing.T) {
	for _, tc := range []struct {
		args string
		exit int
		has  string
	}{
		{"--before 50% --drained 3L --after 31.25%", exitYes, "holds about 8.0 L"},
		{"--before 50% --drained 3L --after 31.25% --engine VSR18", exitYes, "that agrees"},
		{"--before 50% --drained 3L --after 31.25% --engine JVD74", exitYes, "that does not agree"},
		{"--before -18C --drained 2L --with PR-SIC-5 --after -34C", exitYes, "holds about 9.0 L"},
		{"--before 50% --drained 0.5L --after 48%", exitCannotSay, "too near each other"},
		{"--before 50% --drained 3L --after 55%", exitUsage, "measure again"},
		{"--before 50% --after 55%", exitUsage, "--drained is missing"},
	} {
		code, out, errs := call(t, append([]string{"--home", demoHome(t), "fill", "capacity"}, strings.Fields(tc.args)...)...)
		if code != tc.exit || !strings.Contains(out+errs, tc.has) {
			t.Errorf("%s: exit code %d, want %d saying %q:\n%s%s", tc.args, code, tc.exit, tc.has, out, errs)
		}
	}
	_, out, _ := call(t, append([]string{"--home", demoHome(t), "--json", "fill", "capacity"}, strings.Fields("--before 50% --drained 3L --after 31.25%")...)...)
	var a struct {
		Litres float64 `json:"capacity_l"`
		Low    float64 `json:"low_l"`
		High   float64 `json:"high_l"`
	}
	if err := json.Unmarshal([]byte(out), &a); err != nil || !(a.Low < a.Litres && a.Litres < a.High) {
		t.Errorf("%v, %+v in\n%s", err, a, out)
	}
}
