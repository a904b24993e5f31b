package fit

import (
	"testing"

	"fitfill/catalog"
	"fitfill/catalog/units"
	"fitfill/compat"
)

func described(supplier, text string) catalog.Part {
	p := stat(supplier, "1")
	p.Description = catalog.Say(text, text, of(supplier, 10))
	return p
}

// Common practice: map-controlled and plain look alike and never stand in for
// each other; one built into its housing is known by number only.
func TestKindsOfThermostat(t *testing.T) {
	for _, c := range []struct {
		engine, part string
		want         compat.Outcome
		first        string
	}{
		{"", "thermostat 82", compat.Yes, "fits: one list and measured"},
		{"", "thermostat 82, map-controlled", compat.Yes, "fits: one list and measured"}, // not checked moves nothing
		{"map-controlled thermostat with connector", "Kennfeldthermostat mit Stecker", compat.Yes, ""},
		{"map-controlled thermostat with connector", "thermostat 82, plain", compat.No, "does not fit: plain, engine takes map-controlled"},
		{"map-controlled thermostat with connector", "thermostat 82", compat.Yes, ""},
		{"plain", "thermostat with housing", compat.No, "does not fit: integrated, engine takes plain"},
		{"", "thermostat with housing", compat.Yes, ""},
		{"not map-controlled", "map-controlled", compat.No, "does not fit: map-controlled, engine takes plain"},
	} {
		q := thermostatQuestion()
		if c.engine != "" {
			q.Engine.Notes = catalog.Say(c.engine, c.engine, own(c.engine))
		}
		v := judgeOne(t, q, Candidate{Part: new(described("Varn", c.part)), Listings: []catalog.Fitment{listing("Varn", 3), listing("Ostrel", 3)}})
		if v.Outcome != c.want || c.want == compat.No && v.First != c.first {
			t.Errorf("%q in %q: %s, %q\n%s", c.part, c.engine, v.Outcome, v.First, told(v))
		}
	}
	q := thermostatQuestion()
	q.Engine.ThermostatType = catalog.Say("map-controlled", "map", own("map"))
	if v := judgeOne(t, q, Candidate{Part: new(stat("Varn", "1")), Listings: []catalog.Fitment{listing("Varn", 3)}}); !missing(v, "kind of thermostat of the part") {
		t.Errorf("does not name what is missing\n%s", told(v))
	}
}

// Common practice: a bypass disc has to be there or not, as the original's is.
func TestBypassDisc(t *testing.T) {
	for _, c := range []struct {
		engine, part *bool
		want         compat.Outcome
	}{
		{yes(true), yes(true), compat.Yes}, {yes(false), yes(false), compat.Yes}, {yes(true), yes(false), compat.No},
		{yes(false), yes(true), compat.No}, {yes(true), nil, compat.Yes}, {nil, yes(true), compat.Yes}, {nil, nil, compat.Yes},
	} {
		q, p := thermostatQuestion(), stat("Varn", "1")
		if c.engine != nil {
			q.Engine.BypassDisc = catalog.Say(*c.engine, "", own("disc"))
		}
		if c.part != nil {
			p.BypassDisc = catalog.Say(*c.part, "", of("Varn", 10))
		}
		v := judgeOne(t, q, Candidate{Part: new(p), Listings: []catalog.Fitment{listing("Varn", 3)}})
		if v.Outcome != c.want {
			t.Errorf("%v\n%s", c, told(v))
		}
		if c.engine != nil && c.part == nil && !missing(v, "bypass disc of the part") {
			t.Errorf("does not name the missing disc\n%s", told(v))
		}
	}
	q := thermostatQuestion()
	q.Engine.BypassDisc = catalog.Say(true, "yes", own("disc"))
	v := judgeOne(t, q, Candidate{Part: new(described("Varn", "Thermostat 82 ohne Bypassteller")), Listings: []catalog.Fitment{listing("Varn", 3)}})
	expect(t, v, compat.No, "does not fit: no bypass disc, engine needs one")
}

func yes(v bool) *bool { return &v }

func TestWhichWayRound(t *testing.T) {
	for side, want := range map[string]string{"outlet": "arrow towards the radiator", "inlet": "where bypass and radiator water meet", "": "photograph the old one"} {
		q := thermostatQuestion()
		q.Engine.Indexed = catalog.Say(true, "yes", own("yes"))
		if side != "" {
			q.Engine.ThermostatSide = catalog.Say(side, side, own(side))
		}
		v := judgeOne(t, q, Candidate{Part: new(stat("Varn", "1")), Listings: []catalog.Fitment{listing("Varn", 3)}})
		for _, w := range []string{want, "back to front", "twelve o'clock", "tab in the notch"} {
			if !says(v, w) {
				t.Errorf("%s side: does not say %q\n%s", side, w, told(v))
			}
		}
	}
}

// SAE J1508 type F sizes; a hose suits where it lies in the middle half.
func TestClampsForAHose(t *testing.T) {
	for mm, want := range map[float64]struct {
		size string
		at   float64
	}{53.45: {"32", 0.58}, 47.1: {"28", 0.58}, 40.35: {"24", 0.56}} {
		got := tables(t).ClampsFor(units.Millimetres(mm))
		if len(got) == 0 || got[0].Size != want.size {
			t.Fatalf("%g mm: %+v", mm, got)
		}
		pctClose(t, want.size, got[0].Position, want.at, 0.01)
		for _, c := range got {
			if mm == 53.45 && c.Size == "28" {
				t.Error("28 is open too far on 53.45 mm")
			}
		}
	}
	if got := tables(t).ClampsFor(units.Millimetres(2)); len(got) != 0 {
		t.Errorf("a clamp for 2 mm: %+v", got)
	}
}

// SAE J1508: the open end of a size is n/16 + 1/2 in from 12 on; below that the
// table rules, 08 gives 23.1 and 10 gives 26.9 mm.
func TestClampTable(t *testing.T) {
	last := 0.0
	for _, r := range reference(t, "fit_clamp_sizes") {
		n, open := decimal(r.Get("size")), number(t, r, "max_mm")
		if number(t, r, "min_mm") >= open || open < last || n >= 20 && open <= last {
			t.Errorf("size %s is out of order", r.Get("size"))
		}
		last = open
		if n >= 12 {
			pctClose(t, r.Get("size"), open, units.Inches(n/16+0.5).Millimetres(), 0.1)
		}
	}
	for size, open := range map[string]float64{"08": 23.1, "10": 26.9, "16": 38.1, "28": 57.1, "40": 76.2, "64": 114.3} {
		for _, c := range tables(t).clamps {
			if c.name == size {
				pctClose(t, size, c.span.hi, open, 0.1)
			}
		}
	}
}

func TestAClampOnTheEnginesHose(t *testing.T) {
	q := Question{Engine: catalog.EngineFamily{Family: "KR6", HoseOutside: length("47.1", 47.1, own("47.1"))}, Type: Clamp}
	for _, c := range []struct {
		low, high float64
		want      compat.Outcome
	}{{33.3, 57.1, compat.Yes}, {20.6, 44.4, compat.No}, {52.3, 76.2, compat.No}, {26.9, 50.8, compat.Caution}} {
		o := of("Varn", 10)
		p := catalog.Part{Supplier: "Varn", Number: "K1", ClampMin: length("", c.low, o), ClampMax: length("", c.high, o)}
		if v := judgeOne(t, q, Candidate{Part: new(p), Listings: []catalog.Fitment{listing("Varn", 3)}}); v.Outcome != c.want {
			t.Errorf("%g to %g: %s\n%s", c.low, c.high, v.Outcome, told(v))
		}
	}
}
