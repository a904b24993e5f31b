package audit

import (
	"fmt"
	"slices"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"fitfill/catalog"
	"fitfill/catalog/units"
	"fitfill/compat"
	"fitfill/data"
)

func tables(t testing.TB) *Tables {
	t.Helper()
	ref, err := data.Reference()
	if err != nil {
		t.Fatal(err)
	}
	tab, err := NewTables(ref)
	if err != nil {
		t.Fatal(err)
	}
	return tab
}

func line(supplier string, n int) catalog.Origin {
	return catalog.Origin{Sheet: strings.ToLower(supplier) + ".csv", SHA256: supplier, Supplier: supplier, Line: n}
}

// stat is a thermostat that one supplier lists for 1995 to 2004.
func stat(supplier string, opens, flange float64) Listed {
	o := line(supplier, 5)
	part := catalog.Part{ID: int64(supplier[0]), Supplier: supplier, Number: supplier + "-1", Key: strings.ToUpper(supplier) + "1", Type: catalog.Say("thermostat", "", o)}
	l := Listed{Part: part, Fitments: []catalog.Fitment{madeFor(supplier, "Aster", 1995, 2004)}, Opens: catalog.Say(units.Celsius(opens), "", o)}
	if flange > 0 {
		l.Part.FlangeDiameter = catalog.Say(units.Millimetres(flange), "", o)
	}
	return l
}

// ring is a seal of one inner diameter.
func ring(supplier string, inner float64) Listed {
	l := stat(supplier, 82, 0)
	l.Opens = catalog.Stated[units.Temperature]{}
	l.Part.Type = catalog.Say("seal", "", line(supplier, 5))
	l.Part.InnerDiameter = catalog.Say(units.Millimetres(inner), "", line(supplier, 5))
	return l
}

func madeFor(supplier, model string, first, last int) catalog.Fitment {
	return catalog.Fitment{
		Make: "Corvin", Model: model, Engine: "KR6", YearsText: fmt.Sprintf("%d-%d", first, last),
		Years: units.ModelYears{Ranges: []units.YearRange{units.Years(first, last)}}, Origin: line(supplier, 5),
	}
}

func ownYears(first, last int) catalog.Stated[units.ModelYears] {
	text := fmt.Sprintf("%d-%d", first, last)
	return catalog.Say(units.ModelYears{Ranges: []units.YearRange{units.Years(first, last)}}, text, catalog.Origin{Sheet: "engines.csv", Line: 2})
}

func found(t testing.TB, e Engine) []string {
	a := tables(t).New(Settings{})
	a.Engine(e)
	var out []string
	for _, f := range a.Findings() {
		out = append(out, f.Supplier+" "+f.Check)
		if len(f.Lines) == 0 || f.Lines[0].Line == 0 || f.Says == "" {
			t.Errorf("%+v names no line or says nothing", f)
		}
	}
	return out
}

