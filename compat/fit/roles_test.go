package fit

import (
	"fmt"
	"testing"

	"pgregory.net/rapid"

	"fitfill/catalog"
	"fitfill/catalog/units"
	"fitfill/compat"
)

// results runs every check on one candidate, before anything is combined.
func results(t testing.TB, q *Question, c *Candidate) []result {
	tab := tables(t)
	tr := tab.trial(q, c, tab.survey(q, []Candidate{*c}))
	list, lists := tr.listed()
	for _, more := range [][]result{tr.copiedList(), tr.linked(lists.met > 0), tr.used(), tr.checked(), tr.amongLists()} {
		list = append(list, more...)
	}
	return list
}

// The part that a result plays in the verdict and what its finding tells people
// are two statements of one thing.
var toldBy = map[role][]compat.Outcome{
	note:      {compat.Yes, compat.CannotSay, compat.Caution},
	listed:    {compat.Yes},
	unsettled: {compat.Caution},
	elsewhere: {compat.Caution},
	excluded:  {compat.No},
	linked:    {compat.Yes, compat.Caution},
	agrees:    {compat.Yes},
	fails:     {compat.No},
	against:   {compat.No},
	faulty:    {compat.No},
	stays:     {compat.Yes},
	doubt:     {compat.Caution},
}

func checkRoles(t interface {
	Helper()
	Fatalf(string, ...any)
}, list []result, met map[role]bool) {
	t.Helper()
	for _, r := range list {
		met[r.role] = true
		want := toldBy[r.role]
		if r.NotChecked {
			want = []compat.Outcome{compat.CannotSay}
		}
		ok := false
		for _, o := range want {
			ok = ok || o == r.Outcome
		}
		if !ok {
			t.Fatalf("%s: role %d tells people %s: %s", r.Check, r.role, r.Outcome, r.Says)
		}
	}
}

// drawMore adds to a question and a part what caps, clamps, hoses, plugs, old
// parts and the garage's own history hang on.
func drawMore(t *rapid.T, q *Question, c *Candidate) {
	o, p := own("more"), of(c.Part.Supplier, 104)
	q.Type = rapid.SampledFrom([]string{Thermostat, Seal, Cap, Clamp, Hose}).Draw(t, "any type")
	kPa := func(name string, at catalog.Origin) catalog.Stated[units.Pressure] {
		return maybe(t, name, catalog.Say(units.Kilopascals(rapid.SampledFrom([]float64{90, 110, 140}).Draw(t, name)), "", at))
	}
	e := &q.Engine
	e.CapPressure, e.CapForm, e.CapSeatDepth = kPa("asked", o), drawWord(t, "neck", o, "bayonet", "thread"), drawMM(t, "neck depth", o, "19", "26")
	e.Expansion, e.HoseOutside = drawWord(t, "tank", o, "overflow bottle", "pressurised tank"), drawMM(t, "hose", o, "20", "24", "29.5", "40")
	e.PlugGroove, e.PlugBore, e.ThermostatSide = drawMM(t, "plug groove", o, "37.7"), drawMM(t, "plug bore", o, "44.0", "46.0"), drawWord(t, "side", o, "outlet", "inlet")
	q.Old = catalog.Part{OpeningTemp: drawTemp(t, "old stamp", o), FlangeDiameter: drawMM(t, "old flange", o, "53.6", "58.0"), CapPressure: kPa("old cap", o), InnerDiameter: drawMM(t, "old inner", o, "37.7", "50"), Section: drawMM(t, "old section", o, "3.5", "5.3")}
	q.Bath = Bath{Opens: drawTemp(t, "bath", o), Lift: drawMM(t, "lift", o, "6", "11")}
	q.Today = catalog.Date(20000)
	c.Part.CapPressure, c.Part.CapForm, c.Part.CapSeatDepth = kPa("rated", p), drawWord(t, "cap", p, "bayonet", "thread"), drawMM(t, "cap depth", p, "19", "26")
	c.Part.VacuumValve, c.Part.ClampMin, c.Part.ClampMax = drawYes(t, "valve", p), drawMM(t, "clamp from", p, "19", "25"), drawMM(t, "clamp to", p, "30", "38")
	c.Part.Description = drawWord(t, "text", p, "hose SAE J20R4 D-1", "thermostat")
	for i := range rapid.IntRange(0, 2).Draw(t, "times used") {
		u := Used{Key: c.Part.Key, Vehicle: fmt.Sprint("V", i), Day: rapid.SampledFrom([]catalog.Date{18000, 19990}).Draw(t, "day"), Origin: own("used")}
		if rapid.Bool().Draw(t, "came back") {
			u.Back = &Comeback{Day: 19995, Reason: "wrong", NoFit: rapid.Bool().Draw(t, "no fit"), Origin: own("back")}
		}
		q.Used = append(q.Used, u)
	}
}

func TestAFindingTellsWhatItDoes(t *testing.T) {
	met := map[role]bool{}
	rapid.Check(t, func(r *rapid.T) {
		q, c := drawQuestion(r), drawCandidate(r, 1)
		if rapid.Bool().Draw(r, "more") {
			drawMore(r, &q, &c)
		}
		checkRoles(r, results(t, &q, &c), met)
	})
	for _, want := range []role{listed, linked, agrees, fails, doubt, stays} {
		if !met[want] {
			t.Errorf("no question drawn has a result of role %d", want)
		}
	}
}
