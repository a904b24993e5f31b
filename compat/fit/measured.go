package fit

import (
	"fmt"
	"slices"
	"strings"

	"fitfill/catalog"
	"fitfill/catalog/units"
)

// Measured is what somebody measured, or read off a part: sizes of the engine,
// of the part in hand or the old one, and of its bolts. What was not measured
// is not known.
type Measured struct {
	Engine catalog.EngineFamily
	Part   catalog.Part
	Socket catalog.Stated[units.Length] // across the flats of a bolt head
	Bath   Bath
	Thread catalog.Stated[units.Length] // how much of a bolt's thread holds
}

var engineSizes = map[string]func(*catalog.EngineFamily) *catalog.Stated[units.Length]{
	"bore":           func(e *catalog.EngineFamily) *catalog.Stated[units.Length] { return &e.HousingBore },
	"seat":           func(e *catalog.EngineFamily) *catalog.Stated[units.Length] { return &e.SeatDepth },
	"groove depth":   func(e *catalog.EngineFamily) *catalog.Stated[units.Length] { return &e.GrooveDepth },
	"groove width":   func(e *catalog.EngineFamily) *catalog.Stated[units.Length] { return &e.GrooveWidth },
	"groove outside": func(e *catalog.EngineFamily) *catalog.Stated[units.Length] { return &e.GrooveOuterDiameter },
	"plug groove":    func(e *catalog.EngineFamily) *catalog.Stated[units.Length] { return &e.PlugGroove },
	"plug":           func(e *catalog.EngineFamily) *catalog.Stated[units.Length] { return &e.PlugDiameter },
	"plug bore":      func(e *catalog.EngineFamily) *catalog.Stated[units.Length] { return &e.PlugBore },
	"hose":           func(e *catalog.EngineFamily) *catalog.Stated[units.Length] { return &e.HoseOutside },
}

var partSizes = map[string]func(*catalog.Part) *catalog.Stated[units.Length]{
	"flange":           func(p *catalog.Part) *catalog.Stated[units.Length] { return &p.FlangeDiameter },
	"flange thickness": func(p *catalog.Part) *catalog.Stated[units.Length] { return &p.FlangeThickness },
	"ring section":     func(p *catalog.Part) *catalog.Stated[units.Length] { return &p.Section },
	"ring inside":      func(p *catalog.Part) *catalog.Stated[units.Length] { return &p.InnerDiameter },
	"ring height":      func(p *catalog.Part) *catalog.Stated[units.Length] { return &p.Thickness },
}

const (
	ringName   = "ring"
	stampName  = "stamp"
	opensName  = "opens"
	liftName   = "lift"
	capName    = "cap"
	socketName = "socket"
	threadName = "thread depth"
)

// otherwise are other words for what is measured.
var otherwise = map[string]string{
	"opens at": opensName, "opened": opensName, "opened at": opensName, "stamped": stampName, "stamp is": stampName, "lifts": liftName, "lifted": liftName,
	"housing": "bore", "housing bore": "bore", "flange diameter": "flange", "seat depth": "seat", "section": "ring section",
}

// MeasuredNames returns what Measure takes, in the order of the alphabet.
func MeasuredNames() []string {
	names := []string{ringName, stampName, opensName, liftName, capName, socketName, threadName}
	for n := range engineSizes {
		names = append(names, n)
	}
	for n := range partSizes {
		names = append(names, n)
	}
	slices.Sort(names)
	return names
}

// Measure reads "flange 53.9 mm", "bore 54.8", "stamp 82 C", "cap 108", "socket
// 10 mm" into m; what was read before stays. A size without a unit is in the
// unit of length given, a cap's bare figure is read by its range. The error says
// what is wrong and what can be measured.
func (t *Tables) Measure(m *Measured, text string, length units.Unit, o catalog.Origin) error {
	text = strings.TrimSpace(text)
	at := strings.IndexAny(text, "0123456789.,Ø½¼¾⅛⅜⅝⅞")
	if at <= 0 {
		return fmt.Errorf("%q is no measurement: write what and how much, such as \"flange 53.9 mm\"; it can be %s", text, strings.Join(MeasuredNames(), ", "))
	}
	name, size := catalog.Fold(text[:at]), text[at:]
	if said, ok := otherwise[name]; ok {
		name = said
	}
	switch name {
	case ringName:
		return m.ring(size, length, o)
	case stampName:
		v, err := units.ParseTemperature(size, "")
		m.Part.OpeningTemp = catalog.Say(v, size, o)
		return err
	case opensName:
		v, err := units.ParseTemperature(size, "")
		m.Bath.Opens = catalog.Say(v, size, o)
		return err
	case capName:
		v, err := t.CapStamp(size)
		m.Part.CapPressure = catalog.Say(v, size, o)
		return err
	}
	var slot *catalog.Stated[units.Length]
	switch of, ok := engineSizes[name]; {
	case ok:
		slot = of(&m.Engine)
	case partSizes[name] != nil:
		slot = partSizes[name](&m.Part)
	case name == liftName:
		slot = &m.Bath.Lift
	case name == threadName:
		slot = &m.Thread
	case name == socketName:
		slot = &m.Socket
	default:
		return fmt.Errorf("%q cannot be measured here: it can be %s", name, strings.Join(MeasuredNames(), ", "))
	}
	v, err := units.ParseLength(size, length)
	if err != nil {
		return err
	}
	*slot = catalog.Say(v, size, o)
	return nil
}

