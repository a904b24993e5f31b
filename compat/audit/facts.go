package audit

import (
	"math"

	"fitfill/catalog"
	"fitfill/catalog/units"
)

// fact is one thing that parts of one type for one engine have in common, where
// they are right.
type fact struct {
	name string
	of   func(*Listed) (value, bool)
	far  func(*settings) float64 // values further apart than this contradict each other
}

// value is a fact of one part: a number, or a word where text is set.
type value struct {
	number float64
	text   string
	shown  func(*settings) string
	origin catalog.Origin
}

// apart reports whether two values contradict each other.
func (f *fact) apart(s *settings, a, b value) bool {
	if a.text != "" || b.text != "" {
		return catalog.Fold(a.text) != catalog.Fold(b.text)
	}
	return math.Abs(a.number-b.number) > f.far(s)
}

// facts are compared by part type; every type has the rest of its own facts
// unstated, so that one list does for all. The size of a flange may differ by
// half a millimetre and be one part (limit poison_flange); other lengths are
// taken as far apart as that, too.
var facts = []fact{
	{"opening temperature", func(l *Listed) (value, bool) { return temperature(l.Opens) }, func(s *settings) float64 { return s.ratingApart }},
	length("flange", func(p *catalog.Part) catalog.Stated[units.Length] { return p.FlangeDiameter }),
	length("ring inside", func(p *catalog.Part) catalog.Stated[units.Length] { return p.InnerDiameter }),
	length("ring section", func(p *catalog.Part) catalog.Stated[units.Length] { return p.Section }),
	length("hose bore", func(p *catalog.Part) catalog.Stated[units.Length] { return p.HoseBore }),
	{"cap rating", func(l *Listed) (value, bool) {
		p := l.Part.CapPressure
		return value{number: p.Value.Kilopascals(), origin: p.Origin, shown: func(s *settings) string { return s.Show.FormatPressure(p.Value) }}, p.Known
	}, func(s *settings) float64 { return s.pressureApart }},
	word("form of the cap", func(p *catalog.Part) catalog.Stated[string] { return p.CapForm }),
	word("kind of seal", func(p *catalog.Part) catalog.Stated[string] { return p.SealForm }),
	word("chemistry", func(p *catalog.Part) catalog.Stated[string] { return p.Chemistry }),
	word("charge of the filter", func(p *catalog.Part) catalog.Stated[string] { return p.FilterCharge }),
}

func temperature(t catalog.Stated[units.Temperature]) (value, bool) {
	return value{number: t.Value.Celsius(), origin: t.Origin, shown: func(s *settings) string { return s.Show.FormatTemperature(t.Value) }}, t.Known
}

func length(name string, of func(*catalog.Part) catalog.Stated[units.Length]) fact {
	return fact{name, func(l *Listed) (value, bool) {
		v := of(&l.Part)
		return value{number: v.Value.Millimetres(), origin: v.Origin, shown: func(s *settings) string { return s.Show.FormatLength(v.Value) }}, v.Known
	}, func(s *settings) float64 { return s.flangeApart }}
}

func word(name string, of func(*catalog.Part) catalog.Stated[string]) fact {
	return fact{name, func(l *Listed) (value, bool) {
		v := of(&l.Part)
		return value{text: v.Value, origin: v.Origin, shown: func(*settings) string { return v.Value }}, v.Known && v.Value != ""
	}, func(*settings) float64 { return 0 }}
}
