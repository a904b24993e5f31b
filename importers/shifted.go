package importers

import (
	"bytes"
	"fmt"
	"runtime"
	"strings"
)

// A cell that is missing in the middle of a row moves the cells behind it under
// the heading before their own. Where an empty cell fills the row up again, its
// number of cells is right and its values may still be readable. Such a row shows
// by the looks of its cells: they are not those of their own columns, but those
// of the columns beside them.

// cellForm is what one cell looks like.
type cellForm uint8

const (
	formEmpty   cellForm = iota
	formNothing          // "n/a", "on request": stands in any column
	formWhole
	formDecimal
	formLong // eight digits or more, as in barcodes
	formDate
	formMeasure // a number with a unit or currency
	formCode
	formWords
	forms
)

// maxProfiled is how many rows tell what the columns of a sheet look like.
const maxProfiled = 2000

// profile is what the columns of a sheet look like.
type profile struct {
	voc     *vocabulary
	columns [][forms]int
	rows    int
	step    int // every step-th row was looked at
}

// profileOf looks at the rows of a sheet whose shape is right.
func (s *Sheet) profileOf(voc *vocabulary) *profile {
	p := &profile{voc: voc, columns: make([][forms]int, len(s.Header)), step: 1 + len(s.Records)/maxProfiled}
	var cells []string
	for i := 0; i < len(s.Records); i += p.step {
		if !s.mayBeShifted(i) {
			continue
		}
		p.rows++
		cells = s.Cells(i, cells)
		for j := range p.columns {
			p.columns[j][p.form(cells, j)]++
		}
	}
	return p
}

func (s *Sheet) mayBeShifted(i int) bool {
	r := &s.Records[i]
	return r.Class == ClassData && r.Fault == NoFault
}

// form says what a cell looks like; a cell that is not there is empty.
func (p *profile) form(cells []string, j int) cellForm {
	if j >= len(cells) {
		return formEmpty
	}
	cell := trim(cells[j])
	if cell == "" {
		return formEmpty
	}
	if len(cell) <= maxWord && !hasDigit(cell) && p.voc.words["null"][wordKey(cell)] != nil {
		return formNothing
	}
	return formOf(cell)
}

func formOf(cell string) cellForm {
	var digits, letters, blanks, points, others int
	for i := range len(cell) {
		switch b := cell[i]; {
		case b >= '0' && b <= '9':
			digits++
		case b == ' ':
			blanks++
		case b == '.' || b == ',':
			points++
		case b >= 'A' && b <= 'Z', b >= 'a' && b <= 'z', b >= 0x80:
			letters++
		default:
			others++
		}
	}
	switch {
	case digits == 0:
		return formWords
	case digits == len(cell) && digits < 8:
		return formWhole
	case digits == len(cell):
		return formLong
	case letters == 0 && others == 0 && points > 0 && fullDatePoints.MatchString(cell), letters == 0 && fullDate.MatchString(cell):
		return formDate
	case letters == 0 && points > 0 && others <= 1 && (digitAt(cell, 0) || digitAt(cell, 1)):
		return formDecimal
	case digitAt(cell, 0) && blanks <= 2 && measureLike.MatchString(cell):
		return formMeasure
	case blanks == 0:
		return formCode
	}
	return formWords
}

// share returns how many of the filled cells of a column have a form, without
// the row that is looked at where it was counted itself; known is false where
// there are too few to say.
func (p *profile) share(j int, form, own cellForm, counted bool) (of float64, known bool) {
	if j < 0 || j >= len(p.columns) {
		return 0, false
	}
	c := &p.columns[j]
	filled, n := p.rows-c[formEmpty]-c[formNothing], c[form]
	if counted && own != formEmpty && own != formNothing {
		filled--
		if own == form {
			n--
		}
	}
	return share(n, filled), filled >= p.voc.limits.count("shift_rows")
}

// strange reports whether a cell of that form is not what its column holds: most
// cells have one form, and hardly any has this one.
func (p *profile) strange(j int, form, own cellForm, counted bool) bool {
	mine, known := p.share(j, form, own, counted)
	if !known || mine >= p.voc.limits.get("shift_strange") {
		return false
	}
	for f := formWhole; f < forms; f++ {
		if most, _ := p.share(j, f, own, counted); most >= p.voc.limits.get("shift_typed") {
			return true
		}
	}
	return false
}

// strangeKind reports whether a column holds next to nothing of the kind: a number
// where words stand, a word where numbers stand.
func (p *profile) strangeKind(j int, form cellForm, counted bool) bool {
	sum := 0.0
	for f := formWhole; f < forms; f++ {
		if kindOfForm[f] == kindOfForm[form] {
			n, _ := p.share(j, f, form, counted)
			sum += n
		}
	}
	return sum < p.voc.limits.get("shift_strange")
}

// kindOfForm puts the forms together that one column may well mix.
var kindOfForm = [forms]cellForm{formWhole: formWhole, formDecimal: formWhole, formMeasure: formWhole,
	formLong: formLong, formDate: formDate, formCode: formCode, formWords: formWords}