func TestFactsThatDisagree(t *testing.T) {
	noted := func(l Listed, note string) Listed { l.Fitments[0].Condition = note; return l }
	for name, tc := range map[string]struct {
		parts  []Listed
		change func(*Engine)
		want   []string
	}{
		"all agree":                   {parts: []Listed{stat("Ada", 82, 54), stat("Bor", 82.2, 54.1), stat("Cem", 82, 54)}},
		"a rating against all others": {parts: []Listed{stat("Ada", 92, 54), stat("Bor", 82, 54), stat("Cem", 82, 54)}, want: []string{"Ada odd: opening temperature"}},
		"a flange against all others": {parts: []Listed{stat("Ada", 82, 60), stat("Bor", 82, 54), stat("Cem", 82, 54)}, want: []string{"Ada odd: flange"}},
		"two against two":             {parts: []Listed{stat("Ada", 92, 0), stat("Bor", 92, 0), stat("Cem", 82, 0), stat("Dag", 82, 0)}},
		"one against one":             {parts: []Listed{stat("Ada", 92, 0), stat("Bor", 82, 0)}, want: []string{"Ada contradiction: opening temperature", "Bor contradiction: opening temperature"}},
		"copies are one list": {parts: []Listed{stat("Ada", 92, 0), stat("Bor", 82, 0), stat("Cem", 82, 0)},
			change: func(e *Engine) {
				e.Slips = []Slip{{Written: "Astter", Meant: "Aster", Suppliers: []string{"Bor", "Cem"}, Lines: []catalog.Origin{line("Bor", 3), line("Cem", 4)}}}
			},
			want: []string{"Bor slip", "Cem slip", "Ada contradiction: opening temperature", "Bor contradiction: opening temperature", "Cem contradiction: opening temperature"}},
		"a note may be why": {parts: []Listed{noted(stat("Ada", 92, 0), "with A/C"), stat("Bor", 82, 0), stat("Cem", 82, 0)}},
		"the garage's own rating settles it": {parts: []Listed{stat("Ada", 92, 0), stat("Bor", 82, 0), stat("Cem", 82, 0)},
			change: func(e *Engine) {
				e.Family.OpeningTemp = catalog.Say(units.Celsius(92), "92", catalog.Origin{Sheet: "engines.csv", Line: 2})
			},
			want: []string{"Bor refuted: opening temperature", "Cem refuted: opening temperature"}},
		"what is refuted contradicts nobody": {parts: []Listed{stat("Ada", 92, 0), stat("Bor", 82, 0)},
			change: func(e *Engine) {
				e.Parts[0].Refuted = []compat.Finding{{Check: "flange and bore", Says: "does not enter"}}
			},
			want: []string{"Ada refuted: flange and bore"}},
		"sizes doubt it and all others differ": {parts: []Listed{stat("Ada", 82, 54), stat("Bor", 82, 54), stat("Cem", 82, 52)},
			change: func(e *Engine) {
				e.Family.HousingBore = catalog.Say(units.Millimetres(54.6), "54.6", catalog.Origin{Sheet: "engines.csv", Line: 2})
				e.Parts[2].Doubted = []string{"flange and bore"}
			}, want: []string{"Cem odd: flange"}},
		"sizes judge it and do not doubt it": {parts: []Listed{stat("Ada", 82, 54), stat("Bor", 82, 54), stat("Cem", 82, 53)},
			change: func(e *Engine) {
				e.Family.HousingBore = catalog.Say(units.Millimetres(54.6), "54.6", catalog.Origin{Sheet: "engines.csv", Line: 2})
			}},
		"a doubted ring of another size than the engine's": {parts: []Listed{ring("Ada", 94.84), ring("Bor", 88.49)},
			change: func(e *Engine) {
				for i := range e.Parts {
					e.Parts[i].Doubted = []string{"O-ring in its groove"}
				}
				e.Family.SealInnerDiameter = catalog.Say(units.Millimetres(88.49), "88.49", catalog.Origin{Sheet: "engines.csv", Line: 2})
				e.Family.GrooveOuterDiameter = catalog.Say(units.Millimetres(95.75), "95.75", catalog.Origin{Sheet: "engines.csv", Line: 2})
			}, want: []string{"Ada refuted: ring inside"}},
		"came back as not fitting": {parts: []Listed{stat("Ada", 82, 54)}, change: func(e *Engine) { e.Parts[0].Own.NoFit = 1 }, want: []string{"Ada came back: did not fit"}},
		"came back once and stayed elsewhere": {parts: []Listed{stat("Ada", 82, 54)},
			change: func(e *Engine) { e.Parts[0].Own.NoFit, e.Parts[0].Own.Stayed = 1, true }},
		"came back and is refuted anyway": {parts: []Listed{stat("Ada", 82, 54)},
			change: func(e *Engine) {
				e.Parts[0].Own.NoFit, e.Parts[0].Refuted = 1, []compat.Finding{{Check: "flange and bore", Says: "does not enter"}}
			}, want: []string{"Ada refuted: flange and bore"}},
		"measured otherwise than printed": {parts: []Listed{stat("Ada", 82, 54)},
			change: func(e *Engine) {
				e.Parts[0].Own.Flange = catalog.Say(units.Millimetres(54.6), "54.6", catalog.Origin{Sheet: "fitted.csv", Line: 3})
			}, want: []string{"Ada refuted: flange as measured"}},
		"measured a hair otherwise": {parts: []Listed{stat("Ada", 82, 54)},
			change: func(e *Engine) {
				e.Parts[0].Own.Flange = catalog.Say(units.Millimetres(54.4), "54.4", catalog.Origin{Sheet: "fitted.csv", Line: 3})
			}},
		"an exclusion is no mistake": {parts: []Listed{stat("Ada", 82, 0)},
			change: func(e *Engine) {
				e.Parts[0].Refuted, e.Parts[0].Excluded = []compat.Finding{{Check: "flange and bore", Says: "does not enter"}}, true
			}},
	} {
		t.Run(name, func(t *testing.T) {
			e := Engine{Family: catalog.EngineFamily{Family: "KR6"}, Parts: tc.parts}
			if tc.change != nil {
				tc.change(&e)
			}
			got := found(t, e)
			slices.Sort(got)
			slices.Sort(tc.want)
			if !slices.Equal(got, tc.want) {
				t.Errorf("found %q, want %q", got, tc.want)
			}
		})
	}
}

