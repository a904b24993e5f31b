package codes

import (
	"slices"
	"strings"
	"testing"

	"fitfill/catalog"
	"fitfill/catalog/units"
	"fitfill/data"
)

func tables(t *testing.T) *Tables {
	t.Helper()
	ref, err := data.Reference()
	if err != nil {
		t.Fatal(err)
	}
	tab, err := NewTables(ref)
	if err != nil {
		t.Fatal(err)
	}
	return tab
}

func stated(c float64) catalog.Stated[units.Temperature] {
	return catalog.Say(units.Celsius(c), "", catalog.Origin{})
}

func advice(t *testing.T, code string) Advice {
	t.Helper()
	c, err := Parse(code)
	if err != nil {
		t.Fatal(err)
	}
	return tables(t).For(c, catalog.Stated[units.Temperature]{}, catalog.Stated[units.Temperature]{})
}

// SAE J2012 / ISO 15031-6: letter, 0 to 3, three hexadecimal digits, and the
// failure type of two.
func TestTheShapeOfACode(t *testing.T) {
	for text, want := range map[string]Code{
		"p0128": {"P0128", ""}, "P0128-00": {"P0128", "00"}, "p 0128": {"P0128", ""}, "U0100": {"U0100", ""}, "P0A01": {"P0A01", ""},
	} {
		if got, err := Parse(text); err != nil || got != want {
			t.Errorf("%q: %v, %v", text, got, err)
		}
	}
	for text, hint := range map[string]string{"P128": "P0128", "P0128-0": "", "X0128": "", "P4128": "", "P012G": "", "0128": "", "": ""} {
		_, err := Parse(text)
		if err == nil || !strings.Contains(err.Error(), hint) {
			t.Errorf("%q was read, or got no hint: %v", text, err)
		}
	}
}

// SAE J2012: who defines a code.
func TestWhoDefinesACode(t *testing.T) {
	for text, want := range map[string]Scope{
		"P0128": ByStandard, "P2183": ByStandard, "P1128": ByMaker, "P3000": ByMaker, "P3400": Elsewhere, "U0100": Elsewhere, "B0001": Elsewhere,
	} {
		c, err := Parse(text)
		if err != nil || c.Scope() != want {
			t.Errorf("%s: %s, want %s (%v)", text, c.Scope(), want, err)
		}
	}
}

// Titles of SAE J2012 / ISO 15031-6 as an open code table has them.
func TestMeaningsByCode(t *testing.T) {
	for code, part := range map[string]string{
		"P0482": "fan 3", "P2183": "sensor 2", "P2560": "level is low", "P0597": "heater in the thermostat", "P0118": "too high", "P0117": "too low", "P0A03": "loop of its own",
	} {
		a := advice(t, code)
		if !a.Known || !strings.Contains(strings.ToLower(a.Meaning), strings.ToLower(part)) {
			t.Errorf("%s: %q, want %q", code, a.Meaning, part)
		}
	}
	if a := advice(t, "P0300"); a.Known {
		t.Errorf("P0300 is no code of cooling: %+v", a)
	}
	for _, no := range []string{"P0115", "P0117", "P0118", "P0119", "P0480", "P0485", "P0597", "P0599", "P2182", "P2184", "P2186"} {
		if a := advice(t, no); !a.NoPartYet || a.Thermostat != "unlikely" {
			t.Errorf("%s is a code of a circuit: the part is unlikely: %+v", no, a)
		}
	}
}

func position(a Advice, check string) int {
	return slices.IndexFunc(a.Checks, func(c Check) bool { return c.Name == check })
}

