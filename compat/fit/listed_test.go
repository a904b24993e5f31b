package fit

import (
	"testing"

	"fitfill/catalog"
	"fitfill/catalog/units"
	"fitfill/compat"
)

func TestNotes(t *testing.T) {
	for _, c := range []struct {
		note string
		want compat.Outcome
	}{
		{"", compat.Yes},
		{"seal not included", compat.Yes},
		{"without gasket", compat.Yes},
		{"w/o seal", compat.Yes},
		{"no longer available", compat.Yes},
		{"brass frame", compat.Yes},
		{"exc. HD", compat.Caution},
		{"except CV34", compat.No},
		{"not for CV34", compat.No},
		{"except CV38 and CV34", compat.No},
		{"exc. 3.8", compat.Yes}, // the engine is a 3.4
		{"exc. 3.4L", compat.No},
		{"exc. 1999-2001", compat.No},
		{"exc. 2003", compat.Yes},
		{"without A/C", compat.Caution},
		{"with A/C only", compat.Caution},
		{"CV34 only", compat.Yes},
		{"from 1998", compat.Yes},
		{"up to 1998", compat.CannotSay}, // for other years: says nothing about this one
		{"VIN K", compat.Yes},
		{"VIN 1", compat.CannotSay},
		{"exc. VIN K", compat.No},
		{"exc. VIN 1 or 2", compat.Yes},
		{"8th digit K", compat.Yes},
		{"diesel", compat.CannotSay},
		{"petrol only, seal not included", compat.Yes},
		{"exc. HD, seal not included", compat.Caution},
		{"exc. CV38, CV34", compat.No},
		{"not", compat.Caution},
	} {
		q := Question{Engine: engine(), Type: "hose", Year: 2000, VIN8: "K"}
		q.Engine.Fuel = catalog.Say("petrol", "petrol", own("petrol"))
		v := judgeOne(t, q, Candidate{Part: new(stat("Varn", "1")), Listings: []catalog.Fitment{noted(listing("Varn", 3), c.note)}})
		if v.Outcome != c.want {
			t.Errorf("%q: %s, want %s (%s)\n%s", c.note, v.Outcome, c.want, v.First, told(v))
		}
		if v.Outcome == compat.Caution && len(v.Ask) == 0 {
			t.Errorf("%q: asks nothing", c.note)
		}
	}
}

// A note that names one year as a boundary may mean the date of build or the model
// year: common practice of lists leaves it open, and so is the answer where the
// two readings differ.
func TestAYearAsABoundaryOfANote(t *testing.T) {
	built := func(year, month int) Month { return Month(12*year + month - 1) }
	for _, c := range []struct {
		note  string
		year  int
		built Month
		want  compat.Outcome
	}{
		{"before 2000", 1999, 0, compat.Yes},
		{"before 2000", 2000, 0, compat.Caution},
		{"before 2000", 2001, 0, compat.CannotSay},
		{"after 2000", 1999, 0, compat.CannotSay},
		{"after 2000", 2000, 0, compat.Caution},
		{"after 2000", 2001, 0, compat.Yes},
		{"before 2000", 0, built(1998, 5), compat.Yes},
		{"before 2000", 0, built(1999, 5), compat.Caution}, // of model year 1999 or 2000
		{"before 2000", 1999, built(1999, 5), compat.Yes},
		{"before 2000", 2000, built(1999, 11), compat.Caution},
		{"before 2000", 0, built(2000, 1), compat.CannotSay},
		{"after 2000", 0, built(1999, 12), compat.CannotSay},
		{"after 2000", 0, built(2000, 7), compat.Caution},
		{"after 2000", 2001, built(2000, 9), compat.Caution},
		{"after 2000", 0, built(2001, 1), compat.Yes},
		{"after 2000", 2000, built(2001, 1), compat.Caution},
		{"from 2000", 2000, 0, compat.Yes},
		{"from 2000", 1999, 0, compat.CannotSay},
		{"up to 2000", 2000, 0, compat.Yes},
		{"up to 2000", 2001, 0, compat.CannotSay},
		{"1998-2000", 1998, 0, compat.Yes},
		{"1998-2000", 2000, 0, compat.Yes},
		{"1998-2000", 1997, 0, compat.CannotSay},
		{"1998-2000", 2001, 0, compat.CannotSay},
		{"1998-2000", 0, 0, compat.Caution},
	} {
		q := Question{Engine: engine(), Type: "hose", Year: c.year, Built: c.built}
		v := judgeOne(t, q, Candidate{Part: new(stat("Varn", "1")), Listings: []catalog.Fitment{noted(listing("Varn", 3), c.note)}})
		if v.Outcome != c.want {
			t.Errorf("%q, year %d, built %d/%d: %s, want %s (%s)", c.note, c.year, int(c.built)%12+1, int(c.built)/12, v.Outcome, c.want, v.First)
		}
	}
}