func TestYearsThatCannotBe(t *testing.T) {
	of := func(supplier string, first, last int) Listed {
		l := stat(supplier, 82, 54)
		l.Fitments = []catalog.Fitment{madeFor(supplier, "Aster", first, last)}
		return l
	}
	split := of("Ada", 1995, 1999)
	split.Fitments = append(split.Fitments, madeFor("Ada", "Aster", 2000, 2004))
	for name, tc := range map[string]struct {
		own   catalog.Stated[units.ModelYears]
		parts []Listed
		want  []string
	}{
		"never made then":                  {ownYears(1995, 2004), []Listed{of("Ada", 2015, 2024)}, []string{"Ada refuted: years"}},
		"longer than it was made":          {ownYears(1995, 2004), []Listed{of("Ada", 1990, 2004)}, []string{"Ada contradiction: years"}},
		"a year at an edge is nothing":     {ownYears(1995, 2004), []Listed{of("Ada", 1994, 2005)}, nil},
		"a model made for part of them":    {ownYears(1995, 2004), []Listed{of("Ada", 1998, 2001)}, nil},
		"against all others":               {parts: []Listed{of("Ada", 1998, 2004), of("Bor", 1995, 2004), of("Cem", 1995, 2004)}, want: []string{"Ada odd: years"}},
		"one year against all others":      {parts: []Listed{of("Ada", 1996, 2004), of("Bor", 1995, 2004), of("Cem", 1995, 2004)}},
		"two who contradict each other":    {parts: []Listed{of("Ada", 1998, 2004), of("Bor", 1995, 2004)}, want: []string{"Ada contradiction: years", "Bor contradiction: years"}},
		"one supplier's two rows together": {parts: []Listed{split, of("Bor", 1995, 2004), of("Cem", 1995, 2004)}},
	} {
		t.Run(name, func(t *testing.T) {
			got := found(t, Engine{Family: catalog.EngineFamily{Family: "KR6", Years: tc.own}, Parts: tc.parts})
			slices.Sort(got)
			if !slices.Equal(got, tc.want) {
				t.Errorf("found %q, want %q", got, tc.want)
			}
		})
	}
}

func TestACoolantOfAnotherChemistry(t *testing.T) {
	o := line("Ada", 7)
	coolant := func(chemistry, approvals string) Listed {
		p := catalog.Part{ID: 1, Supplier: "Ada", Number: "C", Key: "C", Type: catalog.Say("coolant", "", o), Chemistry: catalog.Say(chemistry, "", o)}
		if approvals != "" {
			p.Approvals = catalog.Say(approvals, approvals, o)
		}
		return Listed{Part: p, Fitments: []catalog.Fitment{madeFor("Ada", "Aster", 1995, 2004)}}
	}
	family := catalog.EngineFamily{Family: "KR6", Circuits: []catalog.Circuit{
		{Name: "engine", CoolantChem: catalog.Say("p-hoat", "", o), CoolantApproval: catalog.Say("CV 12-B; CV 14", "", o)},
		{Name: "battery", CoolantChem: catalog.Say("low-conductivity", "", o)},
	}}
	for name, tc := range map[string]struct {
		part Listed
		want int
	}{
		"right":                  {coolant("p-hoat", ""), 0},
		"of the second circuit":  {coolant("low-conductivity", ""), 0},
		"wrong":                  {coolant("iat", ""), 1},
		"approved all the same":  {coolant("oat", "approved: CV12B"), 0},
		"approved to the second": {coolant("oat", "approved: CV 14"), 0},
		"a longer number":        {coolant("oat", "approved: CV12BX"), 1},
		"not approved":           {coolant("oat", "not approved: CV 12-B"), 1},
		"a chemistry not stated": {Listed{Part: catalog.Part{Supplier: "Ada", Type: catalog.Say("coolant", "", o)}, Fitments: coolant("", "").Fitments}, 0},
	} {
		if got := found(t, Engine{Family: family, Parts: []Listed{tc.part}}); len(got) != tc.want {
			t.Errorf("%s: %q", name, got)
		}
	}
}

