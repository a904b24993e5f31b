package audit

import (
	"fmt"
	"slices"
	"strings"
	"testing"

	"fitfill/catalog"
	"fitfill/catalog/units"
	"fitfill/compat"
)

func findings(t *testing.T, e Engine) []Finding {
	t.Helper()
	a := tables(t).New(Settings{Bought: func(supplier, _ string) int { return len(supplier) }})
	a.Engine(e)
	return a.Findings()
}

// only returns the one finding of that supplier and check.
func only(t *testing.T, list []Finding, supplier, check string) Finding {
	t.Helper()
	var out []Finding
	for _, f := range list {
		if f.Supplier == supplier && f.Check == check {
			out = append(out, f)
		}
	}
	if len(out) != 1 {
		t.Fatalf("%d findings %q of %s among %+v", len(out), check, supplier, list)
	}
	return out[0]
}

func lines(list []compat.Evidence) string {
	var out []string
	for _, e := range list {
		out = append(out, fmt.Sprintf("%s:%d", e.Sheet, e.Line))
	}
	return strings.Join(out, " ")
}

// A finding that goes to a supplier names his own lines, and beside them what
// others say: never his own line as evidence against himself.
func TestEachFindingNamesItsLinesAndWhatSpeaksAgainstThem(t *testing.T) {
	own := catalog.Origin{Sheet: "engines.csv", Line: 2}
	family := catalog.EngineFamily{Family: "KR6"}
	odd := findings(t, Engine{Family: family, Parts: []Listed{stat("Ada", 92, 0), stat("Bor", 82, 0), stat("Cem", 82, 0)}})
	f := only(t, odd, "Ada", "odd: opening temperature")
	if lines(f.Lines) != "ada.csv:5" || lines(f.Against) != "bor.csv:5 cem.csv:5" || !strings.Contains(f.Says, "the 2 other lists of this engine say 82") {
		t.Errorf("%s against %s: %s", lines(f.Lines), lines(f.Against), f.Says)
	}
	if f.Cost != (Cost{Bought: 3, Engines: 1, Parts: 1}) || f.Number != "Ada-1" || f.Engine != "KR6" {
		t.Errorf("%+v", f)
	}
	two := findings(t, Engine{Family: family, Parts: []Listed{stat("Ada", 92, 0), stat("Bor", 82, 0)}})
	if f := only(t, two, "Ada", "contradiction: opening temperature"); !strings.Contains(f.Says, "is 92 °C; the only other list of this engine says 82 °C") {
		t.Error(f.Says)
	}
	bad := stat("Ada", 82, 54)
	bad.Refuted = []compat.Finding{{
		Check: "flange and bore", Says: "does not enter", Grade: compat.Measured, Outcome: compat.No,
		Origin: []compat.Evidence{compat.From(line("Ada", 5)), compat.From(own), compat.From(line("Bor", 9)), {}},
	}}
	f = only(t, findings(t, Engine{Family: family, Parts: []Listed{bad}}), "Ada", "refuted: flange and bore")
	if lines(f.Against) != "engines.csv:2 bor.csv:9" || f.Grade != compat.Measured || f.Says != "does not enter" {
		t.Errorf("against %s, %s: %s", lines(f.Against), f.Grade, f.Says)
	}
	measured := stat("Ada", 82, 54)
	measured.Own.Flange = catalog.Say(units.Millimetres(54.6), "54.6", catalog.Origin{Sheet: "fitted.csv", Line: 3})
	f = only(t, findings(t, Engine{Family: family, Parts: []Listed{measured}}), "Ada", "refuted: flange as measured")
	if lines(f.Lines) != "ada.csv:5" || lines(f.Against) != "fitted.csv:3" {
		t.Errorf("%s against %s", lines(f.Lines), lines(f.Against))
	}
	for n, want := range map[int]string{1: "not fitting once.", 2: "not fitting 2 times."} {
		back := stat("Ada", 82, 54)
		back.Own.NoFit = n
		if f := only(t, findings(t, Engine{Family: family, Parts: []Listed{back}}), "Ada", "came back: did not fit"); !strings.HasSuffix(f.Says, want) {
			t.Errorf("%d times: %s", n, f.Says)
		}
	}
	late := stat("Ada", 82, 54)
	late.Fitments = []catalog.Fitment{madeFor("Ada", "Aster", 1998, 2001), madeFor("Ada", "Aster", 2015, 2024)}
	late.Fitments[1].Origin = line("Ada", 8)
	f = only(t, findings(t, Engine{Family: catalog.EngineFamily{Family: "KR6", Years: ownYears(1995, 2004)}, Parts: []Listed{late}}), "Ada", "refuted: years")
	if lines(f.Lines) != "ada.csv:8" || lines(f.Against) != "engines.csv:2" || f.Says != "Lists it for 2015-2024; the engine is of 1995-2004." {
		t.Errorf("%s against %s: %s", lines(f.Lines), lines(f.Against), f.Says)
	}
}

