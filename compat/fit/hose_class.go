package fit

import (
	"fmt"
	"strings"

	"fitfill/catalog"
	"fitfill/catalog/pattern"
	"fitfill/catalog/units"
	"fitfill/compat"
)

// Hose is judged by the lists; a class that its text names says what it stands.
const Hose = "hose"

// hoseClass is one class of SAE J20.
type hoseClass struct {
	name, rubber string
	low, high    units.Temperature
	origin       compat.Evidence
}

func newHoseClasses(ref catalog.Tables) (out []hoseClass, err error) {
	rows, err := ref.Table("fit_hose_classes")
	if err != nil {
		return nil, err
	}
	for _, row := range rows {
		v, err := floats(row, "min_c", "max_c")
		if err != nil {
			return nil, err
		}
		out = append(out, hoseClass{row.Get("class"), row.Get("rubber"), units.Celsius(v[0]), units.Celsius(v[1]), compat.Cite(row)})
	}
	return out, nil
}

var hoseText = pattern.New(`(?i)\b(?:20R[1-5]|J20R?[1-5]?)\s*(?:-|,|/|\s)?\s*(?:class\s*)?(D-?[123]|[ABCE])\b`)

// HoseClass returns the class of SAE J20 that a text names: "SAE J20R4 D-3",
// "20R4 class D-1". It says what the class is made of and stands.
func (t *Tables) HoseClass(text string) (name, rubber string, low, high units.Temperature, ok bool) {
	m := hoseText.FindStringSubmatch(text)
	if m == nil {
		return
	}
	want := strings.ToUpper(strings.Replace(m[1], "-", "", 1))
	for _, c := range t.hoses {
		if strings.Replace(c.name, "-", "", 1) == want {
			return c.name, c.rubber, c.low, c.high, true
		}
	}
	return
}

// hose reads the class of a hose against the coolant of the engine.
func (t trial) hose() []result {
	for _, s := range []catalog.Stated[string]{t.c.Part.Material, t.c.Part.Description, t.c.Part.Notes} {
		name, rubber, low, high, ok := t.HoseClass(s.Value)
		if !ok {
			continue
		}
		at := t.sealTemperature()
		r := result{Finding: compat.Finding{
			Check: "hose class", Outcome: compat.Yes, Grade: compat.Standard, Origin: cite(from(s.Origin), t.hoses[0].origin),
			Says: fmt.Sprintf("SAE J20 class %s, %s: %s to %s.", name, rubber, t.show.temperature(low), t.show.temperature(high)),
		}}
		if at.Compare(high) > 0 {
			r.role, r.Outcome, r.short = doubt, compat.Caution, "hose class too weak for its heat"
			r.Says += fmt.Sprintf(" The coolant gets to %s: short life.", t.show.temperature(at))
			r.ask = "Is there one of a class that stands more heat?"
		}
		return []result{r}
	}
	return nil
}
