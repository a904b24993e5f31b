package fit

import (
	"fmt"
	"strings"
	"testing"

	"fitfill/catalog"
	"fitfill/catalog/units"
	"fitfill/compat"
)

// own is a line of the garage's own engines sheet.
func own(field string) catalog.Origin {
	return catalog.Origin{Sheet: "engines.csv", SHA256: "e0", Line: 2, Text: field}
}

// of is a line of a supplier's sheet.
func of(supplier string, line int) catalog.Origin {
	return catalog.Origin{Sheet: strings.ToLower(supplier) + ".csv", SHA256: "sha-" + supplier, Supplier: supplier, Line: line, Text: fmt.Sprintf("%s row %d", supplier, line)}
}

func length(text string, mm float64, o catalog.Origin) catalog.Stated[units.Length] {
	return catalog.Say(units.Millimetres(mm), text, o)
}

func celsius(text string, c float64, o catalog.Origin) catalog.Stated[units.Temperature] {
	return catalog.Say(units.Celsius(c), text, o)
}

// engine is a garage's 3.4 V6 with everything measured.
func engine() catalog.EngineFamily {
	return catalog.EngineFamily{
		Family: "Corvin 3.4 V6", AlsoKnownAs: catalog.Say("CV34", "CV34", own("CV34")),
		Displacement:  catalog.Say(units.Litres(3.35), "3.4", own("3.4")),
		OpeningTemp:   celsius("82", 82, own("82")),
		WarmUpMonitor: catalog.Say(true, "yes", own("yes")),
		HousingBore:   length("54.0", 54, own("54.0")),
		SealForm:      catalog.Say("o-ring", "o-ring", own("o-ring")),
		AirBleed:      catalog.Say(true, "yes", own("yes")),
		Indexed:       catalog.Say(false, "no", own("no")),
	}
}

// stat is a thermostat that suits engine().
func stat(supplier, number string) catalog.Part {
	o := of(supplier, 10)
	return catalog.Part{
		Supplier: supplier, Number: number, Key: catalog.Key(number),
		OpeningTemp:    celsius("82", 82, o),
		FlangeDiameter: length("53.6", 53.6, o),
		AirBleed:       catalog.Say(true, "yes", o),
		Indexed:        catalog.Say(false, "no", o),
	}
}

func listing(supplier string, line int) catalog.Fitment {
	return catalog.Fitment{Engine: "3.4 V6", YearsText: "1992-2004", Years: units.ModelYears{Ranges: []units.YearRange{units.Years(1992, 2004)}}, Origin: of(supplier, line)}
}

func noted(f catalog.Fitment, note string) catalog.Fitment {
	f.Condition = note
	return f
}

func yearsOf(f catalog.Fitment, first, last int) catalog.Fitment {
	f.Years = units.ModelYears{Ranges: []units.YearRange{units.Years(first, last)}}
	f.YearsText = fmt.Sprintf("%d-%d", first, last)
	return f
}

func judgeOne(t testing.TB, q Question, c Candidate) Verdict {
	t.Helper()
	v := tables(t).Judge(q, []Candidate{c})
	if len(v) != 1 {
		t.Fatalf("%d verdicts for one candidate", len(v))
	}
	return v[0]
}

func thermostatQuestion() Question { return Question{Engine: engine(), Type: Thermostat} }

func expect(t *testing.T, v Verdict, want compat.Outcome, first string) {
	t.Helper()
	if v.Outcome != want || first != "" && v.First != first {
		t.Errorf("%s, %q; want %s, %q\n%s", v.Outcome, v.First, want, first, told(v))
	}
}

func told(v Verdict) string {
	var b strings.Builder
	for _, f := range v.Findings {
		fmt.Fprintf(&b, "  %-22s %-10s %-15s %s %s\n", f.Check, f.Outcome, f.Grade, f.Says, f.Missing)
		for _, s := range f.Steps {
			fmt.Fprintf(&b, "        %s\n", s)
		}
	}
	for _, a := range v.Ask {
		fmt.Fprintf(&b, "  ask: %s\n", a.Text)
	}
	return b.String()
}

func says(v Verdict, text string) bool {
	for _, f := range v.Findings {
		if strings.Contains(f.Says, text) {
			return true
		}
	}
	return false
}

func missing(v Verdict, fact string) bool {
	for _, f := range v.Findings {
		if f.NotChecked && f.Missing == fact {
			return true
		}
	}
	return false
}
