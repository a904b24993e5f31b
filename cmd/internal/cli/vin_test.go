package cli

import (
	"encoding/json"
	"strings"
	"testing"
)

func TestWhatAVINLeadsTo(t *testing.T) {
	home := demoHome(t)
	for _, tc := range []struct {
		vin     string
		exit    int
		engines string
		says    string
	}{
		{"Z0XSD38T821004321", exitYes, "TKV38", "model year 2002"},
		{"z0xhk50j9 11000606", exitYes, "TKV50", "position 8 of the VIN is J"},
		{"Z0XBR30T1W1005555", exitCannotSay, "TKV30 TKV38", "Which engine size: 3.0 L or 3.8 L?"},
		{"Z0XBR30T6W1000707", exitYes, "TKV30", "D 07 is on file with this VIN"},
		{"Z0XLU16A861000330", exitCannotSay, "ODL16", "Perhaps Z0XLU16A861000303"},
		{"ZOXSD38T821004321", exitNo, "", "Perhaps Z0XSD38T821004321 (0 in place of O at position 2"},
		{"Z0XSD38T82100432", exitNo, "", "16 characters"},
		{"W0XAB12CZ4K123456", exitCannotSay, "", "binds nobody outside North America"},
	} {
		code, text, _ := call(t, "--home", home, "vin", tc.vin)
		if flat := strings.Join(strings.Fields(text), " "); code != tc.exit || !strings.Contains(strings.ToLower(flat), strings.ToLower(tc.says)) {
			t.Errorf("%s: exit code %d\n%s", tc.vin, code, text)
		}
		if first, _, _ := strings.Cut(text, "\n"); len(first) > 80 {
			t.Errorf("%s: first line %q", tc.vin, first)
		}
		_, out, _ := call(t, "--home", home, "--json", "vin", tc.vin)
		var a struct{ Engines []struct{ Engine string } }
		if err := json.Unmarshal([]byte(out), &a); err != nil {
			t.Fatal(err)
		}
		var got []string
		for _, e := range a.Engines {
			got = append(got, e.Engine)
		}
		if strings.Join(got, " ") != tc.engines {
			t.Errorf("%s: engines %v, want %s", tc.vin, got, tc.engines)
		}
	}
}
