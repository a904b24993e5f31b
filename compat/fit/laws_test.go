package fit

import (
	"fmt"
	"slices"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"
	"pgregory.net/rapid"

	"fitfill/catalog"
	"fitfill/catalog/units"
	"fitfill/compat"
)

var suppliers = []string{"Varn", "Ostrel", "Kemmel"}

func maybe[T any](t *rapid.T, name string, s catalog.Stated[T]) catalog.Stated[T] {
	if rapid.Bool().Draw(t, name+" known") {
		return s
	}
	return catalog.Stated[T]{}
}

func drawMM(t *rapid.T, name string, o catalog.Origin, texts ...string) catalog.Stated[units.Length] {
	text := rapid.SampledFrom(texts).Draw(t, name)
	return maybe(t, name, length(text, decimal(text), o))
}

func drawYes(t *rapid.T, name string, o catalog.Origin) catalog.Stated[bool] {
	v := rapid.Bool().Draw(t, name)
	return maybe(t, name, catalog.Say(v, fmt.Sprint(v), o))
}

func drawTemp(t *rapid.T, name string, o catalog.Origin) catalog.Stated[units.Temperature] {
	text := rapid.SampledFrom([]string{"71", "78", "82", "85", "88", "95"}).Draw(t, name)
	return maybe(t, name, celsius(text, decimal(text), o))
}

func drawWord(t *rapid.T, name string, o catalog.Origin, words ...string) catalog.Stated[string] {
	w := rapid.SampledFrom(words).Draw(t, name)
	return maybe(t, name, catalog.Say(w, w, o))
}

func drawQuestion(t *rapid.T) Question {
	o := own("facts")
	if rapid.IntRange(0, 5).Draw(t, "whose engine sheet") == 0 {
		o = of("Varn", 2)
	}
	e := catalog.EngineFamily{
		Family: "Corvin 3.4 V6", OpeningTemp: drawTemp(t, "engine rating", o), WarmUpMonitor: drawYes(t, "monitor", o),
		HousingBore: drawMM(t, "bore", o, "54", "54.0", "54.2"), SeatDepth: drawMM(t, "seat", o, "1.6", "2.0", "4.1"),
		GrooveDepth: drawMM(t, "groove depth", o, "2.7", "2.70"), GrooveWidth: drawMM(t, "groove width", o, "4.8"),
		GrooveOuterDiameter: drawMM(t, "groove across", o, "44.8"), SealForm: drawWord(t, "engine seal", o, "o-ring", "moulded", "flat"),
		SealInnerDiameter: drawMM(t, "seal inner", o, "37.7"), SealSection: drawMM(t, "seal section", o, "3.5"),
		Indexed: drawYes(t, "engine index", o), AirBleed: drawYes(t, "engine bleed", o),
	}
	return Question{
		Engine: e, Type: rapid.SampledFrom([]string{Thermostat, Seal, "hose"}).Draw(t, "type"),
		Year: rapid.SampledFrom([]int{0, 1995, 2001}).Draw(t, "year"), VIN8: rapid.SampledFrom([]string{"", "K"}).Draw(t, "vin"),
		CoolantChemistry: rapid.SampledFrom([]string{"", "oat", "iat"}).Draw(t, "coolant"),
	}
}

func drawPart(t *rapid.T, supplier, number string) catalog.Part {
	o := of(supplier, 100+len(number))
	return catalog.Part{
		Supplier: supplier, Number: number, Key: catalog.Key(number),
		OpeningTemp: drawTemp(t, "rating", o), FlangeDiameter: drawMM(t, "flange", o, "52", "53.6", "54", "54.0", "55.0"),
		FlangeThickness: drawMM(t, "flange thickness", o, "1.5", "2.0"), Thickness: drawMM(t, "thickness", o, "4.0", "5.2"),
		AirBleed: drawYes(t, "bleed", o), Indexed: drawYes(t, "index", o), SealIncluded: drawYes(t, "seal included", o),
		SealForm: drawWord(t, "seal form", o, "o-ring", "moulded", "flat"), ORingSize: drawWord(t, "ring size", o, "AS568-222", "P38", "37.7x3.1", "what"),
		InnerDiameter: drawMM(t, "ring inner", o, "37.7", "37.2", "41"), Section: drawMM(t, "ring section", o, "3.5", "3.1", "4.0"),
		Material: drawWord(t, "material", o, "EPDM", "NBR", "ACM", "rubber"),
	}
}