// usual reports whether many cells of a column have that form.
func (p *profile) usual(j int, form, own cellForm, counted bool) bool {
	n, known := p.share(j, form, own, counted)
	return known && n >= p.voc.limits.get("shift_usual")
}

// shift is a stretch of cells of a row that stand one column off.
type shift struct {
	by      int // where its cells belong: +1 one column to the right, -1 to the left
	example int // a column whose cell shows it
}

// shiftOf looks for a stretch of a row beside an empty cell whose cells look like
// those of the columns beside them. Two signs are needed, one of them a cell; that
// the empty cell stands in a column which is otherwise filled is one too.
func (p *profile) shiftOf(cells []string, counted bool) (shift, bool) {
	row := make([]cellForm, len(p.columns))
	for j := range row {
		row[j] = p.form(cells, j)
	}
	for e, form := range row {
		if form != formEmpty {
			continue
		}
		for _, by := range []int{+1, -1} {
			if s, ok := p.stretch(row, e, by, counted); ok {
				return s, true
			}
		}
	}
	return shift{}, false
}

// stretch follows the filled cells beside the empty cell e, to the left where
// they belong one to the right, and the other way round.
func (p *profile) stretch(row []cellForm, e, by int, counted bool) (shift, bool) {
	s, signs, clear, cells := shift{by: by, example: -1}, 0, 0, 0
	most := 0 // signs of a stretch of which at least every other cell is one
walk:
	for j := e - by; j >= 0 && j < len(row) && row[j] != formEmpty; j -= by {
		form, beside := row[j], row[j+by]
		cells++
		switch {
		case form == formNothing:
		case p.strange(j, form, form, counted) && p.usual(j+by, form, beside, counted):
			if p.strangeKind(j, form, counted) {
				clear++
			}
			if signs++; 2*signs >= cells {
				most, s.example = signs, j
			}
		case p.usual(j, form, form, counted) && p.strange(j+by, form, beside, counted):
			break walk // the rest stands where it belongs
		}
	}
	if most > 0 && p.filled(e, counted) {
		most++
	}
	need := p.voc.limits.count("shift_signs")
	if clear == 0 {
		need++ // a whole number among decimals alone says little
	}
	return s, most >= need
}

// filled reports whether hardly any cell of a column is empty but the one that is
// looked at.
func (p *profile) filled(j int, counted bool) bool {
	empty, rows := p.columns[j][formEmpty], p.rows
	if counted {
		empty, rows = empty-1, rows-1
	}
	return rows >= p.voc.limits.count("shift_rows") && share(empty, rows) < p.voc.limits.get("shift_strange")
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
	return stretches(len(s.Records), min(maxWorkers, runtime.GOMAXPROCS(0)), func(_, from, to int) {
		var cells []string
		for i := from; i < to; i++ {
			if !s.mayBeShifted(i) || !s.holdsEmptyCell(i) || namedLine(spans, int(s.Records[i].Line)) {
				continue
			}
			cells = s.Cells(i, cells)
			if _, ok := p.shiftOf(cells, i%p.step == 0); ok {
				s.Records[i].Fault = ShiftedCells
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
func (s *Sheet) holdsEmptyCell(i int) bool {
	if int(s.Records[i].Width) < len(s.Header) {
		return true
	}
	line, d := s.content(i), s.Dialect.Delimiter[0]
	if len(line) == 0 || line[0] == d || line[len(line)-1] == d || line[len(line)-1] == ' ' {
		return true
	}
	for off := 0; ; {
		k := bytes.IndexByte(line[off:], d)
		if k < 0 {
			return false
		}
		if off += k + 1; off < len(line) && (line[off] == d || line[off] == ' ' || line[off] == '\t' ||
			line[off] == s.Dialect.Quote && off+1 < len(line) && line[off+1] == s.Dialect.Quote || mayBeBlank(line[off])) {
			return true
		}
	}
}

// shiftReason says what looks wrong with a row whose cells stand off.
func (s *Sheet) shiftReason(i int) string {
	cells := s.Cells(i, nil)
	const do = "put the cells under their headings; if the row is right as it is: --set rows=%d"
	line := s.Records[i].Line
	if s.profile == nil {
		return fmt.Sprintf("the cells do not stand under their headings: "+do, line)
	}
	sh, ok := s.profile.shiftOf(cells, i%s.profile.step == 0)
	if !ok || sh.example >= len(cells) {
		return fmt.Sprintf("the cells do not stand under their headings: "+do, line)
	}
	name := func(j int) string { return shorten(strings.Join(strings.Fields(s.columnName(j)), " "), 30) }
	return fmt.Sprintf("the cells seem to stand one column off: %q stands under %q and looks like a value of %q; "+do,
		shorten(trim(cells[sh.example]), 40), name(sh.example), name(sh.example+sh.by), line)
}