// Common practice of the trade: what a thermostat code may be instead, and what
// comes before the thermostat when an engine is too hot.
func TestCheapChecksComeFirst(t *testing.T) {
	a := advice(t, "P0128")
	if first := a.Checks[0]; first.Name != "level" || first.Minutes != 2 || !first.Cold {
		t.Errorf("the level comes first, two minutes, cold: %+v", first)
	}
	if a.Minutes != 16 {
		t.Errorf("about 16 minutes in all, not %v", a.Minutes)
	}
	var order []string
	for _, c := range a.Checks {
		order = append(order, c.Name)
		if strings.HasPrefix(c.Do, "Ask") {
			t.Errorf("%s is a question, not a check to do: %s", c.Name, c.Do)
		}
	}
	// Minutes over likelihood, the level before all others.
	if want := []string{"level", "fan-stands", "stamp", "cold-soak", "trip", "upper-hose"}; !slices.Equal(order, want) {
		t.Errorf("the checks come as %v, want %v", order, want)
	}
	for _, want := range []string{"thermostat stuck open", "temperature sensor", "fan that its relay holds on"} {
		if !slices.ContainsFunc(a.Checks, func(c Check) bool { return strings.Contains(c.Finds, want) }) {
			t.Errorf("P0128 does not name %q", want)
		}
	}
	if a.Parts[0] != "thermostat" || !strings.Contains(strings.Join(a.Cautions, " "), "cold engine") {
		t.Errorf("parts %v, cautions %v", a.Parts, a.Cautions)
	}
	hot := advice(t, "P0217")
	for _, before := range []string{"level", "leaks", "radiator-face", "fan-runs"} {
		if at := position(hot, before); at < 0 || at > position(hot, "upper-hose") {
			t.Errorf("P0217: %s does not come before the thermostat", before)
		}
	}
	if !strings.Contains(hot.Checks[position(hot, "leaks")].Finds, "weep hole") {
		t.Error("P0217: the pump's weep hole is not named")
	}
	bridge := advice(t, "P0118").Checks[0]
	if bridge.Name != "bridge" || bridge.Minutes != 4 {
		t.Errorf("P0118: the plug is bridged first, 4 minutes: %+v", bridge)
	}
	if c := advice(t, "P0117").Checks[0]; !strings.Contains(c.Do, "-40 °C") {
		t.Errorf("P0117: unplugged it must read about -40 °C: %+v", c)
	}
}

// 13 CCR 1968.2 (e)(10): the monitor waits for the regulating temperature less
// 20 °F (11.1 K).
func TestTheThresholdOfTheWarmUpMonitor(t *testing.T) {
	c, _ := Parse("P0128")
	tab := tables(t)
	for _, tc := range []struct {
		rating, stamp float64
		threshold     float64
		explains      bool
	}{
		{82, 82, 70.9, false},
		{90.56, 71.11, 79.4, true},
		{90.56, 82, 79.4, false},
	} {
		a := tab.For(c, stated(tc.rating), stated(tc.stamp))
		if d := a.Threshold.Value.Celsius() - tc.threshold; d > 0.05 || d < -0.05 || a.TooCold != tc.explains {
			t.Errorf("rating %v, stamp %v: threshold %v, explains %v", tc.rating, tc.stamp, a.Threshold.Value.Celsius(), a.TooCold)
		}
	}
	if a := advice(t, "P0128"); a.Threshold.Known || a.TooCold {
		t.Errorf("without a rating nothing is known of the threshold: %+v", a.Threshold)
	}
}

// Every code has checks, every check is used, and after the level they stand by
// minutes over likelihood.
func TestTheTablesHangTogether(t *testing.T) {
	tab := tables(t)
	used := map[string]bool{}
	for code := range tab.meanings {
		a := advice(t, code)
		if len(a.Checks) == 0 {
			t.Errorf("%s has no check", code)
		}
		for i, c := range a.Checks {
			used[c.Name] = true
			if i > 1 && c.cost() < a.Checks[i-1].cost() {
				t.Errorf("%s: %s stands too late", code, c.Name)
			}
			if c.Name == levelCheck && i > 0 {
				t.Errorf("%s: the level does not come first", code)
			}
		}
	}
	for id := range tab.checks {
		if !used[id] {
			t.Errorf("check %s belongs to no code", id)
		}
	}
}

func TestCodesOfCircuitsComeFirst(t *testing.T) {
	list := []Advice{advice(t, "P0128"), advice(t, "P0118")}
	First(list)
	if list[0].Code != "P0118" {
		t.Errorf("P0118 makes P0128 worth nothing: %s first", list[0].Code)
	}
}