func TestExclusionInTheEngineText(t *testing.T) {
	f := listing("Varn", 3)
	f.Engine = "3.4 V6 exc. HD"
	q := Question{Engine: engine(), Type: "hose"}
	expect(t, judgeOne(t, q, Candidate{Part: new(stat("Varn", "1")), Listings: []catalog.Fitment{f}}), compat.Caution, "should fit: ask about HD")
	q.Engine.AlsoKnownAs = catalog.Say("3.4 HD", "3.4 HD", own("3.4 HD"))
	expect(t, judgeOne(t, q, Candidate{Part: new(stat("Varn", "1")), Listings: []catalog.Fitment{f, listing("Ostrel", 3), listing("Kemmel", 3)}}), compat.No, "does not fit: the list excludes HD")
}

func TestYears(t *testing.T) {
	early, late := yearsOf(listing("Varn", 3), 1992, 1998), yearsOf(listing("Ostrel", 3), 1992, 2004)
	q := Question{Engine: engine(), Type: "hose", Year: 2001}
	expect(t, judgeOne(t, q, Candidate{Part: new(stat("Varn", "1")), Listings: []catalog.Fitment{early}}), compat.CannotSay, "cannot say: listed for other years or engines only")
	expect(t, judgeOne(t, q, Candidate{Part: new(stat("Varn", "1")), Listings: []catalog.Fitment{early, late}}), compat.Caution, "should fit: lists disagree on 2001")
	q.Year = 1995
	expect(t, judgeOne(t, q, Candidate{Part: new(stat("Varn", "1")), Listings: []catalog.Fitment{early, late}}), compat.Yes, "fits: two lists, not measured")

	q.Year = 0 // the engine was made to 2004: this list leaves years out
	q.Engine.Years = catalog.Say(units.ModelYears{Ranges: []units.YearRange{units.Years(1992, 2004)}}, "1992-2004", own("y"))
	expect(t, judgeOne(t, q, Candidate{Part: new(stat("Varn", "1")), Listings: []catalog.Fitment{early}}), compat.Caution, "should fit: ask about the year")
	expect(t, judgeOne(t, q, Candidate{Part: new(stat("Varn", "1")), Listings: []catalog.Fitment{yearsOf(early, 1993, 2003)}}), compat.Yes, "")

	// Two cars of one list had the engine at different times: together they
	// cover it, unless a note narrows one of them.
	later := yearsOf(listing("Varn", 4), 2000, 2004)
	expect(t, judgeOne(t, q, Candidate{Part: new(stat("Varn", "1")), Listings: []catalog.Fitment{early, later}}), compat.Yes, "fits: one list, not measured")
	later.Condition = "with A/C"
	expect(t, judgeOne(t, q, Candidate{Part: new(stat("Varn", "1")), Listings: []catalog.Fitment{early, later}}), compat.Caution, "")

	half := early
	half.Years = units.ModelYears{Ranges: []units.YearRange{{From: 2 * 1992, To: 2*2004 + 1}}}
	q.Year = 2004
	expect(t, judgeOne(t, q, Candidate{Part: new(stat("Varn", "1")), Listings: []catalog.Fitment{half}}), compat.Caution, "should fit: ask about the half of 2004")
	for h, want := range map[Half]compat.Outcome{FirstHalf: compat.Yes, SecondHalf: compat.CannotSay} { // 1992-2004.5
		q.Half = h
		expect(t, judgeOne(t, q, Candidate{Part: new(stat("Varn", "1")), Listings: []catalog.Fitment{half}}), want, "")
	}
	q.Half = 0
	half.Years = units.ModelYears{Built: units.MonthRange{From: 12*2004 + 2}}
	expect(t, judgeOne(t, q, Candidate{Part: new(stat("Varn", "1")), Listings: []catalog.Fitment{half}}), compat.Caution, "should fit: ask about the build month")
	for built, want := range map[Month]compat.Outcome{12*2004 + 2: compat.Yes, 12*2004 + 1: compat.CannotSay} { // from 03/2004
		q.Built = built
		expect(t, judgeOne(t, q, Candidate{Part: new(stat("Varn", "1")), Listings: []catalog.Fitment{half}}), want, "")
	}
	q.Built = 0
	half.Years, half.YearsText = units.ModelYears{}, "03/04"
	expect(t, judgeOne(t, q, Candidate{Part: new(stat("Varn", "1")), Listings: []catalog.Fitment{half}}), compat.Caution, "")
}

