package fit

import (
	"fmt"
	"slices"
	"strings"
	"testing"

	"fitfill/catalog"
	"fitfill/catalog/units"
	"fitfill/compat"
)

func family(name, make, model, litres, cylinders, fuel, vin8 string, first, last int) catalog.EngineFamily {
	o := own(name)
	e := catalog.EngineFamily{
		Family: name, Make: catalog.Say(make, make, o), Model: catalog.Say(model, model, o), Fuel: catalog.Say(fuel, fuel, o),
		Years: catalog.Say(units.ModelYears{Ranges: []units.YearRange{units.Years(first, last)}}, "", o),
	}
	if litres != "" {
		e.Displacement = catalog.Say(units.Litres(decimal(litres)), litres, o)
	}
	if cylinders != "" {
		e.Cylinders = catalog.Say(catalog.CountOf(int64(decimal(cylinders))*1000), cylinders, o)
	}
	if vin8 != "" {
		e.VIN8 = catalog.Say(vin8, vin8, o)
	}
	return e
}

// garageEngines is a garage's table: two engines share the size of 3.4 litres,
// two others the VIN letter T.
func garageEngines() []catalog.EngineFamily {
	return []catalog.EngineFamily{
		family("CV34", "Corvin", "Almer, Brask", "3.35", "6", "petrol", "K", 1992, 2004),
		family("CV34D", "Corvin", "Almer", "3.38", "6", "diesel", "", 1995, 2002),
		family("CV34N", "Corvin", "Almer", "3.35", "6", "petrol", "", 2005, 2011),
		family("TK30", "Tarvo", "Sandre", "3.0", "6", "petrol", "T", 1994, 1999),
		family("TK38", "Tarvo", "Sandre", "3.8", "6", "petrol", "T", 1995, 2004),
		family("BR50", "Brenning", "Ostmark", "4.949", "8", "petrol", "", 1986, 1995),
	}
}

func resolve(t *testing.T, name string, f catalog.Fitment) (catalog.Fitment, bool) {
	all := garageEngines()
	i := slices.IndexFunc(all, func(e catalog.EngineFamily) bool { return e.Family == name })
	return tables(t).Resolve(f, &all[i], all)
}

func row4(make, model, engine, years string) catalog.Fitment {
	f := catalog.Fitment{Make: make, Model: model, Engine: engine, YearsText: years, Origin: of("Varn", 3)}
	if years != "" {
		f.Years, _ = units.ParseModelYears(years) // the tests write years that can be read
	}
	return f
}

