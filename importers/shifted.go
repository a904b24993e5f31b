package importers

import (
	"fmt"
	"strings"
)

// A cell that is missing in the middle of a row moves the cells behind it under
// the heading before their own. Where an empty cell fills the row up again, its
// number of cells is right and its values may still be readable. Such a row shows
// by the looks of its cells: they are not those of their own columns, but those
// of the columns beside them.

// shift is a stretch of cells of a row that stand one column off.
type shift struct {
	by      int // where its cells belong: +1 one column to the right, -1 to the left
	example int // a column whose cell shows it
}

// judged is one row that is looked at.
type judged struct {
	*profile
	cells   []string
	row     []cellForm // empty or not yet known; the others are found when they are needed
	counted bool       // the row is among those that the profile was made of
}

// unseen is a filled cell whose form nobody needed yet.
const unseen = forms

func (r *judged) look(cells []string, counted bool) {
	r.cells, r.counted, r.row = cells, counted, r.row[:0]
	for j := range r.columns {
		form := unseen
		if j >= len(cells) || trim(cells[j]) == "" {
			form = formEmpty
		}
		r.row = append(r.row, form)
	}
}

func (r *judged) form(j int) cellForm {
	if r.row[j] == unseen {
		r.row[j] = formOf(trim(r.cells[j]))
	}
	return r.row[j]
}

// at returns what a form of the row says of column j.
func (r *judged) at(j int, form cellForm) signsOf {
	if !r.counted {
		return r.signs[j][form]
	}
	return r.signsFor(j, form, r.form(j), true)
}

// shift looks for a stretch of a row beside an empty cell whose cells look like
// those of the columns beside them. Two signs are needed, one of them a cell; that
// the empty cell stands in a column which is otherwise filled is one too.
func (r *judged) shift() (shift, bool) {
	for e, form := range r.row {
		if form != formEmpty {
			continue
		}
		for _, by := range []int{+1, -1} {
			if s, ok := r.stretch(e, by); ok {
				return s, true
			}
		}
	}
	return shift{}, false
}

// stretch follows the filled cells beside the empty cell e, to the left where
// they belong one to the right, and the other way round.
func (r *judged) stretch(e, by int) (shift, bool) {
	s, signs, clear, cells := shift{by: by, example: -1}, 0, 0, 0
	most := 0 // signs of a stretch of which at least every other cell is one
walk:
	for j := e - by; j >= 0 && j < len(r.row) && r.row[j] != formEmpty; j -= by {
		form := r.form(j)
		cells++
		if form == formNothing {
			continue
		}
		mine, beside := r.at(j, form), r.at(j+by, form)
		switch {
		case mine.strange && beside.usual:
			if form == formWords && r.isNothing(trim(r.cells[j])) {
				r.row[j] = formNothing
				continue
			}
			if mine.strangeKind {
				clear++
			}
			if signs++; 2*signs >= cells {
				most, s.example = signs, j
			}
		case mine.usual && beside.strange:
			break walk // the rest stands where it belongs
		}
	}
	if most > 0 && (!r.counted && r.full[e] || r.counted && r.filled(e, true)) {
		most++
	}
	need := r.voc.limits.count("shift_signs")
	if clear == 0 {
		need++ // a whole number among decimals alone says little
	}
	return s, most >= need
}

// judgeShifted holds the rows whose cells stand beside their columns, but for
// those that a person named in the setting "rows".
func (s *Sheet) judgeShifted(voc *vocabulary, settings Settings) error {
	if len(s.Header) < 3 {
		return nil
	}
	spans, _ := lineSpans(settings["rows"])
	p := s.profileOf(voc)
	s.profile = p
	return stretches(s.records.n, processors(), func(_, from, to int) {
		var cells []string
		row := judged{profile: p}
		for i := from; i < to; i++ {
			if !s.mayBeShifted(i) || !s.records.looks(i, mayHoldEmpty) || namedLine(spans, s.records.lineOf(i)) {
				continue
			}
			cells = s.Cells(i, cells)
			row.look(cells, i%p.step == 0)
			if _, ok := row.shift(); ok {
				s.records.setFault(i, ShiftedCells)
			}
		}
	})
}

func namedLine(spans [][2]int, line int) bool {
	for _, span := range spans {
		if line >= span[0] && line <= span[1] {
			return true
		}
	}
	return false
}

// holdsEmptyCell reports whether a row may have an empty cell, without cutting it.
func (s *Sheet) holdsEmptyCell(i int, line []byte) bool {
	if s.records.width(i) < len(s.Header) {
		return true
	}
	d, quote := s.Dialect.Delimiter[0], s.Dialect.Quote
	begins := true // a cell, but for blanks
	for off, b := range line {
		switch {
		case b == d:
			if begins {
				return true
			}
			begins = true
		case !begins, b == ' ', b == '\t':
		case b == quote && off+1 < len(line) && line[off+1] == quote, b >= 0x80 && mayBeBlank(b):
			return true
		default:
			begins = false
		}
	}
	return begins
}

// shiftReason says what looks wrong with a row whose cells stand off.
func (s *Sheet) shiftReason(i int) string {
	cells := s.Cells(i, nil)
	const do = "put the cells under their headings; if the row is right as it is: --set rows=%d"
	line := s.records.lineOf(i)
	if s.profile == nil {
		return fmt.Sprintf("the cells do not stand under their headings: "+do, line)
	}
	row := judged{profile: s.profile}
	row.look(cells, i%s.profile.step == 0)
	sh, ok := row.shift()
	if !ok || sh.example >= len(cells) {
		return fmt.Sprintf("the cells do not stand under their headings: "+do, line)
	}
	name := func(j int) string { return shorten(strings.Join(strings.Fields(s.columnName(j)), " "), 30) }
	return fmt.Sprintf("the cells seem to stand one column off: %q stands under %q and looks like a value of %q; "+do,
		shorten(trim(cells[sh.example]), 40), name(sh.example), name(sh.example+sh.by), line)
}