// ring reads "37.7 x 3.5 mm" into inner diameter and section, in whichever
// order they stand: the section is the smaller one.
func (m *Measured) ring(text string, length units.Unit, o catalog.Origin) error {
	a, b, ok := strings.Cut(strings.NewReplacer("×", "x", "X", "x", "*", "x").Replace(text), "x")
	if !ok {
		return fmt.Errorf("%q is no ring: write inner diameter x section, such as \"ring 37.7 x 3.5 mm\"", text)
	}
	second, err := units.ParseLength(strings.TrimSpace(b), length)
	if err != nil {
		return err
	}
	if unit := strings.TrimLeft(b, "0123456789., "); !strings.ContainsAny(a, "m\"i") && strings.TrimSpace(unit) != "" {
		a += unit // one unit behind both
	}
	first, err := units.ParseLength(strings.TrimSpace(a), length)
	if err != nil {
		return err
	}
	if first.Compare(second) < 0 {
		first, second, a, b = second, first, b, a
	}
	m.Part.InnerDiameter, m.Part.Section = catalog.Say(first, strings.TrimSpace(a), o), catalog.Say(second, strings.TrimSpace(b), o)
	return nil
}

// Plausible reports whether the bore and the flange measured are sizes that
// housings of thermostats have (limits housing_least and housing_most).
func (t *Tables) Plausible(m *Measured) bool {
	for _, s := range []catalog.Stated[units.Length]{m.Engine.HousingBore, m.Part.FlangeDiameter} {
		if mm := s.Value.Millimetres(); s.Known && (mm < t.limits.of(housingLeast) || mm > t.limits.of(housingMost)) {
			return false
		}
	}
	return true
}

// Into puts the engine's measured sizes into its family: they come before what
// was on file.
func (m *Measured) Into(e *catalog.EngineFamily) {
	for _, of := range engineSizes {
		if s := of(&m.Engine); s.Known {
			*of(e) = *s
		}
	}
}

// InHand says that the measured part is this candidate: what was measured on it
// comes before what sheets print. The part as the sheets print it stays as it is:
// others may be looking at it.
func (c *Candidate) InHand(m *Measured) {
	part := *c.Part
	c.Part = &part
	c.OtherSizes = append(slices.Clone(c.OtherSizes), &catalog.Part{Number: c.Part.Number, FlangeDiameter: m.Part.FlangeDiameter, OpeningTemp: m.Part.OpeningTemp})
	for name, of := range partSizes {
		if s := of(&m.Part); s.Known && name != "flange" {
			*of(c.Part) = *s
		}
	}
	if m.Part.CapPressure.Known {
		c.Part.CapPressure = m.Part.CapPressure
	}
	if m.Part.Section.Known || m.Part.InnerDiameter.Known {
		c.Part.ORingSize = catalog.Stated[string]{}
	}
}

// inHand reports whether a fact of a part was measured by the garage: every
// other one stands in some supplier's sheet.
func inHand(o catalog.Origin) bool { return o.Supplier == "" && o != catalog.Origin{} }

// firmly reports whether a length of the part was measured by the garage, or
// is printed alike by two independent sheets.
func (t trial) firmly(of func(*catalog.Part) catalog.Stated[units.Length]) bool {
	mine := of(t.c.Part)
	if inHand(mine.Origin) {
		return true
	}
	return t.twice(func(p *catalog.Part) (catalog.Origin, bool) {
		s := of(p)
		return s.Origin, s.Known && t.printed(s).span().overlaps(t.printed(mine).span())
	})
}

// ringFirmly reports the same of the size of its ring.
func (t trial) ringFirmly(ring Ring, rests []catalog.Origin) bool {
	if slices.ContainsFunc(rests, inHand) {
		return true
	}
	return t.twice(func(p *catalog.Part) (catalog.Origin, bool) {
		r, from, missing, _ := t.ringOf(p)
		if missing != "" {
			return catalog.Origin{}, false
		}
		return from[0], r.sectionSpan().overlaps(ring.sectionSpan()) && r.innerSpan().overlaps(ring.innerSpan())
	})
}

// twice reports whether two independent sheets print a size of the part alike;
// alike returns where one of them does.
func (t trial) twice(alike func(*catalog.Part) (catalog.Origin, bool)) bool {
	var all []statement
	for _, p := range t.sheets() {
		if o, ok := alike(p); ok {
			all = append(all, t.said(o, p.Supplier))
		}
	}
	return independent(all...) > 1
}
