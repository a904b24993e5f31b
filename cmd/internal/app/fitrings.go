package app

import (
	"fmt"

	"fitfill/compat/fit"
)

// RingLike is a ring of a standard that a measured one may be.
type RingLike struct {
	Ring         string  `json:"ring"`
	InnerMM      float64 `json:"inner_mm"`
	InnerTolMM   float64 `json:"inner_tolerance_mm"`
	SectionMM    float64 `json:"section_mm"`
	SectionTolMM float64 `json:"section_tolerance_mm"`
	Size         string  `json:"size"` // in the user's units
	Note         string  `json:"note,omitempty"`
}

// ringsLike returns the standard rings that the measured one may be, the
// nearest first; nil where no ring was measured.
func (s *Shop) ringsLike(m *fit.Measured) []RingLike {
	p := &m.Part
	if !p.InnerDiameter.Known || !p.Section.Known {
		return nil
	}
	list := []RingLike{}
	for _, r := range s.fit().RingsLike(p.InnerDiameter, p.Section) {
		list = append(list, RingLike{
			Ring: r.Name, InnerMM: r.Inner.Millimetres(), InnerTolMM: r.InnerTol.Millimetres(),
			SectionMM: r.Section.Millimetres(), SectionTolMM: r.SectionTol.Millimetres(), Size: r.Size(s.Settings.Units), Note: r.Note,
		})
	}
	return list
}

// ringOnly answers what a measured ring may be, without an engine.
func (s *Shop) ringOnly(a FitAnswer, ask *asked) (FitAnswer, error) {
	if a.Rings = s.ringsLike(&ask.measured); a.Rings == nil {
		return a, &UsageError{Problem: "which engine?", Hint: `usage: fitfill fit ENGINE; or a ring alone: fitfill fit --measured "ring 37.7 x 3.5 mm"`}
	}
	a.Type = fit.Seal
	if len(a.Rings) == 0 {
		a.Hint = fmt.Sprintf("no ring of AS568, JIS B 2401 or ISO 3601-1 has that size: measure the section across its unflattened side, the inside without stretching it (measured: %s)", ask.Measured[0])
	}
	return a, nil
}
