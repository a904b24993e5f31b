package main

import (
	"fmt"
	"strconv"
)

// supplierSheet writes one supplier's sheet, with what is true of it.
type supplierSheet struct {
	*world
	o        *options
	supplier int
	shape    *shape
	file     string
	r        *pcg
	out      *cells
	truth    *cells // shared by all sheets
	errors   *cells
	planted  int
	prefix   []byte // the cells of the part
}

// write writes every row: parts first to last, each with as many applications
// as the sizes ask for.
func (s *supplierSheet) write() error {
	if err := s.out.all(s.shape.headings...); err != nil {
		return err
	}
	part := newCells(nil, s.shape.sep, s.shape.quoted)
	for i := range s.o.partsOf(s.supplier) {
		p := newDesign(s.world, s.o.seed, i)
		part.row, part.some = part.row[:0], false
		s.partCells(part, s.shape, &p)
		s.prefix = append(s.prefix[:0], part.row...)
		if err := s.part(i, &p); err != nil {
			return err
		}
	}
	return s.out.out.Flush()
}

// part writes the rows of one part, and a line of truth for each family that it
// is listed for, rightly or wrongly.
func (s *supplierSheet) part(i int, p *design) error {
	num, fams := number(s.supplier, i), s.members[p.kind][p.class]
	start := s.r.below(len(fams))
	for k := range s.o.fitmentsOf(s.o.part(s.supplier, i)) {
		if k < len(fams) {
			if err := s.say(num, s.families[fams[(start+k)%len(fams)]].name, "yes", "class"); err != nil {
				return err
			}
		}
		a := application{family: &s.families[fams[(start+k)%len(fams)]], round: k / len(fams)}
		a.from, a.to = a.family.from, a.family.to
		cross := k == 0 && i%3 == 0 && s.o.suppliers > 1
		if s.r.chance(s.o.errors) {
			if err := s.wrong(i, p, num, a); err != nil {
				return err
			}
			continue
		}
		if a.round >= len(a.family.models) {
			a.from += (a.round / len(a.family.models)) % (a.to - a.from + 1)
			a.to = a.from
		}
		if err := s.row(num, i, a, cross); err != nil {
			return err
		}
	}
	return nil
}

// application is where a row says that a part belongs.
type application struct {
	family   *family
	round    int
	from, to int
	extra    bool // a cell too many
}

// row writes one row.
func (s *supplierSheet) row(num string, i int, a application, cross bool) error {
	c := s.out
	c.text(num)
	c.raw(s.prefix)
	c.text(a.family.make)
	c.text(a.family.models[a.round%len(a.family.models)])
	if s.shape.twoYears {
		c.text(strconv.Itoa(a.from))
		c.text(strconv.Itoa(a.to))
	} else {
		c.text(strconv.Itoa(a.from) + "-" + strconv.Itoa(a.to))
	}
	c.text(a.family.name)
	other, same := "", ""
	if next := (s.supplier + 1) % s.o.suppliers; cross && i < s.o.partsOf(next) {
		other, same = supplierName(next), number(next, i)
	}
	c.text(other)
	c.text(same)
	if a.extra {
		c.text("x")
	}
	return c.end()
}

// wrong writes a row with one of the planted errors and says so.
func (s *supplierSheet) wrong(i int, p *design, num string, a application) error {
	kind, shown, detail := "", num, ""
	switch s.r.below(5) {
	case 0, 1:
		rating := p.kind == thermostat && s.r.chance(50)
		if g := s.stranger(s.r, p, rating); g >= 0 {
			a.family = &s.families[g]
			a.from, a.to = a.family.from, a.family.to
			kind, detail = s.mismatch(p, a.family)
			if err := s.say(num, a.family.name, "no", detail); err != nil {
				return err
			}
			break
		}
		fallthrough
	case 2:
		a.from, a.to = a.from+20, a.to+20
		if a.to > 2050 {
			a.from, a.to = a.from-45, a.to-45
		}
		kind, detail = "years", fmt.Sprintf("true %d-%d", a.family.from, a.family.to)
	case 3:
		a.extra, kind, detail = true, "mangled", "a cell too many"
	default:
		shown = fmt.Sprintf("%d.%02dE+11", 1+i%9, i%100)
		kind, detail = "mangled", "a spreadsheet's number"
	}
	if err := s.row(shown, i, a, false); err != nil {
		return err
	}
	s.planted++
	return s.errors.all(s.file, strconv.Itoa(s.out.line), kind, supplierName(s.supplier), num, a.family.name, detail)
}

// mismatch says why a part does not fit a family.
func (s *supplierSheet) mismatch(p *design, f *family) (kind, detail string) {
	switch {
	case p.kind == thermostat && p.flange != f.flange:
		return "wrong-bore", fmt.Sprintf("flange %d bore %d hundredths mm", s.flanges[p.flange], s.flanges[f.flange]+s.clearance)
	case p.kind == thermostat:
		return "wrong-rating", fmt.Sprintf("opens %d engine %d °C", s.ratings[p.rating], s.ratings[f.rating])
	}
	return "wrong-application", "class"
}

func (s *supplierSheet) say(num, family, fits, why string) error {
	return s.truth.all(supplierName(s.supplier), num, family, fits, why)
}
