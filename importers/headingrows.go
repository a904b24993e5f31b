package importers

import (
	"strings"

	"fitfill/catalog/units"
)

// setHeading takes the headings from the records from..to.
func (s *Sheet) setHeading(from, to int) {
	s.Header, s.HeaderLine = cloned(s.joinRows(from, to)), s.records.lineOf(from)
}

// cloned makes copies of cells, which keep no page of the sheet in memory.
func cloned(cells []string) []string {
	for i := range cells {
		cells[i] = strings.Clone(cells[i])
	}
	return cells
}

// noHeading calls the columns by letters, as spreadsheets do. Data begin with
// the record first.
func (s *Sheet) noHeading(first, width int) [2]int {
	s.Header, s.HeaderLine = make([]string, width), 0
	for i := range s.Header {
		for n := i + 1; n > 0; n = (n - 1) / 26 {
			s.Header[i] = string(rune('A'+(n-1)%26)) + s.Header[i]
		}
	}
	return [2]int{first, first}
}

// firstRow returns the first record with several filled cells, in a sheet of
// one column with any.
func (s *Sheet) firstRow(width int) int {
	for i := range s.records.n {
		if n := countFilled(s.Cells(i, nil)); s.records.class(i) != ClassTitle && (n > 1 || n == 1 && width <= 1) {
			return i
		}
	}
	return 0
}

// headingBlock returns the rows of the heading around the row that was found:
// one row above that groups its columns, and rows below that name what it
// leaves blank or state the units.
func (s *Sheet) headingBlock(voc *vocabulary, best int) (from, to int) {
	from, to = best, best+1
	for to < s.records.n && to-from < maxHeadingRows && s.completes(voc, from, to) {
		to++
	}
	for from > 0 && to-from < maxHeadingRows && s.groups(voc, from-1, to) {
		from--
	}
	return from, to
}

// completes reports whether record i goes on with the heading from..i: text
// only, and words where the heading is blank, or nothing but units.
func (s *Sheet) completes(voc *vocabulary, from, i int) bool {
	head, row := s.joinRows(from, i), trimAll(s.Cells(i, nil))
	if s.records.fault(i) != NoFault || i+1 >= s.records.n || countFilled(row) == 0 {
		return false
	}
	fills, isUnits := 0, true
	for j, c := range row {
		if c == "" {
			continue
		}
		inside := strings.Trim(c, "()[]{} ")
		_, err := units.ParseUnit(inside)
		isUnits = isUnits && (err == nil || voc.currency(inside) != "")
		if !isText(c) && (err != nil || holdsNumber(row)) {
			return false
		}
		if j < len(head) && head[j] == "" || j >= len(head) {
			fills++
		}
	}
	return (isUnits || fills > 0) && countFilled(row) < len(row) && s.valuesBelow(i, row)
}

// valuesBelow reports whether the next rows hold values where this one holds
// words.
func (s *Sheet) valuesBelow(i int, row []string) bool {
	for k := i + 1; k < min(s.records.n, i+6); k++ {
		cells := s.Cells(k, nil)
		for j, c := range row {
			if c != "" && j < len(cells) && hasDigit(cells[j]) {
				return true
			}
		}
	}
	return false
}

// groups reports whether record i stands above the heading and gives names to
// groups of its columns that the heading needs: more of them are known with it,
// or headings that stand twice become different.
func (s *Sheet) groups(voc *vocabulary, i, to int) bool {
	row, below := trimAll(s.Cells(i, nil)), s.joinRows(i+1, to)
	filled := countFilled(row)
	if s.records.fault(i) != NoFault || s.records.class(i) == ClassTitle || filled == 0 || filled == 1 && row[0] != "" {
		return false
	}
	for j, c := range row {
		if c != "" && (!isText(c) || j >= len(below)) {
			return false
		}
	}
	joined := s.joinRows(i, to)
	return voc.knownHeadings(joined) > voc.knownHeadings(below) || distinct(joined) > distinct(below)
}

func distinct(cells []string) int {
	seen := map[string]bool{}
	for _, c := range cells {
		if c != "" {
			seen[c] = true
		}
	}
	return len(seen)
}

// joinRows joins the rows of a heading with a space. A blank cell takes the
// text to its left if the row below divides that text's columns.
func (s *Sheet) joinRows(from, to int) []string {
	head := trimAll(s.Cells(from, nil))
	for i := from + 1; i < to; i++ {
		row := trimAll(s.Cells(i, nil))
		for len(head) < len(row) {
			head = append(head, "")
		}
		filled := make([]string, len(head))
		group := -1
		for j := range head {
			switch {
			case head[j] != "":
				group, filled[j] = j, head[j]
			case group >= 0 && j < len(row) && row[j] != "" && row[group] != "":
				filled[j] = head[group]
			default:
				group = -1
			}
		}
		for j := range head {
			if j < len(row) {
				filled[j] = strings.TrimSpace(filled[j] + " " + row[j])
			}
		}
		head = filled
	}
	return head
}