func TestYearsOfListsThatDisagreeAreShown(t *testing.T) {
	of := func(supplier string, r units.YearRange) Listed {
		l := stat(supplier, 82, 54)
		l.Fitments[0].Years = units.ModelYears{Ranges: []units.YearRange{r}}
		l.Fitments[0].YearsText = "as printed"
		return l
	}
	for name, c := range map[string]struct {
		mine units.YearRange
		want string
	}{
		"begins later":  {units.Years(1998, 2004), "Lists it for 1998-2004; the 2 other lists of this model say 1995-2004."},
		"ends sooner":   {units.Years(1995, 2001), "Lists it for 1995-2001; the 2 other lists of this model say 1995-2004."},
		"a single year": {units.Year(2001), "Lists it for 2001; the 2 other lists of this model say 1995-2004."},
		"an open end":   {units.YearRange{From: units.Year(1998).From}, "Lists it for from 1998; the 2 other lists of this model say 1995-2004."},
		"an open begin": {units.YearRange{To: units.Year(2001).To}, "Lists it for to 2001; the 2 other lists of this model say 1995-2004."},
	} {
		e := Engine{Family: catalog.EngineFamily{Family: "KR6"}, Parts: []Listed{of("Ada", c.mine), of("Bor", units.Years(1995, 2004)), of("Cem", units.Years(1995, 2004))}}
		f := only(t, findings(t, e), "Ada", "odd: years")
		if f.Says != c.want || lines(f.Lines) != "ada.csv:5" || lines(f.Against) != "bor.csv:5 cem.csv:5" {
			t.Errorf("%s: %q, %s against %s", name, f.Says, lines(f.Lines), lines(f.Against))
		}
	}
	// What the garage's own sheet says the supplier covers is no mistake of his.
	e := Engine{Family: catalog.EngineFamily{Family: "KR6", Years: ownYears(1998, 2004)}, Parts: []Listed{of("Ada", units.Years(1998, 2004)), of("Bor", units.Years(1995, 2004)), of("Cem", units.Years(1995, 2004))}}
	for _, f := range findings(t, e) {
		if f.Supplier == "Ada" {
			t.Errorf("%s: %s", f.Check, f.Says)
		}
	}
	// Others who do not agree among themselves make nobody odd.
	e = Engine{Family: catalog.EngineFamily{Family: "KR6"}, Parts: []Listed{of("Ada", units.Years(1998, 2004)), of("Bor", units.Years(1995, 2004)), of("Cem", units.Years(1990, 1994))}}
	for _, f := range findings(t, e) {
		t.Errorf("%s %s: %s", f.Supplier, f.Check, f.Says)
	}
}

func TestHowFarYearsReachOut(t *testing.T) {
	from, to := units.YearRange{From: units.Year(1995).From}, units.YearRange{To: units.Year(2004).To}
	own := []units.YearRange{units.Years(1995, 2004)}
	for name, c := range map[string]struct {
		mine, theirs []units.YearRange
		want         bool
	}{
		"the same":                  {own, own, false},
		"a year early":              {[]units.YearRange{units.Years(1994, 2004)}, own, false},
		"two years early":           {[]units.YearRange{units.Years(1993, 2004)}, own, true},
		"two years late":            {[]units.YearRange{units.Years(1995, 2006)}, own, true},
		"open at the end":           {[]units.YearRange{from}, own, false},
		"open at the beginning":     {[]units.YearRange{to}, own, false},
		"theirs open at the end":    {[]units.YearRange{units.Years(1995, 2030)}, []units.YearRange{from}, false},
		"before an open end":        {[]units.YearRange{units.Years(1990, 1992)}, []units.YearRange{from}, true},
		"early in the second range": {[]units.YearRange{units.Years(2000, 2004), units.Years(1990, 1996)}, own, true},
		"late in the second range":  {[]units.YearRange{units.Years(1995, 2000), units.Years(2001, 2009)}, own, true},
		"open in the second range":  {[]units.YearRange{units.Years(1995, 2000), {From: units.Year(2003).From}}, own, false},
	} {
		if got := beyond(c.mine, c.theirs, 2); got != c.want {
			t.Errorf("%s: %v", name, got)
		}
	}
}

