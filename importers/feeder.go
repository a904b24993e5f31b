package importers

import (
	"encoding/csv"
	"errors"
	"fmt"
	"reflect"
	"slices"
	"strconv"

	"fitfill/catalog"

	"github.com/gocarina/gocsv"
)

// chunkRows bounds how many rows are bound at once.
const chunkRows = 1000

// rowColumn is the hidden column that ties a bound struct to its row.
const rowColumn = "_row"

// Both switches are trip wires: a struct tag without a column or a column that
// stands twice is a mistake in this package, never in a sheet.
func init() {
	gocsv.FailIfUnmatchedStructTags = true
	gocsv.FailIfDoubleHeaderNames = true
}

// feeder hands one chunk of canonical rows to gocsv, the heading first.
type feeder struct{ rows [][]string }

// ReadAll returns the canonical heading and the rows.
func (f *feeder) ReadAll() ([][]string, error) { return f.rows, nil }

// Read is the other half of gocsv's reader; binding whole chunks never calls it.
func (f *feeder) Read() ([]string, error) {
	return nil, errors.New("the rows of a chunk are read all at once")
}

// binder binds canonical rows to the import struct of one kind of sheet and
// turns each struct into a row of the catalogue.
type binder interface {
	// header returns the canonical heading: the hidden row column, the mapped
	// fields, then every other field of the struct. Rows may end behind the
	// mapped fields.
	header(mapped []string) []string
	// bind binds the rows that follow the heading in rows.
	bind(rows [][]string) error
	// build turns bound row i into a row of the catalogue.
	build(i int, c *rowContext) (catalog.SheetRow, *problem)
}

// bound is the binder for the import struct T.
type bound[T any] struct {
	buf   [chunkRows]T
	tags  []string // csv tag of each struct field
	row   int      // struct field of the hidden column
	order []int    // struct field of each mapped column
	make  func(*T, *rowContext) (catalog.SheetRow, *problem)
}

func bindWith[T any](build func(*T, *rowContext) (catalog.SheetRow, *problem)) func() binder {
	return func() binder {
		b := &bound[T]{make: build}
		t := reflect.TypeFor[T]()
		for i := range t.NumField() {
			b.tags = append(b.tags, t.Field(i).Tag.Get("csv"))
		}
		b.row = slices.Index(b.tags, rowColumn)
		return b
	}
}

func (b *bound[T]) header(mapped []string) []string {
	head := append([]string{rowColumn}, mapped...)
	b.order = b.order[:0]
	for _, m := range mapped {
		b.order = append(b.order, slices.Index(b.tags, m))
	}
	for _, tag := range b.tags {
		if !slices.Contains(head, tag) {
			head = append(head, tag)
		}
	}
	return head
}

func (b *bound[T]) bind(rows [][]string) error {
	out := b.buf[:len(rows)-1]
	return gocsv.UnmarshalCSV(&feeder{rows: rows}, &out)
}

func (b *bound[T]) build(i int, c *rowContext) (catalog.SheetRow, *problem) {
	v := reflect.ValueOf(&b.buf[i]).Elem()
	if v.Field(b.row).Addr().Interface().(*word).text != rowNumbers[i] {
		return catalog.SheetRow{}, bindProblem(errors.New("the rows of a chunk changed places"))
	}
	c.cells = c.cells[:0]
	for _, f := range b.order {
		c.cells = append(c.cells, v.Field(f).Addr().Interface().(stating))
	}
	return b.make(&b.buf[i], c)
}

// rowNumbers are the values of the hidden column.
var rowNumbers = func() (n [chunkRows]string) {
	for i := range n {
		n[i] = strconv.Itoa(i)
	}
	return n
}()

// badRow returns which row of the chunk a bind error is about.
func badRow(err error, header []string) (row int, column string, ok bool) {
	var pe *csv.ParseError
	if !errors.As(err, &pe) || pe.Line < 2 {
		return 0, "", false
	}
	if pe.Column >= 1 && pe.Column <= len(header) {
		column = header[pe.Column-1]
	}
	return pe.Line - 2, column, true
}

func bindProblem(err error) *problem {
	return &problem{code: "internal-bind", why: fmt.Sprintf("the program could not keep this row (%v): report it as a fault of the program", err)}
}
