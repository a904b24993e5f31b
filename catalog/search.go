package catalog

import (
	"strconv"

	"fitfill/catalog/units"
)

// SearchDoc is what the search index holds of one part.
type SearchDoc struct {
	ID          int64
	Supplier    string
	Number      string
	Key         string
	Type        string
	Description string
	Makes       []string // makes and models
	Engines     []string
	Words       []string // brand, notes, materials, colours
	Sizes       []string // terms of SizeTerms
}

// sizeStep is the width of one term of a size, by the kind of its field, in the
// whole numbers in which the unit types keep it: 0.05 mm, 0.25 K, 0.5 kPa,
// 0.01 L.
var sizeStep = map[Kind]struct {
	letter string
	step   int64
}{
	KindLength: {"l", 50_000}, KindTemperature: {"t", 250}, KindPressure: {"p", 500_000}, KindVolume: {"v", 10_000_000},
}

const (
	clampLetter = "c"
	clampStep   = 1_000_000 // 1 mm
	mostTerms   = 400
)

// SizeTerm returns the search term of a stated size: what a part of that size
// is found by. Fields that hold no size have none. The full-open temperature is
// left out: a rating is where a thermostat begins to open.
func SizeTerm(f Field, value int64) string {
	s, ok := sizeStep[f.Kind]
	if !ok || value <= 0 || f.Name == "full_open_temp" || f.Name == "clamp_min" || f.Name == "clamp_max" {
		return ""
	}
	return s.letter + strconv.FormatInt((value+s.step/2)/s.step, 10)
}

// SizeTerms returns the terms of all sizes of a kind from low to high.
func SizeTerms(kind Kind, low, high int64) []string {
	s, ok := sizeStep[kind]
	if !ok {
		return nil
	}
	return terms(s.letter, max(low, 0), high, s.step)
}

// ClampTerms returns the terms of the outside diameters that a clamp goes over.
func ClampTerms(low, high int64) []string { return terms(clampLetter, low, high, clampStep) }

func terms(letter string, low, high, step int64) []string {
	var list []string
	for i := (low + step/2) / step; i <= (high+step/2)/step && len(list) < mostTerms; i++ {
		list = append(list, letter+strconv.FormatInt(i, 10))
	}
	return list
}

// SizeTerms returns the search terms of the part's sizes.
func (p *Part) SizeTerms() []string {
	var list []string
	for _, e := range partSlots {
		var value int64
		switch s := e.slot(p).(type) {
		case *Stated[units.Temperature]:
			value = s.Value.MilliCelsius()
		case *Stated[units.Length]:
			value = s.Value.Nanometres()
		case *Stated[units.Volume]:
			value = s.Value.Nanolitres()
		case *Stated[units.Pressure]:
			value = s.Value.Millipascals()
		default:
			continue
		}
		if t := SizeTerm(Field{e.name, kindOf(e.name, e.slot(p))}, value); t != "" {
			list = append(list, t)
		}
	}
	return list
}
