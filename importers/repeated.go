package importers

import "strings"

// repeatedRow is a row of the heading as it stands between the rows once more: in
// the same words, or in others that the tables take for the same ("PART NO." for
// "Part number"), as whoever puts several lists into one leaves them.
type repeatedRow struct {
	cells  []string
	keys   []string
	digits string
}

// repeatOf returns row i of the heading, to be compared with the rows below.
func (s *Sheet) repeatOf(voc *vocabulary, i int) *repeatedRow {
	r := &repeatedRow{cells: trimAll(s.Cells(i, nil))}
	for _, c := range r.cells {
		r.keys = append(r.keys, voc.headingKey(c))
	}
	r.digits = digitsIn(strings.Join(r.cells, ""))
	return r
}

// mayBe looks at the digits of a line alone, of which headings have few: that
// tells nearly all rows from them without cutting cells.
func (r *repeatedRow) mayBe(line []byte) bool {
	n := 0
	for _, b := range line {
		if b < '0' || b > '9' {
			continue
		}
		if n == len(r.digits) || r.digits[n] != b {
			return false
		}
		n++
	}
	return n == len(r.digits)
}

// is reports whether cells are the row again, each heading in its own column.
func (r *repeatedRow) is(voc *vocabulary, cells []string) bool {
	n := 0
	for i, c := range cells {
		c = strings.Join(strings.Fields(trim(c)), " ")
		switch {
		case i >= len(r.cells):
			if c != "" {
				return false
			}
		case c == r.cells[i]:
			if c != "" {
				n++
			}
		case c == "" || len(c) > maxHeading || !voc.sameHeading(voc.headingKey(c), r.keys[i]):
			return false
		default:
			n++
		}
	}
	return n > 0 && n == countFilled(r.cells)
}

// sameHeading reports whether two keys of headings are one, or mean the same field.
func (v *vocabulary) sameHeading(a, b string) bool {
	if a == b {
		return a != ""
	}
	for _, fields := range v.headings {
		if fields[a] != "" && fields[a] == fields[b] {
			return true
		}
	}
	return false
}

func digitsIn(text string) string {
	return strings.Map(func(r rune) rune {
		if r >= '0' && r <= '9' {
			return r
		}
		return -1
	}, text)
}

// repeatedBlocks gives the other rows of a repeated heading of several rows
// their class.
func (s *Sheet) repeatedBlocks(voc *vocabulary, head [2]int) {
	rows := head[1] - head[0]
	var below []*repeatedRow
	for k := 1; k < rows; k++ {
		below = append(below, s.repeatOf(voc, head[0]+k))
	}
	for i := head[1]; rows > 1 && i+rows <= s.records.n; i++ {
		if s.records.class(i) != ClassRepeated {
			continue
		}
		for k := 1; k < rows; k++ {
			if s.records.fault(i+k) == NoFault && below[k-1].is(voc, s.Cells(i+k, nil)) {
				s.records.setClass(i+k, ClassRepeated)
			}
		}
	}
}
