package returns

import (
	"fmt"
	"strconv"
	"strings"

	"fitfill/catalog"
)

// copies tells rows that stand on file twice.
type copies struct {
	byLine   map[string]bool
	byText   map[string]*Fate       // first row of the same content
	imported map[string]int         // content and occurrence → import it came with
	within   map[string]map[int]int // content → import → times seen
}

func newCopies() *copies {
	return &copies{map[string]bool{}, map[string]*Fate{}, map[string]int{}, map[string]map[int]int{}}
}

// check looks at one row: line identifies it on its document ("" if it does
// not), text is its whole content, numbered says that content includes a
// document or sale id. It reports whether the row is a copy to be set aside,
// and flags both rows where it may be one.
func (c *copies) check(f *Fate, line, text string, numbered bool, sheet int) bool {
	if line != "" {
		again := c.byLine[line]
		c.byLine[line] = true
		return again
	}
	// The n-th identical row of one sheet is a copy of the n-th of another.
	if c.within[text] == nil {
		c.within[text] = map[int]int{}
	}
	c.within[text][sheet]++
	nth := fmt.Sprint(c.within[text][sheet], "\x00", text)
	from, seen := c.imported[nth]
	if numbered && seen && from != sheet {
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

// screenSales sets aside sales that cannot be counted.
func (m *matcher) screenSales() {
	core := make([]bool, len(m.ledger.PartTypes))
	for g, name := range m.ledger.PartTypes {
		core[g] = isCore(name)
	}
	for _, lines := range m.byLot {
		screenLot(lines, core, m.books.AsOf)
	}
}

// alone reports whether no two of a lot's sales can be copies of each other: all
// are of different days, and none is named by a line of its document.
func alone(lines []*saleLine) bool {
	for i, s := range lines {
		if s.DocumentLine != "" && s.Document != "" || i > 0 && s.Day == lines[i-1].Day {
			return false
		}
	}
	return true
}

// screenLot screens the sales of one lot, which stand in their order.
func screenLot(lines []*saleLine, core []bool, asOf catalog.Date) {
	single := alone(lines)
	var seen *copies
	if !single {
		seen = newCopies()
	}
	for _, s := range lines {
		var line string
		if s.Document != "" && s.DocumentLine != "" {
			line = join(fold(s.Document), fold(s.DocumentLine), s.milli < 0)
		}
		copied := func() bool {
			text := join(s.Day, s.milli, fold(s.ID), fold(s.Document), fold(s.Job))
			return seen.check(s.fate, line, text, s.ID != "" || s.Document != "", s.Import)
		}
		s.live = false
		switch {
		case s.milli == 0:
			s.fate.setAside(ZeroQuantity)
		case core[s.partType]:
			s.fate.setAside(CoreLine)
		case !single && copied():
			s.fate.setAside(Duplicate)
		case s.Day > asOf:
			s.fate.setAside(FutureDate)
		default:
			s.live = true
		}
	}
}

// screenReturns sets aside returns that cannot be counted.
func (m *matcher) screenReturns() {
	seen := newCopies()
	for _, r := range m.returns {
		text := join(r.lotID, r.Day, r.milli, r.Class, fold(r.SaleID), fold(r.Document), fold(r.DocumentLine), fold(r.Job))
		var line string
		if r.Document != "" && r.DocumentLine != "" {
			line = text
		}
		r.live = false
		switch {
		case r.milli == 0:
			r.fate.setAside(ZeroQuantity)
		case r.Class == Core || isCore(m.ledger.PartTypes[r.partType]):
			r.fate.setAside(CoreLine)
		case seen.check(r.fate, line, text, r.SaleID != "" || r.Document != "", r.Import):
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
