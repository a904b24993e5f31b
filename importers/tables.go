package importers

import (
	"fmt"
	"strings"
)

// startsOtherTable reports whether a row without any digit is the heading of a
// second table: two or more of its cells and a third of them are known
// headings. known remembers the first cells that were looked up.
func (s *Sheet) startsOtherTable(voc *vocabulary, i int, line []byte, known map[string]bool) bool {
	for _, b := range line {
		if b >= '0' && b <= '9' {
			return false
		}
	}
	cells := s.Cells(i, nil)
	first := ""
	for _, c := range cells {
		if first = trim(c); first != "" {
			break
		}
	}
	is, seen := known[first]
	if !seen && len(known) < maxCache {
		is = voc.knownHeadings([]string{first}) > 0
		known[strings.Clone(first)] = is
	}
	if !is {
		return false
	}
	n := voc.knownHeadings(cells)
	return n > 1 && n*3 >= countFilled(cells)
}

// otherTable sets aside everything from record i on: its columns are others.
func (s *Sheet) otherTable(i int) {
	for k := i; k < s.records.n; k++ {
		if s.records.fault(k) == NoFault {
			if n, _ := s.filledUpToTwo(k, s.content(k)); n == 0 {
				s.records.setClass(k, ClassBlank)
				continue
			}
			s.records.setClass(k, ClassData)
			s.records.setFault(k, OtherTable)
		}
	}
	s.note("other-table", s.records.lineOf(i), fmt.Sprintf(
		"a second table with other columns begins on line %d: its rows are held; save it as its own sheet and import that", s.records.lineOf(i)))
}
