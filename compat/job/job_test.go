package job_test

import (
	"strings"
	"testing"

	"pgregory.net/rapid"

	"fitfill/catalog"
	"fitfill/catalog/units"
	"fitfill/compat"
	"fitfill/compat/job"
	"fitfill/data"
)

func tables(t *testing.T) *job.Tables {
	t.Helper()
	ref, err := data.Reference()
	if err != nil {
		t.Fatal(err)
	}
	tables, err := job.NewTables(ref)
	if err != nil {
		t.Fatal(err)
	}
	return tables
}

func litres(l float64) units.Volume { return units.Litres(l) }

// Worked examples of the pick list for a cooling job, common practice: capacity
// 7.6 L, 4.0 L drained, 30 % present, 50 % wanted takes 2.72 L of concentrate
// and 1.28 L of water; at most (p·(C−D)+D)/C can be reached.
func TestRefillWorkedExamples(t *testing.T) {
	pct := units.Percents
	r := job.Refilled(litres(7.6), litres(4), pct(30), pct(50), pct(100), false)
	if r.Bottle.Format(units.UnitLitre) != "2.72 L" && r.Bottle.Litres() != 2.72 || r.Water.Litres() != 1.28 || r.Ends != pct(50) {
		t.Errorf("%v of concentrate and %v of water end at %v; want 2.72, 1.28, 50 %%", r.Bottle, r.Water, r.Ends)
	}
	r = job.Refilled(litres(10), litres(2), pct(20), pct(50), pct(100), false)
	if !r.DrainMore || r.Bottle != litres(2) || r.Ends != pct(36) { // (0.2·8 + 2)/10
		t.Errorf("%+v; want 2 L of concentrate, 36 %% at most", r)
	}
	r = job.Refilled(litres(10), litres(2), pct(70), pct(50), pct(100), false)
	if !r.WaterOnly || r.Bottle.Nanolitres() != 0 || r.Water != litres(2) {
		t.Errorf("%+v; want water alone", r)
	}
	r = job.Refilled(litres(8), litres(4), pct(30), pct(50), pct(50), true)
	if r.Bottle != litres(4) || r.Water.Nanolitres() != 0 || r.Ends != pct(40) {
		t.Errorf("%+v; want 4 L of the premix, 40 %%", r)
	}
}

// What is poured fills what came out, and the strength is that of the masses.
func TestRefillKeepsItsBalance(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		c := litres(float64(rapid.IntRange(20, 300).Draw(t, "capacity")) / 10)
		d := c.Scale(rapid.Float64Range(0.05, 1).Draw(t, "drained"))
		p, want, s := pctOf(t, "present", 0, 70), pctOf(t, "wanted", 30, 60), pctOf(t, "bottle", 40, 100)
		r := job.Refilled(c, d, p, want, s, rapid.Bool().Draw(t, "premix"))
		if r.Bottle.Add(r.Water) != d || r.Bottle.Nanolitres() < 0 || r.Water.Nanolitres() < 0 {
			t.Fatalf("%v and %v are not the %v that came out", r.Bottle, r.Water, d)
		}
		glycol := p.Fraction()*c.Sub(d).Litres() + s.Fraction()*r.Bottle.Litres()
		if diff := 100*glycol/c.Litres() - r.Ends.Percents(); diff > 1e-3 || diff < -1e-3 {
			t.Fatalf("ends at %v, the balance says %.4f", r.Ends, 100*glycol/c.Litres())
		}
	})
}

func pctOf(t *rapid.T, name string, low, high int) units.Percent {
	return units.Percents(float64(rapid.IntRange(low, high).Draw(t, name)))
}

func part(number, partType string, price int64) *catalog.Part {
	p := &catalog.Part{Supplier: "Ostrel", Number: number, Key: catalog.Key(number), Type: catalog.Say(partType, "", catalog.Origin{})}
	if price > 0 {
		p.Price = catalog.Say(units.MoneyOf(price*10000, "EUR"), "", catalog.Origin{})
	}
	return p
}

func fits(p *catalog.Part) job.Candidate {
	return job.Candidate{Part: p, Outcome: compat.Yes, First: "fits"}
}

func question(t *testing.T, thermostats, seals []job.Candidate) job.Question {
	j, ok := tables(t).Find("stat")
	if !ok {
		t.Fatal("no job is called stat")
	}
	return job.Question{
		Engine: &catalog.EngineFamily{}, Job: j, Take: map[string]string{},
		Candidates: map[string][]job.Candidate{"thermostat": thermostats, "seal": seals},
		// A seal goes on the thermostat whose number it ends in.
		Together: func(on, part *catalog.Part) (compat.Finding, bool) {
			if strings.HasSuffix(part.Number, on.Number) {
				return compat.Finding{Outcome: compat.Yes, Says: "Goes on it."}, true
			}
			return compat.Finding{Outcome: compat.No, Says: "Made for another one."}, true
		},
	}
}

func chosen(lines []job.Line, role string) string {
	for _, l := range lines {
		if l.Role == role && l.Part != nil {
			return l.Part.Number
		}
	}
	return ""
}

