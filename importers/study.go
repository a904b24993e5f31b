package importers

// study looks at every value of every column once; only says which columns,
// nil meaning all.
func (p *proposal) study(only func(*candidate) bool) {
	var cells []string
	active := make([]bool, len(p.columns))
	for j := range p.columns {
		active[j] = only == nil || only(&p.columns[j])
	}
	for i := range p.sheet.records.n {
		if !p.sheet.records.isRow(i) {
			continue
		}
		cells = p.sheet.Cells(i, cells)
		for j, cell := range cells {
			if j >= len(p.columns) {
				break
			}
			if cell == "" || !active[j] {
				continue
			}
			if cell = trim(cell); cell == "" {
				continue
			}
			c := &p.columns[j]
			if len(c.seen.samples) < 3 {
				c.seen.sample(cell)
			}
			c.seen.filled++
			c.shape.add(p, c, cell)
			if c.mapped && hasDigit(cell) {
				c.seen.value(c.field, cell)
			}
		}
	}
}

// studyAgain collects what the readings of newly mapped columns need.
func (p *proposal) studyAgain(fresh map[int]bool) {
	if len(fresh) == 0 {
		return
	}
	for j := range fresh {
		p.columns[j].seen, p.columns[j].shape = evidence{}, valueShape{}
	}
	p.study(func(c *candidate) bool { return fresh[c.Index] })
}
