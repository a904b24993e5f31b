package importers

import "fmt"

// settleDoubles decides between columns that mean the same field: equal values
// need one of them, an empty column none, and different values a person.
func (p *proposal) settleDoubles() {
	first := map[string]int{}
	for i := range p.columns {
		c := &p.columns[i]
		if !c.mapped {
			continue
		}
		j, twice := first[c.Field]
		if !twice {
			first[c.Field] = i
			continue
		}
		switch {
		case c.seen.filled == 0 || p.sameValues(j, i):
			c.mapped, c.ignored = false, true
		case p.columns[j].seen.filled == 0:
			p.columns[j].mapped, p.columns[j].ignored = false, true
			first[c.Field] = i
		default:
			p.ask("double", fmt.Sprintf("--map %s=%s or --map %s=%s", c.Field, quoted(p.columns[j].Heading), c.Field, quoted(c.Heading)), []string{p.columns[j].Heading, c.Heading},
				"The columns %q and %q both look like %s and differ. Which one counts?", p.columns[j].Heading, c.Heading, c.Field)
			c.mapped, c.ignored = false, true
		}
	}
}

func (p *proposal) sameValues(i, j int) bool {
	var cells []string
	for r := range p.sheet.records.n {
		if !p.sheet.records.isRow(r) {
			continue
		}
		cells = p.sheet.Cells(r, cells)
		if max(i, j) < len(cells) && trim(cells[i]) != trim(cells[j]) {
			return false
		}
	}
	return true
}