// The cheapest thermostat has no seal that goes on it: the one whose set closes
// is taken, the cheaper set first.
func TestPartsAreChosenAsASet(t *testing.T) {
	q := question(t, []job.Candidate{fits(part("A1", "thermostat", 10)), fits(part("B2", "thermostat", 12)), fits(part("C3", "thermostat", 13))},
		[]job.Candidate{fits(part("S-B2", "seal", 9)), fits(part("S-C3", "seal", 1))})
	lines, problems := tables(t).Parts(q)
	if chosen(lines, "thermostat") != "C3" || chosen(lines, "seal") != "S-C3" || len(problems) > 0 {
		t.Errorf("%s with %s (%v); want C3 with its seal, 14 in all", chosen(lines, "thermostat"), chosen(lines, "seal"), problems)
	}
}

func TestAnotherThermostatBringsAnotherSeal(t *testing.T) {
	q := question(t, []job.Candidate{fits(part("B2", "thermostat", 12)), fits(part("C3", "thermostat", 13))},
		[]job.Candidate{fits(part("S-B2", "seal", 9)), fits(part("S-C3", "seal", 1))})
	q.Take["thermostat"] = "B2"
	if lines, _ := tables(t).Parts(q); chosen(lines, "seal") != "S-B2" {
		t.Errorf("%s on B2", chosen(lines, "seal"))
	}
	q.Take["seal"] = "S-C3"
	lines, problems := tables(t).Parts(q)
	for _, l := range lines {
		if l.Role == "seal" && l.Outcome != compat.No {
			t.Errorf("the seal of another thermostat is %v", l.Outcome)
		}
	}
	if len(problems) != 1 {
		t.Errorf("problems: %v", problems)
	}
}

func TestSealInTheBagDropsItsLine(t *testing.T) {
	stat := part("A1", "thermostat", 10)
	stat.SealIncluded = catalog.Say(true, "yes", catalog.Origin{})
	lines, problems := tables(t).Parts(question(t, []job.Candidate{fits(stat)}, []job.Candidate{fits(part("S-B2", "seal", 9))}))
	if chosen(lines, "seal") != "" || len(problems) > 0 || lines[0].Brings != "seal" {
		t.Errorf("%+v %v", lines, problems)
	}
}

func TestSetThatCannotBeClosedIsReported(t *testing.T) {
	_, problems := tables(t).Parts(question(t, []job.Candidate{fits(part("A1", "thermostat", 10))}, []job.Candidate{fits(part("S-B2", "seal", 9))}))
	if len(problems) != 1 || !strings.Contains(problems[0], "A1") {
		t.Errorf("problems: %v", problems)
	}
}

// A price never outranks a better fit, nor what comes back often outranks what
// a fitted part costs in the end.
func TestFitComesBeforeMoney(t *testing.T) {
	doubtful := job.Candidate{Part: part("S-A1x", "seal", 1), Outcome: compat.Caution}
	sure := part("S-A1", "seal", 5)
	j, _ := tables(t).Find("leak")
	q := question(t, nil, []job.Candidate{doubtful, fits(sure)})
	q.Job = j
	lines, _ := tables(t).Parts(q)
	if chosen(lines, "seal") != "S-A1" || lines[0].RunnerUp == nil || lines[0].RunnerUp.Part.Number != "S-A1x" {
		t.Errorf("%+v", lines[0])
	}
	cheap, dear := fits(part("X", "thermostat", 5)), fits(part("Y", "thermostat", 9))
	q = question(t, []job.Candidate{cheap, dear}, nil)
	cheap.Expected, dear.Expected = catalog.Say(units.MoneyOf(300000, "EUR"), "", catalog.Origin{}), catalog.Say(units.MoneyOf(110000, "EUR"), "", catalog.Origin{})
	q.Candidates["thermostat"] = []job.Candidate{cheap, dear}
	lines, _ = tables(t).Parts(q)
	if chosen(lines, "thermostat") != "Y" || lines[0].Ground != job.ByExpected {
		t.Errorf("%s, %s", chosen(lines, "thermostat"), lines[0].Ground)
	}
}

// Facts of the trade, common practice.
func TestNotesOfTheTrade(t *testing.T) {
	j, _ := tables(t).Find("thermostat")
	say := func(text string) catalog.Stated[string] { return catalog.Say(text, text, catalog.Origin{}) }
	e := &catalog.EngineFamily{Bleed: say("screws"), ThermostatSide: say("outlet"), AirBleed: catalog.Say(true, "yes", catalog.Origin{})}
	var all []string
	for _, n := range tables(t).Notes(j, e, catalog.Stated[units.Volume]{}, 1, units.System{}) {
		all = append(all, string(n.Phase)+": "+n.Text)
	}
	text := strings.Join(all, "\n")
	for _, want := range []string{
		"5/16 in", "level and leaks", "fan or its relay", "blocked by dirt or a bag", // before the thermostat
		"let it cool down, check the level cold", "back to front", "heater full hot", "Bleed screws open", "twelve o'clock",
	} {
		if !strings.Contains(text, want) {
			t.Errorf("no %q in\n%s", want, text)
		}
	}
	if strings.Contains(text, "Photograph") {
		t.Error("the side is on file and the old one is to be photographed all the same")
	}
	e.ThermostatSide = catalog.Stated[string]{}
	found := false
	for _, n := range tables(t).Notes(j, e, catalog.Stated[units.Volume]{}, 1, units.System{}) {
		found = found || strings.Contains(n.Text, "Photograph")
	}
	if !found {
		t.Error("the side is not on file and nobody says to photograph the old one")
	}
}
