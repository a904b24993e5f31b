package returns

import (
	"fmt"
	"slices"
	"strconv"
	"strings"

	"fitfill/catalog"
)

// copies tells rows that stand on file twice.
type copies struct {
	byLine   map[string]bool
	byText   map[string]*Mark // first row of the same content
	imported map[numbered]int // content and occurrence → import it came with
	within   map[numbered]int // content and import → times seen
}

// numbered is a content with a number: of a sheet, or of an occurrence.
type numbered struct {
	text string
	n    int
}

func newCopies() *copies {
	return &copies{map[string]bool{}, map[string]*Mark{}, map[numbered]int{}, map[numbered]int{}}
}

// check looks at one row: line identifies it on its document ("" if it does
// not), text is its whole content, named says that content includes a
// document or sale id. It reports whether the row is a copy to be set aside,
// and flags both rows where it may be one.
func (c *copies) check(f *Mark, line, text string, named bool, sheet int) bool {
	if line != "" {
		again := c.byLine[line]
		c.byLine[line] = true
		return again
	}
	// The n-th identical row of one sheet is a copy of the n-th of another.
	c.within[numbered{text, sheet}]++
	nth := numbered{text, c.within[numbered{text, sheet}]}
	from, seen := c.imported[nth]
	if named && seen && from != sheet {
		return true
	}
	c.imported[nth] = sheet
	if first := c.byText[text]; first != nil {
		first.flag(PossibleDuplicate)
		f.flag(PossibleDuplicate)
	} else {
		c.byText[text] = f
	}
	return false
}

func join(parts ...any) string {
	var b []byte
	for _, p := range parts {
		switch p := p.(type) {
		case string:
			b = append(b, p...)
		case int:
			b = strconv.AppendInt(b, int64(p), 10)
		case int64:
			b = strconv.AppendInt(b, p, 10)
		case catalog.Date:
			b = strconv.AppendInt(b, int64(p), 10)
		default:
			b = fmt.Append(b, p)
		}
		b = append(b, 0)
	}
	return string(b)
}

// screenLot screens the sales of one lot, which stand in their order. Only lines
// of one day can be copies of each other, unless one is named by a line of its
// document.
func (m *matcher) screenLot(lines []int32, core []bool) {
	if slices.ContainsFunc(lines, func(i int32) bool { return m.sales[i].lined }) {
		m.screenDay(lines, core, newCopies())
		return
	}
	for len(lines) > 0 {
		n := 1
		for n < len(lines) && m.sales[lines[n]].day == m.sales[lines[0]].day {
			n++
		}
		var seen *copies
		if n > 1 && !m.unlike(lines[:n]) {
			seen = newCopies()
		}
		m.screenDay(lines[:n], core, seen)
		lines = lines[n:]
	}
}

// unlike reports whether a look at every two of a few lines of one day shows
// that no two have the same content.
func (m *matcher) unlike(lines []int32) bool {
	const few = 16
	if len(lines) > few {
		return false
	}
	for i, a := range lines {
		for _, b := range lines[:i] {
			if m.sales[a].milli != m.sales[b].milli {
				continue
			}
			x, y := &m.books.Sales[m.sales[a].at], &m.books.Sales[m.sales[b].at]
			if sameFolded(x.Document, y.Document) && sameFolded(x.Job, y.Job) && sameFolded(x.ID, y.ID) {
				return false
			}
		}
	}
	return true
}

// screenDay screens lines that can be copies of each other; seen is nil where
// they cannot.
func (m *matcher) screenDay(lines []int32, core []bool, seen *copies) {
	for _, i := range lines {
		s := &m.sales[i]
		f := &s.mark
		copied := func() bool {
			row := &m.books.Sales[s.at]
			var line string
			if row.Document != "" && row.DocumentLine != "" {
				line = join(fold(row.Document), fold(row.DocumentLine), s.milli < 0)
			}
			text := join(s.day, s.milli, fold(row.ID), fold(row.Document), fold(row.Job))
			return seen.check(f, line, text, row.ID != "" || row.Document != "", row.Import)
		}
		s.live = false
		switch {
		case s.milli == 0:
			f.setAside(ZeroQuantity)
		case core[s.partType]:
			f.setAside(CoreLine)
		case seen != nil && copied():
			f.setAside(Duplicate)
		case s.day > m.books.AsOf:
			f.setAside(FutureDate)
		default:
			s.live = true
		}
	}
}

// screenReturns sets aside returns of a lot that cannot be counted.
func (m *matcher) screenReturns(back []returnLine, core []bool) {
	var seen *copies
	for i := 1; i < len(back) && seen == nil; i++ {
		if back[i].Day == back[i-1].Day { // copies are of one day
			seen = newCopies()
		}
	}
	for i := range back {
		r := &back[i]
		copied := func() bool {
			text := join(r.Day, r.milli, int(r.Class), fold(r.SaleID), fold(r.Document), fold(r.DocumentLine), fold(r.Job))
			var line string
			if r.Document != "" && r.DocumentLine != "" {
				line = text
			}
			return seen.check(&r.fate.Mark, line, text, r.SaleID != "" || r.Document != "", r.Import)
		}
		r.live = false
		switch {
		case r.milli == 0:
			r.fate.setAside(ZeroQuantity)
		case r.Class == Core || core[r.partType]:
			r.fate.setAside(CoreLine)
		case seen != nil && copied():
			r.fate.setAside(Duplicate)
		case r.Day > m.books.AsOf:
			r.fate.setAside(AfterAsOf)
		default:
			r.live = true
		}
	}
}

// fold makes document numbers, ids and jobs comparable.
func fold(s string) string { return strings.ToLower(strings.TrimSpace(s)) }

// sameFolded reports whether two texts fold alike. Plain letters are compared
// as they stand, since this is asked millions of times.
func sameFolded(a, b string) bool {
	if a == b {
		return true
	}
	a, b = strings.TrimSpace(a), strings.TrimSpace(b)
	for i := range min(len(a), len(b)) {
		x, y := a[i], b[i]
		if x >= 0x80 || y >= 0x80 {
			return fold(a) == fold(b)
		}
		if x != y && lower(x) != lower(y) {
			return false
		}
	}
	return len(a) == len(b)
}

func lower(c byte) byte {
	if c >= 'A' && c <= 'Z' {
		return c + 'a' - 'A'
	}
	return c
}
