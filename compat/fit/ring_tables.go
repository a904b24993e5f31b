package fit

import (
	"fmt"
	"math"
	"strings"
	"sync"

	"fitfill/catalog"
	"fitfill/catalog/units"
	"fitfill/compat"
)

// Ring is an O-ring of a standard size, or of a size that somebody stated.
type Ring struct {
	Name   string // "AS568-222", "JIS B 2401 P38", "37.7x3.5"
	Series string // as568, jis-p, jis-g, iso3601, stated

	Inner, Section       units.Length
	InnerTol, SectionTol units.Length // to either side

	Note   string
	Origin []compat.Evidence
}

// size returns "37.69 ±0.38 x 3.53 ±0.10 mm" or the same in inches.
func (r Ring) size(s shower) string { return ringSizes(r, s) }

// Size returns "37.69 ±0.38 x 3.53 ±0.1 mm" in the units of a person.
func (r Ring) Size(show units.System) string { return ringSizes(r, showIn(show)) }

func ringSizes(r Ring, s shower) string {
	return fmt.Sprintf("%s ±%s x %s ±%s %s", s.number(r.Inner), s.number(r.InnerTol), s.number(r.Section), s.number(r.SectionTol), s.lengthUnit())
}

func (r Ring) innerSpan() span   { return toleranced(r.Inner, r.InnerTol) }
func (r Ring) sectionSpan() span { return toleranced(r.Section, r.SectionTol) }

func toleranced(l, tol units.Length) span {
	return around(l.Millimetres(), tol.Millimetres(), tol.Millimetres())
}

type sectionTolerance struct{ upTo, tol float64 }

type rings struct {
	read     func() (*standardRings, error) // when the first one is looked up: most questions name none
	sections []sectionTolerance
	factor   float64
	exponent float64
	constant float64
	general  []compat.Evidence // of the class B tolerances
}

// standardRings are the sizes that standards list.
type standardRings struct {
	*rings
	as568    []Ring
	byDash   map[string]int
	jis, iso []Ring
	byJIS    map[string]int
}

func newRings(ref catalog.Tables) (*rings, error) {
	r := &rings{}
	r.read = sync.OnceValues(func() (*standardRings, error) {
		l := &standardRings{rings: r, byDash: map[string]int{}, byJIS: map[string]int{}}
		for _, read := range []func(catalog.Tables) error{l.readAS568, l.readJIS, l.readISO} {
			if err := read(ref); err != nil {
				return nil, err
			}
		}
		return l, nil
	})
	return r, r.readTolerances(ref)
}

// standard returns the sizes that standards list.
func (r *rings) standard() *standardRings {
	l, err := r.read()
	if err != nil {
		panic(fmt.Sprintf("tables that were read before cannot be read: %v", err)) // see OnDemand
	}
	return l
}

func (r *standardRings) readAS568(ref catalog.Tables) error {
	rows, err := ref.Table("fit_as568")
	if err != nil {
		return err
	}
	for _, row := range rows {
		v, err := floats(row, "id_mm", "section_mm", "id_tol_mm", "section_tol_mm")
		if err != nil {
			return err
		}
		dash := row.Get("dash")
		r.byDash[dash] = len(r.as568)
		r.as568 = append(r.as568, Ring{
			Name: "AS568-" + dash, Series: "as568", Note: row.Get("note"), Origin: []compat.Evidence{compat.Cite(row)},
			Inner: units.Millimetres(v[0]), Section: units.Millimetres(v[1]),
			InnerTol: units.Millimetres(v[2]), SectionTol: units.Millimetres(v[3]),
		})
	}
	return nil
}

func (r *standardRings) readJIS(ref catalog.Tables) error {
	rows, err := ref.Table("fit_jis_b2401")
	if err != nil {
		return err
	}
	for _, row := range rows {
		ring, err := r.metric(row, "JIS B 2401 "+row.Get("designation"), "jis-"+strings.ToLower(row.Get("series")))
		if err != nil {
			return err
		}
		r.byJIS[row.Get("designation")] = len(r.jis)
		r.jis = append(r.jis, ring)
	}
	return nil
}

func (r *standardRings) readISO(ref catalog.Tables) error {
	rows, err := ref.Table("fit_iso3601_sizes")
	if err != nil {
		return err
	}
	for _, row := range rows {
		ring, err := r.metric(row, "ISO 3601-1 "+row.Get("id_mm")+"x"+row.Get("section_mm"), "iso3601")
		if err != nil {
			return err
		}
		r.iso = append(r.iso, ring)
	}
	return nil
}

func (r *rings) metric(row catalog.RefRow, name, series string) (Ring, error) {
	v, err := floats(row, "id_mm", "section_mm")
	if err != nil {
		return Ring{}, err
	}
	ring := r.general3601(units.Millimetres(v[0]), units.Millimetres(v[1]))
	ring.Name, ring.Series = name, series
	ring.Origin = cite([]compat.Evidence{compat.Cite(row)}, r.general...)
	return ring, nil
}

func (r *rings) readTolerances(ref catalog.Tables) error {
	rows, err := ref.Table("fit_iso3601_tolerance")
	if err != nil {
		return err
	}
	for _, row := range rows {
		if row.Get("kind") == "inner" {
			v, err := floats(row, "factor", "exponent", "constant_mm")
			if err != nil {
				return err
			}
			r.factor, r.exponent, r.constant = v[0], v[1], v[2]
		} else {
			v, err := floats(row, "section_upto_mm", "tol_mm")
			if err != nil {
				return err
			}
			r.sections = append(r.sections, sectionTolerance{v[0], v[1]})
		}
		r.general = cite(r.general, compat.Cite(row))
	}
	if len(r.sections) == 0 || r.factor == 0 {
		return fmt.Errorf("table fit_iso3601_tolerance needs rows of kind section and one of kind inner")
	}
	return nil
}

// general3601 gives a ring of any size the class B tolerances of ISO 3601-1:
// inner diameter ±(0.009·d^0.95 + 0.11) mm, equation A.1, rounded to 0.01 mm;
// section by the bands of the same class, the widest band beyond the last.
func (r *rings) general3601(inner, section units.Length) Ring {
	tol := r.factor*math.Pow(inner.Millimetres(), r.exponent) + r.constant
	wide := r.sections[len(r.sections)-1].tol
	for i := len(r.sections) - 1; i >= 0; i-- {
		if section.Millimetres() <= r.sections[i].upTo {
			wide = r.sections[i].tol
		}
	}
	return Ring{
		Inner: inner, Section: section, Origin: r.general,
		InnerTol: units.Millimetres(math.Round(tol*100) / 100), SectionTol: units.Millimetres(wide),
	}
}

// floats reads several numbers of a row.
func floats(row catalog.RefRow, columns ...string) ([]float64, error) {
	out := make([]float64, len(columns))
	for i, c := range columns {
		v, err := row.Float(c)
		if err != nil {
			return nil, err
		}
		out[i] = v
	}
	return out, nil
}