func TestATorqueThatTheBoltCannotMean(t *testing.T) {
	at := catalog.Origin{Sheet: "engines.csv", Line: 2}
	seen := compat.Finding{Outcome: compat.No, Origin: []compat.Evidence{compat.From(line("Bor", 4)), compat.From(at)}}
	beside := compat.Finding{Outcome: compat.Yes, Origin: []compat.Evidence{compat.From(line("Cem", 4))}}
	for outcome, want := range map[compat.Outcome]int{compat.No: 1, compat.Caution: 1, compat.Yes: 0, compat.CannotSay: 0} {
		seen.Outcome = outcome
		e := Engine{Family: catalog.EngineFamily{Family: "KR6"}, Torque: &Torque{Outcome: outcome, Says: "too much", Origin: at, Findings: []compat.Finding{seen, beside}}}
		if outcome == compat.Yes {
			e.Torque.Findings = nil
		}
		list := findings(t, e)
		if len(list) != want {
			t.Errorf("%s: %+v", outcome, list)
		}
		for _, f := range list {
			if f.Check != "torque" || f.Says != "too much" || lines(f.Lines) != "engines.csv:2" || !strings.Contains(lines(f.Against), "bor.csv:4") || strings.Contains(lines(f.Against), "cem.csv") {
				t.Errorf("%s: %+v", outcome, f)
			}
		}
	}
}

func TestASharedSlipIsToldToBothOnce(t *testing.T) {
	slip := func(n int) Slip {
		return Slip{Written: "Astter", Meant: "Aster", Suppliers: []string{"Ada", "Bor"}, Lines: []catalog.Origin{line("Ada", n), line("Bor", n+1)}}
	}
	a := tables(t).New(Settings{})
	for i, family := range []string{"KR6", "KR8"} {
		a.Engine(Engine{Family: catalog.EngineFamily{Family: family}, Slips: []Slip{slip(10 * (i + 1))}})
	}
	list := a.Findings()
	if len(list) != 2 {
		t.Fatalf("%+v", list)
	}
	if f := only(t, list, "Ada", "slip"); lines(f.Lines) != "ada.csv:10 ada.csv:20" || lines(f.Against) != "bor.csv:11 bor.csv:21" {
		t.Errorf("%s against %s", lines(f.Lines), lines(f.Against))
	}
	if f := only(t, list, "Bor", "slip"); lines(f.Lines) != "bor.csv:11 bor.csv:21" || lines(f.Against) != "ada.csv:10 ada.csv:20" {
		t.Errorf("%s against %s", lines(f.Lines), lines(f.Against))
	}
}

func TestAGroupIsToldToWhoStatesItsWeakestPart(t *testing.T) {
	a := tables(t).New(Settings{Bought: func(_, key string) int { return len(key) }})
	x, y := stat("Ada", 82, 54).Part, stat("Bor", 82, 54).Part
	a.Group(Group{
		Check: GroupCheck, Says: "cannot all be right", Parts: []catalog.Part{x, y}, Ends: []catalog.Part{x, y},
		Lines: []catalog.Origin{line("Ada", 9), line("Ada", 9)}, Others: []compat.Evidence{compat.From(line("Bor", 3)), compat.From(line("Ada", 4))},
	})
	f := only(t, a.Findings(), "Ada", GroupCheck)
	if lines(f.Lines) != "ada.csv:9" || lines(f.Against) != "bor.csv:3" || f.Number != "Ada-1" || f.Cost != (Cost{Bought: 8, Parts: 2}) {
		t.Errorf("%+v", f)
	}
}