func drawListings(t *rapid.T) (out []catalog.Fitment) {
	for i := range rapid.IntRange(0, 3).Draw(t, "listings") {
		f := listing(rapid.SampledFrom(suppliers).Draw(t, "lister"), 3+i)
		f.Condition = rapid.SampledFrom([]string{"", "", "", "seal not included", "exc. HD", "exc. Corvin", "with A/C"}).Draw(t, "note")
		f.VIN8 = rapid.SampledFrom([]string{"", "", "K", "1"}).Draw(t, "listed vin")
		out = append(out, yearsOf(f, 1992, rapid.SampledFrom([]int{1998, 2004}).Draw(t, "last year")))
	}
	return out
}

func drawCandidate(t *rapid.T, n int) Candidate {
	number := fmt.Sprintf("TX-%d", n)
	c := Candidate{Part: new(drawPart(t, rapid.SampledFrom(suppliers).Draw(t, "supplier"), number)), Listings: drawListings(t)}
	if rapid.IntRange(0, 2).Draw(t, "linked") == 0 {
		s := rapid.SampledFrom(suppliers).Draw(t, "via")
		c.Links = append(c.Links, Link{Via: new(drawPart(t, s, "V-1")), Relation: catalog.Same, Hops: rapid.IntRange(1, 3).Draw(t, "hops"), Origin: of(s, 50)})
	}
	if rapid.IntRange(0, 2).Draw(t, "another sheet") == 0 {
		other := drawPart(t, rapid.SampledFrom(suppliers).Draw(t, "other"), number)
		c.OtherSizes = append(c.OtherSizes, &other)
	}
	return c
}

func outcomeOf(t testing.TB, q Question, c Candidate) compat.Outcome {
	return tables(t).Judge(q, []Candidate{c})[0].Outcome
}

func TestAddingAHardFailureNeverImproves(t *testing.T) {
	rapid.Check(t, func(r *rapid.T) {
		q, c := drawQuestion(r), drawCandidate(r, 1)
		o := of(c.Part.Supplier, 105)
		bad := c
		bad.Part = new(*c.Part)
		if q.Type == Thermostat {
			bad.Part.FlangeDiameter = length("60.0", 60, o)
		} else { // a ring of 2.0 mm where one of 3.5 mm belongs
			q.Engine.SealSection = length("3.5", 3.5, own("3.5"))
			c.Part.ORingSize, c.Part.InnerDiameter, c.Part.Section = catalog.Stated[string]{}, catalog.Stated[units.Length]{}, catalog.Stated[units.Length]{}
			bad = c
			bad.Part = new(*c.Part)
			bad.Part.ORingSize = catalog.Say("37.7x2.0", "37.7x2.0", o)
		}
		before, after := outcomeOf(t, q, c), outcomeOf(t, q, bad)
		if before.Worse(after) {
			r.Fatalf("%s became %s", before, after)
		}
	})
}

// Taking a dimension away never makes a yes of anything else, but for the one
// case in which that law and the rules of combining contradict each other. Three
// statements cannot all hold:
//
//	A  a size that cannot work, with nothing but that supplier's list for the
//	   part, is no;
//	B  a direct listing whose conditions are met, with nothing against it, is yes,
//	   and a check that lacks its facts pulls no listed part below yes;
//	C  without a dimension no answer becomes yes that was not yes with it.
//
// A listed part with a flange of 55 mm for a bore of 54 mm is no by A; without
// the flange nothing is against it, so B says yes and C says not yes. A and B are
// the rules that people check by hand, so C gives way, and only there: what was
// taken away was all that spoke against the part, a list names it with its
// conditions met, and the answer names the missing size and claims no
// measurement that was not made.
func TestTakingADimensionAwayNeverMakesAYes(t *testing.T) {
	type taken struct {
		away   func(*Question, *Candidate)
		checks []string // those that use the dimension
	}
	all := []taken{
		{func(_ *Question, c *Candidate) { c.Part.FlangeDiameter.Known = false }, []string{flangeCheck, "cross-reference"}},
		{func(_ *Question, c *Candidate) { c.Part.FlangeThickness.Known = false }, []string{seatCheck}},
		{func(_ *Question, c *Candidate) { c.Part.Thickness.Known = false }, []string{crushCheck}},
		{func(_ *Question, c *Candidate) { c.Part.Section.Known = false }, []string{glandCheck, ringCheck}},
		{func(_ *Question, c *Candidate) { c.Part.InnerDiameter.Known = false }, []string{glandCheck, ringCheck}},
		{func(q *Question, _ *Candidate) { q.Engine.HousingBore.Known = false }, []string{flangeCheck}},
		{func(q *Question, _ *Candidate) { q.Engine.SeatDepth.Known = false }, []string{seatCheck, crushCheck}},
		{func(q *Question, _ *Candidate) { q.Engine.GrooveWidth.Known = false }, []string{glandCheck, ringCheck}},
		{func(q *Question, _ *Candidate) { q.Engine.GrooveDepth.Known = false }, []string{glandCheck, ringCheck}},
	}
	rapid.Check(t, func(r *rapid.T) {
		q, c := drawQuestion(r), drawCandidate(r, 1)
		before := tables(t).Judge(q, []Candidate{c})[0]
		which := rapid.SampledFrom(all).Draw(r, "taken away")
		which.away(&q, &c)
		for i := range c.OtherSizes { // whoever printed it
			other := Candidate{Part: new(*c.OtherSizes[i])}
			which.away(&q, &other)
			c.OtherSizes[i] = other.Part
		}
		after := tables(t).Judge(q, []Candidate{c})[0]
		if before.Outcome == compat.Yes || after.Outcome != compat.Yes {
			return
		}
		for _, f := range before.Findings {
			// A listed part does not rest on a cross-reference, so one that is bad moves nothing.
			if !f.NotChecked && f.Outcome != compat.Yes && f.Check != "cross-reference" && !slices.Contains(which.checks, f.Check) {
				r.Fatalf("%q became %q although %s spoke against it too: %s", before.First, after.First, f.Check, f.Says)
			}
		}
		named, measured, listed := false, false, false
		for _, f := range after.Findings {
			// Of a seal whose kind is not known that is what is missing.
			named = named || f.NotChecked && f.Missing != "" && (slices.Contains(which.checks, f.Check) || f.Check == sealFormCheck)
			measured = measured || !f.NotChecked && f.Grade == compat.Measured
			listed = listed || f.Check == "listed" && f.Outcome == compat.Yes
		}
		switch {
		case !listed:
			r.Fatalf("%q became %q without a list", before.First, after.First)
		case !named:
			r.Fatalf("%q became %q, and nothing names what is missing", before.First, after.First)
		case !measured && !strings.Contains(after.First, "not measured"):
			r.Fatalf("%q became %q, which claims a measurement", before.First, after.First)
		}
	})
}

