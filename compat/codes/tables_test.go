package codes

import (
	"maps"
	"slices"
	"strings"
	"testing"

	"fitfill/catalog"
	"fitfill/catalog/units"
	"fitfill/data"
)

// A garage's own table may be wrong in ways that the program's is not.
func TestTablesThatCannotBeAreRefused(t *testing.T) {
	for name, c := range map[string]struct {
		table, column, cell, want string
	}{
		"no meaning":         {"code_meanings", "meaning", "", "a meaning, and likely"},
		"no such likelihood": {"code_meanings", "thermostat", "perhaps", "a meaning, and likely"},
		"no code":            {"code_meanings", "codes", "P128", "is no code"},
		"a code twice":       {"code_meanings", "codes", "P0128 P0128", "stands there twice"},
		"no such check":      {"code_causes", "check", "smell", "a check of code_checks"},
		"no share":           {"code_causes", "share", "0", "a check of code_checks"},
		"over a hundred":     {"code_causes", "share", "101", "a check of code_checks"},
		"no minutes":         {"code_checks", "minutes", "soon", "is not a number"},
		"no margin":          {"fit_limits", "value", "much", "is not a number"},
	} {
		ref, err := data.Reference()
		if err != nil {
			t.Fatal(err)
		}
		with := maps.Clone(ref)
		rows := slices.Clone(with[c.table])
		at := 0
		if c.table == "fit_limits" {
			at = slices.IndexFunc(rows, func(r catalog.RefRow) bool { return r.Get("key") == marginRow })
		}
		rows[at].Cells = maps.Clone(rows[at].Cells)
		rows[at].Cells[c.column] = c.cell
		with[c.table] = rows
		if _, err := NewTables(with); err == nil || !strings.Contains(err.Error(), c.want) {
			t.Errorf("%s: %v, want %q", name, err, c.want)
		}
	}
	ref, err := data.Reference()
	if err != nil {
		t.Fatal(err)
	}
	without := maps.Clone(ref)
	without["fit_limits"] = slices.DeleteFunc(slices.Clone(ref["fit_limits"]), func(r catalog.RefRow) bool { return r.Get("key") == marginRow })
	if _, err := NewTables(without); err == nil || !strings.Contains(err.Error(), marginRow) {
		t.Errorf("without the margin: %v", err)
	}
}

// A share of a hundred is a certainty and stands; the order is that of the shares.
func TestPartsComeByHowLikelyTheyAre(t *testing.T) {
	for code := range tables(t).meanings {
		a := advice(t, code)
		weight := map[string]float64{}
		for _, c := range a.Checks {
			if c.Part != "" {
				weight[c.Part] += c.Share
			}
			if len(c.Origin) != 2 {
				t.Errorf("%s: %s cites %d rows", code, c.Name, len(c.Origin))
			}
		}
		if len(weight) != len(a.Parts) {
			t.Errorf("%s: parts %v of %v", code, a.Parts, weight)
		}
		for i := 1; i < len(a.Parts); i++ {
			if weight[a.Parts[i-1]] < weight[a.Parts[i]] {
				t.Errorf("%s: %s comes before %s, which is likelier", code, a.Parts[i-1], a.Parts[i])
			}
		}
		if len(a.Origin) == 0 {
			t.Errorf("%s cites nothing", code)
		}
	}
}

// A fan may start by itself: whoever is sent to look at one is warned, and nobody
// else.
func TestCautionsFollowTheChecks(t *testing.T) {
	tab := tables(t)
	says := func(key string) string { return tab.cautions[key].Get("says") }
	fan, cold := says("fan"), says("cold")
	if fan == "" || cold == "" || says("manual") == "" {
		t.Fatal("a caution has no words")
	}
	for _, c := range []struct {
		check     Check
		fan, cold bool
	}{
		{Check{Name: "fan-stands"}, true, false},
		{Check{Name: "fan-runs"}, true, false},
		{Check{Name: "wiring", Part: "fan"}, true, false},
		{Check{Name: "level", Cold: true}, false, true},
		{Check{Name: "trip"}, false, false},
	} {
		list := tab.warn([]Check{c.check})
		if slices.Contains(list, fan) != c.fan || slices.Contains(list, cold) != c.cold || !slices.Contains(list, says("manual")) {
			t.Errorf("%+v: %q", c.check, list)
		}
	}
	if list := tab.warn(nil); len(list) > 0 {
		t.Errorf("nothing to do, and %q", list)
	}
}

// The threshold belongs to the codes of the warm-up monitor alone, and a stamp
// that is not known explains nothing; one exactly at the threshold neither.
func TestOnlyTheWarmUpMonitorHasAThreshold(t *testing.T) {
	tab := tables(t)
	parse := func(text string) Code {
		c, err := Parse(text)
		if err != nil {
			t.Fatal(err)
		}
		return c
	}
	if a := tab.For(parse("P0118"), stated(90), stated(60)); a.Threshold.Known || a.TooCold {
		t.Errorf("P0118 waits for no warm-up: %+v", a.Threshold)
	}
	at := stated(90).Value.Add(tab.margin.Neg())
	exact := catalog.Say(at, "", catalog.Origin{Sheet: "fitted.csv", Line: 3})
	if a := tab.For(parse("P0128"), stated(90), exact); a.TooCold {
		t.Error("a stamp at the threshold reaches it")
	}
	if a := tab.For(parse("P0128"), stated(90), catalog.Stated[units.Temperature]{}); a.TooCold || !a.Threshold.Known || len(a.Origin) < 2 {
		t.Errorf("an unknown stamp: too cold %v, origin %v", a.TooCold, a.Origin)
	}
}
