package coolant_test

import (
	"strings"
	"testing"
	"unicode/utf8"

	"fitfill/catalog"
	"fitfill/compat"
	"fitfill/compat/coolant"
)

// What a label says against liners is no claim for them, and stands against one.
func TestWhatALabelSaysOfLiners(t *testing.T) {
	tb := tables(t)
	e := engine("", 30)
	e.WetLiner = say(true)
	for _, c := range []struct {
		notes string
		want  compat.Outcome
	}{
		{"protects wet liners", compat.Yes},
		{"no additive needed for wet liners", compat.Yes},
		{"Does not foam. Protects wet liners.", compat.Yes},
		{"not for engines with wet liners", compat.Caution},
		{"wet liner engines: not suitable", compat.Caution},
		{"protects liners; not for wet liners of heavy diesels", compat.Caution},
	} {
		for _, chemistry := range []string{"oat", "hd-oat"} {
			q := onto(chemistry, chemistry, 8)
			q.Engine = e
			q.Add.Product = &catalog.Part{Chemistry: say(chemistry), Notes: say(c.notes)}
			f := find(t, tb.Mix(q), "wet liners")
			if f.Outcome != c.want || c.want == compat.Caution && !strings.Contains(f.Says, "not ") {
				t.Errorf("%s, %q: %s %q, want %s", chemistry, c.notes, f.Outcome, f.Says, c.want)
			}
		}
	}
}

// Scopes of ASTM D4985 (needs its charge) and D6210 (fully formulated).
func TestWetLiners(t *testing.T) {
	tb := tables(t)
	e := engine("", 30)
	e.WetLiner = say(true)
	for _, c := range []struct {
		fill, add, approvals string
		want                 compat.Outcome
	}{
		{"noat", "noat", "", compat.Yes},
		{"hd-oat", "hd-oat", "", compat.Yes}, // no nitrite floor for it
		{"oat", "oat", "", compat.Caution},
		{"oat", "oat", "ASTM D6210", compat.Yes},
		{"iat-heavy-duty", "iat-heavy-duty", "ASTM D4985", compat.Caution},
		{"iat-heavy-duty", "iat-heavy-duty", "ASTM D6210, ASTM D4985", compat.Yes},
		{"oat", "oat", "not tested to ASTM D3306, D4985 or ASTM D6210", compat.Caution},
		{"oat", "oat", "ASTM D6210; not tested to ASTM D4985", compat.Yes},
	} {
		q := onto(c.fill, c.add, 8)
		q.Engine = e
		if c.approvals != "" {
			q.Add.Product = label(c.approvals)
		}
		if got := tb.Mix(q); got.Outcome != c.want {
			t.Errorf("%s onto %s, %q: %s, want %s\n%s", c.add, c.fill, c.approvals, got.Outcome, c.want, says(got))
		}
	}
	q := ask(fluid(50, "iat-heavy-duty"), fluid(50, "noat"), 20, 1)
	q.Engine, q.Nitrite = e, say(1000.0)
	if f := find(t, tb.Mix(q), "nitrite for the liners"); f.Outcome != compat.Caution {
		t.Errorf("1000 mg/kg where 1200 are needed: %+v", f)
	}
	q.Fill.Chemistries = []string{"hd-oat"}
	for _, f := range tb.Mix(q).Findings {
		if f.Check == "nitrite for the liners" {
			t.Errorf("the floor binds a fill that has no nitrite: %+v", f)
		}
	}
}

// Used-coolant practice: 1,200 mg/kg (ASTM D6210, from memory), or with
// molybdate 780 together and 300 of each; below 800 a dose is due today.
func TestNitriteForWetLinersNamesTheNextStep(t *testing.T) {
	tb := tables(t)
	wet, dry := engine("", 30), engine("", 30)
	wet.WetLiner, dry.WetLiner = say(true), say(false)
	for _, c := range []struct {
		fill               string
		e                  *catalog.EngineFamily
		nitrite, molybdate float64
		want               compat.Outcome
		words              string
	}{
		{"iat-heavy-duty", wet, 1250, 0, compat.Yes, "enough"},
		{"iat-heavy-duty", wet, 1000, 0, compat.Caution, "dip again"},
		{"iat-heavy-duty", wet, 500, 0, compat.Caution, "today"},
		{"iat-heavy-duty", wet, 500, 400, compat.Yes, "enough"},
		{"iat-heavy-duty", wet, 500, 290, compat.Caution, "today"},
		{"noat", wet, 250, 0, compat.Caution, "extender"},
		{"noat", wet, 150, 0, compat.Caution, "drain"},
		{"noat", wet, 300, 0, compat.Yes, "enough"},
		{"noat", dry, 150, 0, compat.Yes, ""},
		{"noat", nil, 150, 0, compat.Yes, "If its liners are wet"},
	} {
		q := ask(fluid(50, c.fill), fluid(50, c.fill), 29, 0.1)
		q.Engine = c.e
		q.Fill.Readings = []coolant.Reading{{Of: "nitrite", Level: say(c.nitrite)}}
		if c.molybdate > 0 {
			q.Fill.Readings = append(q.Fill.Readings, coolant.Reading{Of: "molybdate", Level: say(c.molybdate)})
		}
		a := tb.Mix(q)
		got := compat.Finding{}
		for _, f := range append(a.Findings, a.NotChecked...) {
			if f.Check == "nitrite for the liners" {
				got = f
			}
		}
		if !strings.Contains(got.Says, c.words) || (got.Outcome == compat.Caution) != (c.want == compat.Caution) {
			t.Errorf("%s, %g and %g: %s %q, want %s saying %q", c.fill, c.nitrite, c.molybdate, got.Outcome, got.Says, c.want, c.words)
		}
	}
}

// Common practice: charged filters dose fills that live on the additive, and
// over-treat long-life ones.
func TestChargedAndBlankFilters(t *testing.T) {
	tb := tables(t)
	for _, c := range []struct {
		fill   coolant.Fluid
		charge string
		want   compat.Outcome
	}{
		{fluid(50, "iat-heavy-duty"), "charged", compat.Yes}, {fluid(50, "hd-oat"), "charged", compat.Caution},
		{fluid(50, "noat"), "charged", compat.Caution}, {fluid(50, "oat"), "charged", compat.Caution},
		{coolant.Fluid{}, "charged", compat.Caution}, {coolant.Fluid{}, "blank", compat.Yes},
		{fluid(50, "iat-heavy-duty"), "", compat.CannotSay},
	} {
		f := &catalog.Part{Number: "FC-4", Type: say("filter")}
		if c.charge != "" {
			f.FilterCharge = say(c.charge)
		}
		a := tb.Filter(coolant.Question{Fill: c.fill}, f)
		if a.Outcome != c.want || utf8.RuneCountInString(a.First) > 60 {
			t.Errorf("%s filter on %v: %s %q, want %s", c.charge, c.fill.Chemistries, a.Outcome, a.First, c.want)
		}
	}
}