// A column is judged by each part once, by the middle of what others print, and
// costs what all its parts cost.
func TestAColumnCountsEachPartOnce(t *testing.T) {
	a := tables(t).New(Settings{Bought: func(supplier, _ string) int { return len(supplier) }})
	for i, k := range []float64{13, 12, 13, 14} {
		e := Engine{Family: catalog.EngineFamily{Family: fmt.Sprint("KR", i)}, Parts: []Listed{stat("Ada", 82+k, 0), stat("Bor", 76, 0), stat("Cem", 82, 0), stat("Dag", 82, 0)}}
		e.Parts[0].Part.Key = fmt.Sprint("ADA", i)
		e.Parts[0].Opens.Origin = line("Ada", 10+i)
		a.Engine(e)
		e.Family.Family += " again" // the same part under another engine
		a.Engine(e)
	}
	f := only(t, a.Findings(), "Ada", "column: full-open temperature")
	if !strings.HasPrefix(f.Says, "4 of 4 opening temperatures lie 12 to 14 K above") || lines(f.Lines) != "ada.csv:10 ada.csv:11 ada.csv:12 ada.csv:13" {
		t.Errorf("%s: %s", lines(f.Lines), f.Says)
	}
	if f.Cost != (Cost{Bought: 12, Engines: 4, Parts: 4}) || len(f.Against) == 0 {
		t.Errorf("%+v", f)
	}
}

// Another place, letter of the VIN, note or stretch of years may be why two parts
// differ: they are not held against each other.
func TestPartsOfOtherPlacesAreNotCompared(t *testing.T) {
	for name, change := range map[string]func(*Listed){
		"another place":   func(l *Listed) { l.Place = "lower" },
		"another corner":  func(l *Listed) { l.Fitments[0].WhereFitted = "left" },
		"another letter":  func(l *Listed) { l.Fitments[0].VIN8 = "K" },
		"another note":    func(l *Listed) { l.Fitments[0].Condition = "with A/C" },
		"other years":     func(l *Listed) { l.Fitments = []catalog.Fitment{madeFor("Ada", "Vesper", 2005, 2009)} },
		"another type":    func(l *Listed) { l.Part.Type = catalog.Say("housing", "", line("Ada", 5)) },
		"its list denies": func(l *Listed) { l.Excluded = true },
		"listed nowhere":  func(l *Listed) { l.Fitments = nil },
	} {
		odd := stat("Ada", 92, 0)
		change(&odd)
		e := Engine{Family: catalog.EngineFamily{Family: "KR6"}, Parts: []Listed{odd, stat("Bor", 82, 0), stat("Cem", 82, 0)}}
		if list := findings(t, e); slices.ContainsFunc(list, func(f Finding) bool { return strings.HasSuffix(f.Check, "opening temperature") }) {
			t.Errorf("%s: %+v", name, list)
		}
	}
	anyYears := stat("Ada", 92, 0)
	anyYears.Fitments[0].Years, anyYears.Fitments[0].YearsText = units.ModelYears{}, ""
	e := Engine{Family: catalog.EngineFamily{Family: "KR6"}, Parts: []Listed{anyYears, stat("Bor", 82, 0), stat("Cem", 82, 0)}}
	only(t, findings(t, e), "Ada", "odd: opening temperature")
}

func TestWordsAreComparedAsWords(t *testing.T) {
	cap := func(supplier, form string) Listed {
		l := stat(supplier, 82, 0)
		l.Opens = catalog.Stated[units.Temperature]{}
		l.Part.Type = catalog.Say("cap", "", line(supplier, 5))
		l.Part.CapForm = catalog.Say(form, form, line(supplier, 5))
		return l
	}
	e := Engine{Family: catalog.EngineFamily{Family: "KR6"}, Parts: []Listed{cap("Ada", "thread"), cap("Bor", "bayonet"), cap("Cem", "Bayonet")}}
	if f := only(t, findings(t, e), "Ada", "odd: form of the cap"); !strings.Contains(f.Says, "is thread; the 2 other lists of this engine say bayonet") {
		t.Error(f.Says)
	}
	e = Engine{Family: catalog.EngineFamily{Family: "KR6"}, Parts: []Listed{cap("Ada", ""), cap("Bor", "bayonet"), cap("Cem", "bayonet")}}
	if list := findings(t, e); len(list) > 0 {
		t.Errorf("an empty word contradicts nobody: %+v", list)
	}
}