func TestWithoutAListingNothingIsAYes(t *testing.T) {
	rapid.Check(t, func(r *rapid.T) {
		q, c := drawQuestion(r), drawCandidate(r, 1)
		c.Listings = nil
		if outcomeOf(t, q, c) == compat.Yes {
			r.Fatal("a part that nobody lists fits")
		}
	})
}

func TestUnitsChangeNoOutcome(t *testing.T) {
	rapid.Check(t, func(r *rapid.T) {
		q := drawQuestion(r)
		cands := []Candidate{drawCandidate(r, 1), drawCandidate(r, 2)}
		metric := tables(t).Judge(q, cands)
		q.Show = units.US
		for i, v := range tables(t).Judge(q, cands) {
			if v.Outcome != metric[i].Outcome || v.Part.Number != metric[i].Part.Number || len(v.Findings) != len(metric[i].Findings) {
				r.Fatalf("%q in metric, %q in US units", metric[i].First, v.First)
			}
		}
	})
}

func TestOrderOfEvidenceChangesNothing(t *testing.T) {
	rapid.Check(t, func(r *rapid.T) {
		q := drawQuestion(r)
		cands := []Candidate{drawCandidate(r, 1), drawCandidate(r, 2), drawCandidate(r, 3)}
		want := tables(t).Judge(q, cands)
		turned := rapid.Permutation(cands).Draw(r, "turned")
		for i := range turned {
			turned[i].Listings = rapid.Permutation(turned[i].Listings).Draw(r, "listings turned")
			turned[i].OtherSizes = rapid.Permutation(turned[i].OtherSizes).Draw(r, "sheets turned")
		}
		got := tables(t).Judge(q, turned)
		if d := cmp.Diff(brief(want), brief(got)); d != "" {
			r.Fatal(d)
		}
	})
}

func brief(vs []Verdict) (out []string) {
	for _, v := range vs {
		out = append(out, v.Part.Supplier+" "+v.Part.Number+" "+v.Outcome.String()+" "+v.First+"\n"+told(v))
	}
	return out
}

func TestTwoCopiesOfOneStatementCountOnce(t *testing.T) {
	rapid.Check(t, func(r *rapid.T) {
		q, c := drawQuestion(r), drawCandidate(r, 1)
		if len(c.Listings) == 0 {
			return
		}
		before := tables(t).Judge(q, []Candidate{c})[0]
		copied := rapid.SampledFrom(c.Listings).Draw(r, "copied")
		copied.Origin.Supplier, copied.Origin.Sheet, copied.Origin.SHA256 = "Copyist", "copyist.csv", "other"
		c.Listings = append(slices.Clone(c.Listings), copied)
		after := tables(t).Judge(q, []Candidate{c})[0]
		if before.Outcome != after.Outcome || before.First != after.First {
			r.Fatalf("%q became %q by a copy", before.First, after.First)
		}
	})
}