// A column of full-open temperatures lies 11 to 15 K above everybody else's.
func TestAColumnOfFullOpenTemperatures(t *testing.T) {
	for name, tc := range map[string]struct {
		above []float64 // of Ada's parts, engine by engine
		want  bool
	}{
		"all":            {[]float64{13, 12, 13, 14}, true},
		"nearly all":     {[]float64{13, 12, 13, 14, 0}, true},
		"some":           {[]float64{13, 12, 0, 0}, false},
		"too few":        {[]float64{13, 12, 13}, false},
		"otherwise high": {[]float64{20, 22, 21, 20}, false},
	} {
		a := tables(t).New(Settings{})
		for i, k := range tc.above {
			e := Engine{Family: catalog.EngineFamily{Family: fmt.Sprint("KR", i)}, Parts: []Listed{stat("Ada", 82+k, 0), stat("Bor", 82, 0), stat("Cem", 82, 0)}}
			e.Parts[0].Part.Key = fmt.Sprint("ADA", i)
			a.Engine(e)
		}
		got := slices.ContainsFunc(a.Findings(), func(f Finding) bool { return f.Check == "column: full-open temperature" && f.Supplier == "Ada" })
		if got != tc.want {
			t.Errorf("%s: %v", name, got)
		}
	}
}

func TestTheMostCostlyComesFirst(t *testing.T) {
	bought := map[string]int{"ADA1": 3, "BOR1": 40, "CEM1": 0}
	a := tables(t).New(Settings{Bought: func(_, key string) int { return bought[key] }})
	wrong := []compat.Finding{{Check: "flange and bore", Says: "does not enter", Outcome: compat.No}}
	e := Engine{Family: catalog.EngineFamily{Family: "KR6"}, Parts: []Listed{stat("Ada", 82, 54), stat("Bor", 82, 54), stat("Cem", 82, 54)}}
	for i := range e.Parts {
		e.Parts[i].Refuted = wrong
	}
	a.Engine(e)
	a.Group(Group{Check: GroupCheck, Says: "cannot all be right", Parts: []catalog.Part{e.Parts[0].Part, e.Parts[2].Part}, Lines: []catalog.Origin{line("Ada", 9), line("Cem", 9)}})
	var got []string
	for _, f := range a.Findings() {
		got = append(got, f.Supplier)
	}
	if want := []string{"Bor", "Ada", "Ada", "Cem", "Cem"}; !slices.Equal(got, want) {
		t.Errorf("order %v, want %v", got, want)
	}
}

func TestOrderOfPartsChangesNothing(t *testing.T) {
	parts := []Listed{stat("Ada", 92, 54), stat("Bor", 82, 54), stat("Cem", 82, 54), stat("Dag", 82, 60)}
	want := found(t, Engine{Family: catalog.EngineFamily{Family: "KR6"}, Parts: slices.Clone(parts)})
	if len(want) != 2 {
		t.Fatalf("found %q", want)
	}
	rapid.Check(t, func(rt *rapid.T) {
		got := found(t, Engine{Family: catalog.EngineFamily{Family: "KR6"}, Parts: rapid.Permutation(parts).Draw(rt, "parts")})
		if !slices.Equal(got, want) {
			rt.Fatalf("found %q, want %q", got, want)
		}
	})
}

func TestAMissingLimitIsNamed(t *testing.T) {
	ref, err := data.Reference()
	if err != nil {
		t.Fatal(err)
	}
	cut := catalog.Reference{"fit_limits": ref["fit_limits"], "audit_limits": ref["audit_limits"][1:]}
	if _, err := NewTables(cut); err == nil || !strings.Contains(err.Error(), "others") {
		t.Errorf("got %v", err)
	}
}