func TestListingsAreResolvedAgainstTheGaragesEngines(t *testing.T) {
	for _, tc := range []struct {
		engine string
		f      catalog.Fitment
		want   string // "", or others, words and years
	}{
		{"CV34", row4("Corvin", "Almer", "3.4 V6 '93-02 exc. HD", ""), "others [CV34D] words [] years '93-02 vin "},
		{"CV34", row4("Corvin", "Almer", "3.4 V6 petrol '93-02", ""), "others [] words [] years '93-02 vin "},
		{"CV34", row4("Corvin", "Brask", "3.4 V6", "1993-2002"), "others [] words [] years 1993-2002 vin "},
		{"CV34", row4("CORVIN", "ALMER GT", "3,4L 6-cyl gas", ""), "others [CV34N] words [] years  vin "},
		{"CV34", row4("Corvin", "Almer", "3350 ccm V6 VIN K", ""), "others [CV34D CV34N] words [] years  vin K"},
		{"CV34", row4("Corvin", "Almer", "205 cid V6 petrol", "1999"), "others [] words [] years 1999 vin "},
		{"CV34", row4("Corvin", "Almer", "CV34 with A/C", ""), "others [] words [a c] years  vin "},
		{"CV34", row4("Other badge", "Almer", "CV34", ""), "others [] words [] years  vin "},
		{"CV34", row4("Corvin", "Almer", "3.4 V6 petrol DOHC", "1999"), "others [] words [dohc] years 1999 vin "},
		{"CV34", row4("Corvin", "Almer", "", "1993-1994"), "others [] words [] years 1993-1994 vin  model only"},
		{"CV34", row4("Corvin", "Almer 3.4 V6 petrol", "", "1993-2002"), "others [] words [] years 1993-2002 vin "},
		{"CV34", row4("Corvin", "Almer", "3.4 V6 '93-02 petrol", "1998-2009"), "others [] words [] years 1998-2009, '93-02 vin "},

		{"CV34", row4("Corvin", "Almer", "3.4 V8", ""), ""},
		{"CV34", row4("Corvin", "Almer", "3.4 V6 VIN M", ""), ""},
		{"CV34", row4("Corvin", "Almer", "3.5 V6", ""), ""},
		{"CV34", row4("Corvin", "Almer", "3.4 V6 diesel", ""), ""},
		{"CV34", row4("Corvin", "Almer", "3.4 V6 '06-11", ""), ""},
		{"CV34", row4("Corvin", "Almer", "3.4 V6", "2006-2011"), ""},
		{"CV34", row4("Corvin", "Almer", "CV34D", ""), ""},
		{"CV34", row4("Corvin", "Almer", "3.4 V6 CX99", ""), ""},
		{"CV34", row4("Tarvo", "Almer", "3.4 V6", ""), ""},
		{"CV34", row4("Corvin", "Ostmark", "3.4 V6", ""), ""},
		{"CV34", row4("", "Almer", "3.4 V6", ""), ""},
		{"CV34", row4("Corvin", "", "", ""), ""},
		{"CV34", row4("Corvin", "Almer", "exc. 3.4 V6", ""), "others [CV34D CV34N] words [] years  vin  model only"},

		{"TK30", row4("Tarvo", "Sandre", "VIN T", ""), "others [TK38] words [] years  vin T"},
		{"TK30", row4("Tarvo", "Sandre", "3.0 V6 VIN T", ""), "others [] words [] years  vin T"},

		// 302 cubic inches are 4949 cubic centimetres, sold as 5.0; 305 are 4998
		// and another engine, though the badge is the same (common practice).
		{"BR50", row4("Brenning", "Ostmark", "302 cu in V8", ""), "others [] words [] years  vin "},
		{"BR50", row4("Brenning", "Ostmark", "4949 cc V8", ""), "others [] words [] years  vin "},
		{"BR50", row4("Brenning", "Ostmark", "305 cu in V8", ""), ""},
	} {
		got, ok := resolve(t, tc.engine, tc.f)
		text := ""
		if ok {
			var others []string
			for _, o := range got.Resolved.Others {
				others = append(others, o.Family)
			}
			text = fmt.Sprintf("others %v words %v years %s vin %s", others, got.Resolved.Words, got.YearsText, got.VIN8)
			if got.Resolved.NoEngine {
				text += " model only"
			}
		}
		if text != tc.want {
			t.Errorf("%s, %q of %s %s %s:\n got %q\nwant %q", tc.engine, tc.f.Engine, tc.f.Make, tc.f.Model, tc.f.YearsText, text, tc.want)
		}
	}
}

