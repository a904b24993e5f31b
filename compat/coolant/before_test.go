package coolant_test

import (
	"encoding/json"
	"strings"
	"testing"

	"fitfill/catalog/units"
	"fitfill/compat"
	"fitfill/compat/coolant"
)

// What is wrong with the fill before anything is poured is said of the fill and
// not of the bottle. 50 vol % of ethylene glycol freezes at -36.8 °C and 25 % at
// -12.2 °C (coolant_freezing, read from its published table).
func TestAnOldFaultIsNotPutDownToTheBottle(t *testing.T) {
	tb := tables(t)
	for name, c := range map[string]struct {
		strength float64
		coldest  float64
		asks     string
		want     compat.Outcome
		says     string
	}{
		"sound":                        {50, -25, "oat", compat.Yes, ""},
		"freezes too early":            {25, -25, "oat", compat.Caution, "short for -25 °C"},
		"cold enough for a mild place": {35, -10, "oat", compat.Yes, ""},
		"too thin against rust":        {20, 5, "oat", compat.Caution, "too thin"},
		"over-strength":                {90, -25, "oat", compat.Caution, "over-strength"},
		"another kind than is asked":   {50, -25, "si-oat", compat.Caution, "it asks for"},
	} {
		q := ask(fluid(c.strength, "oat"), fluid(50, "oat"), 6, 1)
		q.Engine, q.Coldest = engine(c.asks, 7), temp(c.coldest)
		b := tb.Mix(q).Before
		text := strings.Join(b.Says, " ")
		if b.Outcome != c.want || !strings.Contains(text, c.says) || c.want == compat.Yes && text != "" {
			t.Errorf("%s: %s, %q; want %s, %q", name, b.Outcome, text, c.want, c.says)
		}
		if b.Strength == nil || *b.Strength != units.Percents(c.strength) {
			t.Errorf("%s: strength %v", name, b.Strength)
		}
	}
}

// A mixture is held against the coldest day less its margin and against the least
// strength that protects from rust.
func TestAThinMixtureIsACaution(t *testing.T) {
	tb := tables(t)
	for name, c := range map[string]struct {
		fill, add, litres float64
		check             string
		want              compat.Outcome
	}{
		"weaker than it was, and too thin": {33, 5, 3, "too thin", compat.Caution},
		"freezes too early":                {50, 5, 3, "cold", compat.Caution},
		"cold enough":                      {50, 50, 3, "cold", compat.Yes},
	} {
		q := ask(fluid(c.fill, "oat"), fluid(c.add, "oat"), 6, c.litres)
		q.Engine, q.Coldest = engine("oat", 9), temp(-25)
		a := tb.Mix(q)
		found := false
		for _, f := range a.Findings {
			if f.Check == c.check || c.check == "too thin" && strings.Contains(f.Says, "too little is left against rust") {
				found = found || f.Outcome == c.want
			}
		}
		if !found {
			t.Errorf("%s: no %s of %s\n%s", name, c.want, c.check, says(a))
		}
	}
}

// The keys that other programs rely on hold the values of the answer, each with
// what it may be off by.
func TestTheResultIsWrittenWithItsValues(t *testing.T) {
	tb := tables(t)
	q := ask(fluid(50, "oat"), fluid(50, "si-oat"), 6, 2)
	q.Engine, q.Coldest, q.CapPressure = engine("oat", 9), temp(-25), kPa(100)
	a := tb.Mix(q)
	text, err := json.Marshal(a)
	if err != nil {
		t.Fatal(err)
	}
	var out struct {
		Result map[string]any
		Before map[string]any
		Not    []struct{ Check, Missing, Says string } `json:"not_checked"`
	}
	if err := json.Unmarshal(text, &out); err != nil {
		t.Fatal(err)
	}
	for key, want := range map[string]float64{
		"strength_vol_pct": a.Result.Strength.Value.Percents(), "freeze_c": a.Result.Freeze.Value.Celsius(),
		"boil_open_c": a.Result.BoilOpen.Value.Celsius(), "boil_capped_c": a.Result.BoilCapped.Value.Celsius(),
		"foreign_share_pct": a.Result.ForeignShare.Percents(),
	} {
		if got, ok := out.Result[key].(float64); !ok || got-want > 0.051 || want-got > 0.051 {
			t.Errorf("%s: %v, want about %v", key, out.Result[key], want)
		}
	}
	if len(out.Not) != len(a.NotChecked) || len(out.Not) == 0 || out.Not[0].Check != a.NotChecked[0].Check || out.Not[0].Missing == "" {
		t.Errorf("not checked: %+v, want %+v", out.Not, a.NotChecked)
	}
}

// Rinsing towards coolants that go together needs one round whatever stays, one
// that does not drain enough is told no, and what ends beyond the clean share is
// a caution.
func TestWhatOfTheOldFillMayStay(t *testing.T) {
	tb := tables(t)
	old := func(p coolant.FlushPlan) compat.Finding {
		for _, f := range p.Findings {
			if strings.Contains(f.Says, "stays") {
				return f
			}
		}
		return compat.Finding{}
	}
	p := planned(t, tb, flush("iat", "oat", 8, 4))
	if f := old(p); f.Outcome != compat.Yes || !p.Reachable {
		t.Errorf("rinsed out: %s %q", f.Outcome, f.Says)
	}
	q := flush("iat", "oat", 8, 1) // an eighth comes out each time
	q.Left, q.Fresh = pct(0.0001), 1
	if p := planned(t, tb, q); p.Reachable != (old(p).Outcome != compat.No) {
		t.Errorf("reachable %v, and its finding says %s: %q", p.Reachable, old(p).Outcome, old(p).Says)
	}
}