func TestYearsThatTellTwoPartsApart(t *testing.T) {
	q := Question{Engine: catalog.EngineFamily{Family: "3.4 V6"}, Type: Thermostat}
	cands := []Candidate{
		{Part: new(catalog.Part{Supplier: "Varn", Number: "A"}), Listings: []catalog.Fitment{yearsOf(listing("Varn", 3), 1992, 1998)}},
		{Part: new(catalog.Part{Supplier: "Varn", Number: "B"}), Listings: []catalog.Fitment{yearsOf(listing("Varn", 4), 1999, 2004)}},
	}
	for _, v := range tables(t).Judge(q, cands) {
		expect(t, v, compat.Caution, "should fit: ask about the year")
	}
	q.Year = 2000
	v := tables(t).Judge(q, cands)
	expect(t, v[0], compat.Yes, "fits: one list, not measured")
	expect(t, v[1], compat.CannotSay, "")
}

func TestVIN8(t *testing.T) {
	f := listing("Varn", 3)
	f.VIN8 = "K"
	q := Question{Engine: engine(), Type: "hose"}
	c := Candidate{Part: new(stat("Varn", "1")), Listings: []catalog.Fitment{f}}
	expect(t, judgeOne(t, q, c), compat.Caution, "should fit: ask about the 8th VIN character")
	q.VIN8 = "k"
	expect(t, judgeOne(t, q, c), compat.Yes, "")
	q.VIN8 = "1"
	expect(t, judgeOne(t, q, c), compat.CannotSay, "")
	q.VIN8 = ""
	q.Engine.VIN8 = catalog.Say("K", "K", own("K"))
	expect(t, judgeOne(t, q, c), compat.Yes, "")
}

func TestASuppliersOwnNarrowRowDoesNotCount(t *testing.T) {
	q := Question{Engine: engine(), Type: "hose"}
	own := []catalog.Fitment{listing("Varn", 3), noted(listing("Varn", 4), "with A/C")}
	expect(t, judgeOne(t, q, Candidate{Part: new(stat("Varn", "1")), Listings: own}), compat.Yes, "fits: one list, not measured")
	other := []catalog.Fitment{listing("Varn", 3), noted(listing("Ostrel", 4), "with A/C")}
	expect(t, judgeOne(t, q, Candidate{Part: new(stat("Varn", "1")), Listings: other}), compat.Caution, "should fit: ask about A/C")
}