// What a described engine leaves open is asked; what it settles is a list like
// any other.
func TestAResolvedListingIsJudged(t *testing.T) {
	for _, tc := range []struct {
		engine string
		f      catalog.Fitment
		ask    func(*Question)
		want   compat.Outcome
		asks   string
	}{
		{"CV34", row4("Corvin", "Brask", "3.4 V6 '92-04", ""), nil, compat.Yes, ""},
		{"CV34", row4("Corvin", "Brask", "3.4 V6 '92-04 exc. HD", ""), nil, compat.Caution, "hd"},
		{"CV34", row4("Corvin", "Brask", "3.4 V6 '92-04 exc. HD", ""), func(q *Question) { q.With = []string{"HD"} }, compat.No, ""},
		{"CV34", row4("Corvin", "Brask", "3.4 V6 '92-04 exc. HD", ""), func(q *Question) { q.Without = []string{"HD"} }, compat.Yes, ""},
		{"CV34", row4("Corvin", "Brask", "3.4 V6 '96-02", ""), nil, compat.Caution, FlagYear},
		{"CV34", row4("Corvin", "Almer", "3.4 V6 petrol", "1992-2011"), nil, compat.Caution, FlagYear},
		{"CV34", row4("Corvin", "Almer", "3.4 V6 petrol", ""), func(q *Question) { q.Year = 1999 }, compat.Yes, ""},
		{"CV34", row4("Corvin", "Almer", "3.4 V6", ""), func(q *Question) { q.Year = 1999 }, compat.Caution, "CV34D"},
		{"CV34", row4("Corvin", "Brask", "", "1992-2004"), nil, compat.Caution, "names the model"},
		{"TK30", row4("Tarvo", "Sandre", "VIN T", "1994-1999"), nil, compat.Caution, "TK38"},
	} {
		f, ok := resolve(t, tc.engine, tc.f)
		if !ok {
			t.Errorf("%q is not for %s", tc.f.Engine, tc.engine)
			continue
		}
		all := garageEngines()
		q := Question{Type: Thermostat, Engine: all[slices.IndexFunc(all, func(e catalog.EngineFamily) bool { return e.Family == tc.engine })]}
		if tc.ask != nil {
			tc.ask(&q)
		}
		v := judgeOne(t, q, Candidate{Part: new(stat("Varn", "TX-1")), Listings: []catalog.Fitment{f}})
		asked := fmt.Sprint(v.Ask)
		if v.Outcome != tc.want || !strings.Contains(strings.ToLower(asked), strings.ToLower(tc.asks)) {
			t.Errorf("%q for %s: %s, %q, asks %s; want %s, asks %q\n%s", tc.f.Engine, tc.engine, v.Outcome, v.First, asked, tc.want, tc.asks, told(v))
		}
	}
}

func TestWordsThatMeanSeveralEngines(t *testing.T) {
	for text, want := range map[string]string{
		"3.0 V6": "[TK30]", "3.8": "[TK38]", "VIN T": "[TK30 TK38]", "3.0 V6 VIN T": "[TK30]", "Tarvo 3.8 V6": "[TK38]",
		"Corvin 3.4 V6": "[CV34 CV34D CV34N]", "3.4 diesel": "[CV34D]", "CV34": "[CV34]", "2.9 V6": "[]", "Tarvo 3.4": "[]",
	} {
		var got []string
		for _, e := range tables(t).Describe(text, garageEngines()) {
			got = append(got, e.Family)
		}
		if fmt.Sprint(got) != want {
			t.Errorf("%q means %v, want %s", text, got, want)
		}
	}
}

// 232 cubic inches are 3801.8 cubic centimetres (1 in³ = 16.387064 cm³, NIST SP
// 811 appendix B.8): 3.8 L, 3,8, 232 cu in and 3802 cc are one size. 345 and
// 350 in³ are 5654 and 5735 cc, both badged 5.7: no size tells them apart
// (common practice), and none of them is 302 in³, 4949 cc.
func TestOneEngineSize(t *testing.T) {
	size := func(text string) units.Volume {
		t.Helper()
		e := tables(t).engineText(text)
		if len(e.sizes) != 1 {
			t.Fatalf("%q: %d sizes", text, len(e.sizes))
		}
		return e.sizes[0]
	}
	for _, text := range []string{"3,8", "232 cu in", "3802 cc", "3.8L V6", "232 CID"} {
		if !tables(t).SameSize(size("3.8 L"), size(text)) {
			t.Errorf("%s is not 3.8 L", text)
		}
	}
	if badge(size("345 ci")) != badge(size("350 ci")) {
		t.Error("345 and 350 cubic inches have different badges")
	}
	if tables(t).SameSize(size("302 ci"), size("345 ci")) || tables(t).SameSize(size("345 ci"), size("350 ci")) {
		t.Error("engines 80 cubic centimetres apart are one")
	}
}
