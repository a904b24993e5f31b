package cli

import (
	"strings"
	"testing"
)

func TestVehicleAddAndChange(t *testing.T) {
	home := ownDemo(t)
	a := answer(t, home, 0, "vehicle", "add", "E 77", "--engine", "tkv 38")
	if a["vehicle"] != "E 77" || a["engine"] != "TKV38" || a["entry"] == nil {
		t.Errorf("%v", a)
	}
	a = answer(t, home, 0, "vehicle", "add", "e77", "--vin", "z0xsd38t411000777", "--first-fill", "factory")
	if a["vehicle"] != "E 77" || a["engine"] != "TKV38" || a["vin"] != "Z0XSD38T411000777" || a["first_fill"] != "factory" {
		t.Errorf("said again: %v", a)
	}
	answer(t, home, 0, "vehicle", "undo")
	a = answer(t, home, 0, "vehicle", "add", "E 77")
	if a["vin"] != "" || a["engine"] != "TKV38" {
		t.Errorf("taken back: %v", a)
	}
}

// A day says since when the first fill is in; alone, it is the factory's.
func TestVehicleFirstFillByItsDay(t *testing.T) {
	home := ownDemo(t)
	if a := answer(t, home, 0, "vehicle", "add", "E 78", "--engine", "ODL16", "--first-fill", "2021-05-03"); a["first_fill"] != "factory 2021-05-03" {
		t.Errorf("%v", a)
	}
	if code, out, errs := call(t, "--home", home, "mix", "--vehicle", "E 78", "--add", "PR-PH50-5", "--add-volume", "0.5L"); code != 0 || !strings.Contains(out, "presumed untouched") {
		t.Errorf("%d %s%s", code, out, errs)
	}
	if a := answer(t, home, 0, "vehicle", "tag", "E 78"); a["filled"] != "2021-05-03" {
		t.Errorf("%v", a)
	}
	answer(t, home, 2, "vehicle", "add", "E 78", "--first-fill", "2999-05-03")
}

func TestVehicleIsFoundByItsVIN(t *testing.T) {
	if a := answer(t, demoHome(t), 0, "fill", "list", "Z0XSD38T411000202"); a["vehicle"] != "D 02" {
		t.Errorf("%v", a)
	}
}

func TestVehicleAddRefusesWhatItCannotRead(t *testing.T) {
	home := ownDemo(t)
	for _, c := range []struct {
		args []string
		exit int
		says string
	}{
		{[]string{"..."}, 2, "no mark"},
		{[]string{"E 77", "--vin", "Z0XSD38T41100020"}, 2, "has 16 characters"},
		{[]string{"E 77", "--vin", "Z0XSD38T41100O202"}, 2, "letter O"},
		{[]string{"E 77", "--vin", "Z0XSD38T411000202"}, 2, "as that of D 02"},
		{[]string{"E 77", "--engine", "NOPE"}, 4, "NOPE"},
		{[]string{"E 77", "--first-fill", "lemonade"}, 2, "lemonade"},
	} {
		code, _, errs := call(t, append([]string{"--home", home, "vehicle", "add"}, c.args...)...)
		if code != c.exit || !strings.Contains(strings.Join(strings.Fields(errs), " "), c.says) {
			t.Errorf("%v ended with %d, want %d with %q:\n%s", c.args, code, c.exit, c.says, errs)
		}
	}
}

func TestVehicleList(t *testing.T) {
	_, out, _ := call(t, "--home", demoHome(t), "vehicle", "list")
	if !strings.Contains(out, "D 07") || !strings.Contains(out, "TKV30") {
		t.Error(out)
	}
}
