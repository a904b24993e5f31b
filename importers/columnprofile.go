package importers

// maxProfiled is how many rows tell what the columns of a sheet look like.
const maxProfiled = 2000

// profile is what the columns of a sheet look like.
type profile struct {
	voc     *vocabulary
	columns [][forms]int
	rows    int
	step    int // every step-th row was looked at

	signs [][forms]signsOf
	full  []bool // hardly any cell of the column is empty
}

// profileOf looks at the rows of a sheet whose shape is right.
func (s *Sheet) profileOf(voc *vocabulary) *profile {
	p := &profile{voc: voc, columns: make([][forms]int, len(s.Header)), step: 1 + s.records.n/maxProfiled}
	var cells []string
	lines := s.leaping()
	for i := 0; i < s.records.n; i += p.step {
		if !s.mayBeShifted(i) {
			continue
		}
		p.rows++
		cells = s.cellsOf(i, lines.content(i), cells)
		for j := range p.columns {
			p.columns[j][p.form(cells, j)]++
		}
	}
	p.close()
	return p
}

func (s *Sheet) mayBeShifted(i int) bool {
	return s.records.isRow(i)
}

// form says what a cell looks like; a cell that is not there is empty.
func (p *profile) form(cells []string, j int) cellForm {
	if j >= len(cells) {
		return formEmpty
	}
	cell := trim(cells[j])
	switch {
	case cell == "":
		return formEmpty
	case p.isNothing(cell):
		return formNothing
	}
	return formOf(cell)
}

// isNothing recognises "n/a", "on request" and the like.
func (p *profile) isNothing(cell string) bool {
	return len(cell) <= maxWord && !hasDigit(cell) && p.voc.words["null"][wordKey(cell)] != nil
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

// usual reports whether many cells of a column have that form.
func (p *profile) usual(j int, form, own cellForm, counted bool) bool {
	n, known := p.share(j, form, own, counted)
	return known && n >= p.voc.limits.get("shift_usual")
}

// signsOf are what one form in one column says, for all rows that were not counted
// themselves.
type signsOf struct{ strange, usual, strangeKind bool }

// close works the signs out once for all rows.
func (p *profile) close() {
	p.signs, p.full = make([][forms]signsOf, len(p.columns)), make([]bool, len(p.columns))
	for j := range p.columns {
		p.full[j] = p.filled(j, false)
		for f := formWhole; f < forms; f++ {
			p.signs[j][f] = p.signsFor(j, f, formEmpty, false)
		}
	}
}

func (p *profile) signsFor(j int, form, own cellForm, counted bool) signsOf {
	return signsOf{p.strange(j, form, own, counted), p.usual(j, form, own, counted), p.strangeKind(j, form, counted)}
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
