package importers

import (
	"bytes"
	"slices"
)

// repeater repeats the value of a merged area in each of its cells, row by row.
type repeater struct {
	merges []merge // by their first row
	width  int     // of the worksheet
	now    []repeated
}

// repeated is a merged area that the present row crosses, with the value of its
// first cell.
type repeated struct {
	merge
	text []byte
}

func newRepeater(p *page) *repeater {
	m := slices.Clone(p.merges)
	slices.SortStableFunc(m, func(a, b merge) int { return a.top - b.top })
	return &repeater{merges: m, width: p.width}
}

// row puts the repeated values into a row's cells; skip tells the cells that are
// left out. Rows come in order, and none may be left out.
func (m *repeater) row(n int, cells [][]byte, skip func(column int) bool) {
	m.now = slices.DeleteFunc(m.now, func(a repeated) bool { return a.bottom < n })
	for len(m.merges) > 0 && m.merges[0].top <= n {
		if m.merges[0].bottom >= n {
			m.now = append(m.now, repeated{merge: m.merges[0]})
		}
		m.merges = m.merges[1:]
	}
	for k := range m.now {
		a := &m.now[k]
		for i := a.left; i <= a.right && i < len(cells); i++ {
			switch {
			case skip(i):
			case n == a.top && i == a.left:
				a.text = bytes.Clone(cells[i])
			default:
				cells[i] = a.text
			}
		}
	}
}
