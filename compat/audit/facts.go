package audit

import (
	"math"

	"fitfill/catalog"
	"fitfill/catalog/units"
)

// fact is one thing that parts of one type for one engine have in common, where
// they are right. own is what the garage's own sheet states of it; judged says
// that sizes of the engine judge it already.
type fact struct {
	name   string
	of     func(*Listed) (value, bool)
	far    func(*settings) float64 // values further apart than this contradict each other
	own    func(*catalog.EngineFamily) (value, bool)
	judged func(*catalog.EngineFamily) bool
	checks []string // of a fit, that judge it
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

type engine = catalog.EngineFamily

// facts are compared by part type; every type has the rest of its own facts
// unstated, so that one list does for all. The size of a flange may differ by
// half a millimetre and be one part (limit poison_flange); other lengths are
// taken as far apart as that, too.
var facts = []fact{
	{
		name: "opening temperature", far: func(s *settings) float64 { return s.ratingApart },
		of:  func(l *Listed) (value, bool) { return temperature(l.Opens) },
		own: func(e *engine) (value, bool) { return temperature(e.OpeningTemp) },
	},
	{
		name: "flange", far: byLength, judged: func(e *engine) bool { return e.HousingBore.Known }, checks: []string{"flange and bore"},
		of: func(l *Listed) (value, bool) { return length(l.Part.FlangeDiameter) },
	},
	{
		name: "ring inside", far: byLength, judged: func(e *engine) bool { return e.GrooveOuterDiameter.Known }, checks: ringChecks,
		of:  func(l *Listed) (value, bool) { return length(l.Part.InnerDiameter) },
		own: func(e *engine) (value, bool) { return length(e.SealInnerDiameter) },
	},
	{
		name: "ring section", far: byLength, judged: func(e *engine) bool { return e.GrooveDepth.Known }, checks: ringChecks,
		of:  func(l *Listed) (value, bool) { return length(l.Part.Section) },
		own: func(e *engine) (value, bool) { return length(e.SealSection) },
	},
	{name: "hose bore", far: byLength, of: func(l *Listed) (value, bool) { return length(l.Part.HoseBore) }},
	{
		name: "cap rating", far: func(s *settings) float64 { return s.pressureApart },
		of:  func(l *Listed) (value, bool) { return pressure(l.Part.CapPressure) },
		own: func(e *engine) (value, bool) { return pressure(e.CapPressure) },
	},
	{
		name: "form of the cap",
		of:   func(l *Listed) (value, bool) { return word(l.Part.CapForm) },
		own:  func(e *engine) (value, bool) { return word(e.CapForm) },
	},
	{
		name: "kind of seal", judged: func(e *engine) bool { return e.SealForm.Known },
		of: func(l *Listed) (value, bool) { return word(l.Part.SealForm) },
	},
	{
		name: "chemistry", judged: func(e *engine) bool { return e.Chemistries() != nil },
		of: func(l *Listed) (value, bool) { return word(l.Part.Chemistry) },
	},
	{name: "charge of the filter", of: func(l *Listed) (value, bool) { return word(l.Part.FilterCharge) }},
}

// ringChecks are the checks of a fit that judge a ring in its groove.
var ringChecks = []string{"O-ring in its groove", "ring size"}

func byLength(s *settings) float64 { return s.flangeApart }

func temperature(t catalog.Stated[units.Temperature]) (value, bool) {
	return value{number: t.Value.Celsius(), origin: t.Origin, shown: func(s *settings) string { return s.Show.FormatTemperature(t.Value) }}, t.Known
}

func length(v catalog.Stated[units.Length]) (value, bool) {
	return value{number: v.Value.Millimetres(), origin: v.Origin, shown: func(s *settings) string { return s.Show.FormatLength(v.Value) }}, v.Known
}

func pressure(p catalog.Stated[units.Pressure]) (value, bool) {
	return value{number: p.Value.Kilopascals(), origin: p.Origin, shown: func(s *settings) string { return s.Show.FormatPressure(p.Value) }}, p.Known
}

func word(v catalog.Stated[string]) (value, bool) {
	return value{text: v.Value, origin: v.Origin, shown: func(*settings) string { return v.Value }}, v.Known && v.Value != ""
}
