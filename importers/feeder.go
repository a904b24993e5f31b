package importers

import (
	"encoding/csv"
	"errors"
	"fmt"
	"reflect"
	"slices"

	"fitfill/catalog"

	"github.com/gocarina/gocsv"
)

// chunkRows bounds how many rows are bound at once: so few that all that is made of them
// stays near the processor (measured: a sixth less time than with a thousand).
const chunkRows = 128

// aloneUpTo is the number of records from which several goroutines are worth their while.
const aloneUpTo = 1000

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
	// header returns the canonical heading, the hidden row column and the mapped
	// fields, and makes room for chunks of that many rows.
	header(mapped []string, rows int) []string
	// hidden returns the hidden cell of a row of the chunk.
	hidden(row int) string
	// bind binds the rows that follow the heading in rows.
	bind(rows [][]string) error
	// build turns bound row i into a row of the catalogue.
	build(i int, c *rowContext) (catalog.SheetRow, *problem)
	// close gives the room back.
	close()
}

// bound is the binder for the import struct T. Of a chunk only the mapped cells are
// kept, each in its type; they go into one T, row by row.
type bound[T any] struct {
	row  T
	into []stating // mapped cells of row
	desk desk
	out  []boundRow
	make func(*T, *rowContext) (catalog.SheetRow, *problem)
}

func bindWith[T any](build func(*T, *rowContext) (catalog.SheetRow, *problem)) func() binder {
	return func() binder { return &bound[T]{make: build} }
}

func (b *bound[T]) header(mapped []string, rows int) []string {
	v := reflect.ValueOf(&b.row).Elem()
	narrow := make([]reflect.StructField, len(mapped))
	for j, name := range mapped {
		i := slices.IndexFunc(reflect.VisibleFields(v.Type()), func(f reflect.StructField) bool { return f.Tag.Get("csv") == name })
		f := v.Type().Field(i)
		narrow[j] = reflect.StructField{Name: f.Name, Type: f.Type}
		b.into = append(b.into, v.Field(i).Addr().Interface().(stating))
	}
	b.desk = desk{fields: mapped, rows: rows}
	chunk := reflect.MakeSlice(reflect.SliceOf(reflect.StructOf(narrow)), rows, rows)
	for i := range rows {
		for j := range mapped {
			b.desk.cells = append(b.desk.cells, chunk.Index(i).Field(j).Addr().Interface().(stating))
		}
	}
	b.out = make([]boundRow, rows)
	desks.open(&b.desk)
	return append([]string{rowColumn}, mapped...)
}

func (b *bound[T]) hidden(row int) string { return b.desk.hidden(row) }

func (b *bound[T]) close() { desks.close(&b.desk) }

func (b *bound[T]) bind(rows [][]string) error {
	out := b.out[:len(rows)-1]
	return gocsv.UnmarshalCSV(&feeder{rows: rows}, &out)
}

func (b *bound[T]) build(i int, c *rowContext) (catalog.SheetRow, *problem) {
	n := len(b.into)
	if got := &b.out[i]; got.desk != &b.desk || got.row != int32(i) || got.cells != int32(n) {
		return catalog.SheetRow{}, bindProblem(errors.New("the rows of a chunk changed places"))
	}
	c.cells = b.desk.cells[i*n : (i+1)*n]
	for j, cell := range c.cells {
		b.into[j].take(cell)
	}
	return b.make(&b.row, c)
}

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
