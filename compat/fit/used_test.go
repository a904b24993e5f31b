package fit

import (
	"testing"

	"pgregory.net/rapid"

	"fitfill/catalog"
	"fitfill/catalog/units"
	"fitfill/compat"
)

var today = catalog.DateOf(2026, 3, 2)

func usedOn(number, vehicle string, day catalog.Date) Used {
	return Used{Supplier: "Varn", Key: catalog.Key(number), Vehicle: vehicle, Day: day, Origin: catalog.Origin{Sheet: "fitted.csv", SHA256: "f0", Line: 2}}
}

func cameBackAs(u Used, reason string, noFit bool) Used {
	u.Back = &Comeback{Day: u.Day + 20, Reason: reason, NoFit: noFit, Origin: catalog.Origin{Sheet: "returns.csv", SHA256: "r0", Line: 3}}
	return u
}

func TestOwnHistoryIsEvidence(t *testing.T) {
	long, lately := today-400, today-100
	listed := []catalog.Fitment{listing("Varn", 3)}
	for name, tc := range map[string]struct {
		listings []catalog.Fitment
		used     []Used
		want     compat.Outcome
		first    string
	}{
		"listed, and stayed":                  {listed, []Used{usedOn("TX-1", "D 1", long), usedOn("TX-1", "D 2", long)}, compat.Yes, "fits: one list and measured; stayed here"},
		"listed, and in since a hundred days": {listed, []Used{usedOn("TX-1", "D 1", lately)}, compat.Yes, "fits: one list and measured"},
		"listed, and did not fit":             {listed, []Used{cameBackAs(usedOn("TX-1", "D 1", long), "did not fit", true)}, compat.Caution, "should fit: came back as not fitting"},
		"listed, and failed after a while":    {listed, []Used{cameBackAs(usedOn("TX-1", "D 1", long), "stuck open", false)}, compat.Yes, "fits: one list and measured"},
		"another part's history":              {listed, []Used{cameBackAs(usedOn("TX-9", "D 1", long), "did not fit", true)}, compat.Yes, "fits: one list and measured"},
		"not listed, and stayed":              {nil, []Used{usedOn("TX-1", "D 1", long)}, compat.Caution, "should fit: not listed, but stayed in one vehicle"},
		"not listed, and in since lately":     {nil, []Used{usedOn("TX-1", "D 1", lately)}, compat.Caution, "could fit, not listed: the sizes agree"},
	} {
		q := thermostatQuestion()
		q.Used, q.Today = tc.used, today
		v := judgeOne(t, q, Candidate{Part: new(stat("Varn", "TX-1")), Listings: tc.listings})
		t.Run(name, func(t *testing.T) { expect(t, v, tc.want, tc.first) })
	}
}

// One printed size alone does not beat a part that was in for more than a year.
func TestAPrintedSizeIsMeasuredBeforeItRefusesWhatStayed(t *testing.T) {
	c := Candidate{Part: new(stat("Varn", "TX-1")), Listings: []catalog.Fitment{listing("Varn", 3)}}
	c.Part.FlangeDiameter = length("55.0", 55, of("Varn", 10))
	q := thermostatQuestion()
	expect(t, judgeOne(t, q, c), compat.No, "")
	q.Used, q.Today = []Used{usedOn("TX-1", "D 1", today-400)}, today
	expect(t, judgeOne(t, q, c), compat.Caution, "")
}

func TestWhatWasMeasuredAtAFittingCounts(t *testing.T) {
	at := func(text string) Used {
		u := usedOn("TX-1", "D 1", today-30)
		u.Measured = &Measured{}
		if err := tables(t).Measure(u.Measured, text, "mm", u.Origin); err != nil {
			t.Fatal(err)
		}
		return u
	}
	q := thermostatQuestion()
	q.Engine.HousingBore, q.Today = catalog.Stated[units.Length]{}, today
	q.Used = []Used{at("bore 53.0"), at("bore 53.0")}
	c := Candidate{Part: new(stat("Varn", "TX-1")), Listings: []catalog.Fitment{listing("Varn", 3)}}
	expect(t, judgeOne(t, tables(t).Learn(q), c), compat.No, "")
	q.Used = []Used{at("bore 53.0"), at("bore 54.0")}
	if l := tables(t).Learn(q); l.Engine.HousingBore.Known {
		t.Error("two bores that disagree became one")
	}
	q.Engine.HousingBore = length("54.0", 54, own("54.0"))
	if l := tables(t).Learn(q); l.Engine.HousingBore.Text != "54.0" {
		t.Error("what is on file was replaced")
	}
	q.Used = []Used{at("flange 53.2")}
	if got := MeasuredParts(&q, c.Part); len(got) != 1 || got[0].FlangeDiameter.Text != "53.2" {
		t.Errorf("measured on the part: %+v", got)
	}
}

func TestWhatIsInferredOnlyRaisesAQuestion(t *testing.T) {
	q := thermostatQuestion()
	q.Engine.HousingBore, q.Today = catalog.Stated[units.Length]{}, today
	q.Used = []Used{usedOn("TX-1", "D 1", today-400)}
	stayed := Candidate{Part: new(stat("Varn", "TX-1")), Listings: []catalog.Fitment{listing("Varn", 3)}}
	other := Candidate{Part: new(stat("Ostrel", "OS-2")), Listings: []catalog.Fitment{listing("Ostrel", 3)}}
	other.Part.FlangeDiameter = length("55.6", 55.6, of("Ostrel", 10))
	for _, v := range tables(t).Judge(q, []Candidate{stayed, other}) {
		if v.Part.Supplier == "Ostrel" {
			expect(t, v, compat.Caution, "should fit: measure the bore, others stayed")
			if len(v.Ask) == 0 || v.Ask[0].Flag != sizeFlag("bore") {
				t.Errorf("asks %+v", v.Ask)
			}
		}
	}
	rapid.Check(t, func(r *rapid.T) {
		q := drawQuestion(r)
		q.Type, q.Engine.HousingBore, q.Today = Thermostat, catalog.Stated[units.Length]{}, today
		cands := []Candidate{drawCandidate(r, 1), drawCandidate(r, 2)}
		before := map[string]compat.Outcome{}
		for _, v := range tables(t).Judge(q, cands) {
			before[v.Part.Number] = v.Outcome
		}
		q.Used = []Used{{Key: cands[0].Part.Key, Vehicle: "D 1", Day: today - 400}}
		for _, v := range tables(t).Judge(q, cands) {
			if v.Part.Number == cands[0].Part.Number {
				continue // its own history speaks, not what is inferred from it
			}
			was := before[v.Part.Number]
			if v.Outcome != was && (v.Outcome == compat.No || v.Outcome == compat.Yes) {
				r.Fatalf("%s became %s by what another part's history implies", was, v.Outcome)
			}
		}
	})
}

func TestReasonsThatSayItDidNotFit(t *testing.T) {
	for reason, want := range map[string]bool{
		"did not fit": true, "didn't fit": true, "it didn't fit": true, "too big for the housing": true, "wrong listing": true,
		"failed": false, "stuck open": false, "customer changed mind": false, "core": false, "fitted 2 weeks": false,
	} {
		if got := tables(t).NoFit(reason); got != want {
			t.Errorf("%q: %t", reason, got)
		}
	}
}
