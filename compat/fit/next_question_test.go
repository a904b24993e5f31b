package fit

import (
	"strings"
	"testing"

	"pgregory.net/rapid"

	"fitfill/catalog"
	"fitfill/catalog/units"
	"fitfill/compat"
)

// split is a thermostat of one list for a stretch of years, of one rating.
func split(number string, first, last int, notes ...string) Candidate {
	c := Candidate{Part: new(catalog.Part{Supplier: "Varn", Number: number, Key: number})}
	if len(notes) == 0 {
		notes = []string{""}
	}
	for i, n := range notes {
		c.Listings = append(c.Listings, noted(yearsOf(listing("Varn", 3+i), first, last), n))
	}
	return c
}

func bare() Question {
	return Question{Engine: catalog.EngineFamily{Family: "3.4 V6"}, Type: Thermostat}
}

func TestTheQuestionThatSettlesMostComesFirst(t *testing.T) {
	for name, c := range map[string]struct {
		cands []Candidate
		flag  string
		left  float64
	}{
		"years split two parts": {[]Candidate{split("A", 1992, 1998), split("B", 1999, 2004)}, FlagYear, 0},
		"the VIN splits four, the year two": {[]Candidate{
			split("A", 1992, 1998), split("B", 1999, 2004), split("C", 1992, 2004, "VIN K"), split("D", 1992, 2004, "VIN L"), split("E", 1992, 2004, "exc. VIN K"),
		}, FlagVIN8, 2},
		"equipment":                            {[]Candidate{split("A", 1992, 2004, "with A/C only"), split("B", 1992, 2004, "without A/C")}, FlagWith + ` "A/C"`, 0},
		"displacement":                         {[]Candidate{split("A", 1992, 2004, "3.0 only"), split("B", 1992, 2004, "exc. 3.0")}, FlagDisplacement, 0},
		"of two that settle as much, the year": {[]Candidate{split("A", 1992, 1998, "with A/C only"), split("B", 1999, 2004, "with A/C only")}, FlagYear, 1},
	} {
		n, ok := tables(t).Weigh(bare(), c.cands).Next(nil)
		if !ok || n.Flag != c.flag || n.Left > c.left {
			t.Errorf("%s: %v, %+v; want %s and at most %g left", name, ok, n, c.flag, c.left)
		}
	}
}

func TestNothingIsAskedWhereNothingIsInDoubt(t *testing.T) {
	if n, ok := tables(t).Weigh(thermostatQuestion(), []Candidate{{Part: new(stat("Varn", "1")), Listings: []catalog.Fitment{listing("Varn", 3)}}}).Next(nil); ok {
		t.Errorf("asks %q", n.Text)
	}
}

// Two lists against two, 82 and 71 °C, are each a rating of the engine; one
// against one is in doubt, and the stamp of the old one tells.
func TestTheStampSettlesWhatListsLeaveOpen(t *testing.T) {
	q := thermostatQuestion()
	q.Engine.OpeningTemp = catalog.Stated[units.Temperature]{}
	cands := []Candidate{
		{Part: new(stat("Varn", "A1")), Listings: []catalog.Fitment{listing("Varn", 3)}},
		{Part: new(stat("Kemmel", "C1")), Listings: []catalog.Fitment{listing("Kemmel", 3)}},
	}
	cands[1].Part.OpeningTemp = celsius("71", 71, of("Kemmel", 10))
	n, ok := tables(t).Weigh(q, cands).Next(nil)
	if !ok || n.Flag != sizeFlag("stamp") || n.Left != 0 {
		t.Fatalf("asks %+v", n)
	}
	q.Old.OpeningTemp = celsius("82", 82, own("stamp"))
	v := tables(t).Judge(q, cands)
	expect(t, v[0], compat.Yes, "fits: one list and measured")
	expect(t, v[1], compat.Caution, "should fit: opens at 71 °C, old one 82 °C")
	q.Old = catalog.Part{}
	for _, s := range []struct{ supplier, text string }{{"Ostrel", "82"}, {"Dorn", "71"}} {
		p := stat(s.supplier, "X"+s.text)
		p.OpeningTemp = celsius(s.text, decimal(s.text), of(s.supplier, 10))
		cands = append(cands, Candidate{Part: new(p), Listings: []catalog.Fitment{listing(s.supplier, 3)}})
	}
	for _, v := range tables(t).Judge(q, cands) {
		expect(t, v, compat.Yes, "fits: one list and measured")
		if !says(v, "as many give this engine") {
			t.Errorf("does not name the other rating\n%s", told(v))
		}
	}
}

func TestTheOldFlangeTellsPartsApart(t *testing.T) {
	q := bare()
	q.Old.FlangeDiameter = length("53.9 mm", 53.9, own("flange 53.9 mm"))
	near, far := stat("Varn", "A"), stat("Varn", "B")
	far.FlangeDiameter = length("56.0", 56, of("Varn", 11))
	list := []catalog.Fitment{listing("Varn", 3)}
	v := tables(t).Judge(q, []Candidate{{Part: new(far), Listings: list}, {Part: new(near), Listings: list}})
	expect(t, v[0], compat.Yes, "fits: one list, not measured")
	expect(t, v[1], compat.Caution, "should fit: flange 56.0 mm, old one 53.9 mm")
	q.Engine.HousingBore = length("56.6", 56.6, own("56.6")) // the bore says more than a part that may have been wrong
	if v := judgeOne(t, q, Candidate{Part: new(far), Listings: list}); v.Outcome != compat.Yes || !says(v, "The bore decides") {
		t.Errorf("%s\n%s", v.Outcome, told(v))
	}
}

// What the choice of a question counts as settled is what Judge settles.
func TestAQuestionCountsDoubtsAsTheVerdictDoes(t *testing.T) {
	rapid.Check(t, func(r *rapid.T) {
		q := drawQuestion(r)
		cands := []Candidate{drawCandidate(r, 1), drawCandidate(r, 2), drawCandidate(r, 3)}
		want := 0
		for _, v := range tables(t).Judge(q, cands) {
			if v.Outcome == compat.Caution && !strings.HasPrefix(v.First, "could fit, ") {
				want++
			}
		}
		if got := tables(t).Weigh(q, cands).standings(nil).doubtful(&q); got != want {
			r.Fatalf("%d in doubt, Judge leaves %d", got, want)
		}
	})
}
