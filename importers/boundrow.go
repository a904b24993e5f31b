package importers

import (
	"errors"
	"fmt"
	"slices"
	"strings"
	"sync"
	"sync/atomic"
)

// boundRow is what gocsv makes of one row of a chunk. It makes two for every row, and
// puts every cell of a struct with a field for each column into a box of its own; so
// this one has no field but the hidden one, whose cell says where the others belong,
// and hands them on to their places one by one.
type boundRow struct {
	Row rowMark `csv:"_row"`

	desk  *desk
	row   int32
	cells int32 // that have come so far
}

// rowMark takes no room: a row of every sheet passes through a boundRow or two.
type rowMark struct{}

// UnmarshalCSV is never called, because the row takes its cells itself.
func (*rowMark) UnmarshalCSV(string) error {
	return errors.New("the row of a chunk takes its own cells")
}

// UnmarshalCSVWithFields takes the next cell of the row, under its heading.
func (b *boundRow) UnmarshalCSVWithFields(heading, cell string) error {
	if b.desk == nil {
		if heading != rowColumn {
			return fmt.Errorf("the cell of %q came before the row was known", heading)
		}
		return b.begin(cell)
	}
	n := int32(len(b.desk.fields))
	if b.cells >= n || b.desk.fields[b.cells] != heading {
		return fmt.Errorf("the cell of %q came out of turn", heading)
	}
	to := b.desk.cells[b.row*n+b.cells]
	b.cells++
	return to.UnmarshalCSV(cell)
}

// begin finds the row that a hidden cell names.
func (b *boundRow) begin(cell string) error {
	number, row, _ := strings.Cut(cell, ".")
	at, ok := digitsOf(number)
	k, isRow := digitsOf(row)
	if !ok || !isRow {
		return fmt.Errorf("%q names no row", cell)
	}
	if b.desk = desks.of(int(at)); b.desk == nil || k < 0 || k >= int64(b.desk.rows) {
		return fmt.Errorf("%q names a row that is not being read", cell)
	}
	b.row = int32(k)
	return nil
}

// desk is where the bound cells of one chunk lie, row by row.
type desk struct {
	number int
	fields []string
	rows   int
	cells  []stating
}

// hidden returns the hidden cell of a row.
func (d *desk) hidden(row int) string { return fmt.Sprintf("%d.%d", d.number, row) }

// deskList knows the desks in use by their numbers.
type deskList struct {
	lock sync.Mutex
	list atomic.Pointer[[]*desk]
}

var desks deskList

// of returns a desk in use, nil if there is none of that number.
func (l *deskList) of(number int) *desk {
	if list := l.list.Load(); list != nil && number >= 0 && number < len(*list) {
		return (*list)[number]
	}
	return nil
}

// open gives a desk a number until it is closed.
func (l *deskList) open(d *desk) {
	l.change(func(list []*desk) []*desk {
		if d.number = slices.Index(list, nil); d.number < 0 {
			d.number = len(list)
			return append(list, d)
		}
		list[d.number] = d
		return list
	})
}

func (l *deskList) close(d *desk) {
	l.change(func(list []*desk) []*desk {
		list[d.number] = nil
		return list
	})
}

// change puts a changed copy in place of the list, which others may be reading.
func (l *deskList) change(do func([]*desk) []*desk) {
	l.lock.Lock()
	defer l.lock.Unlock()
	var list []*desk
	if old := l.list.Load(); old != nil {
		list = slices.Clone(*old)
	}
	list = do(list)
	l.list.Store(&list)
}
