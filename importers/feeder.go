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
	// header returns the canonical heading, the hidden row column and the mapped
	// fields, and makes room for chunks of that many rows.
	header(mapped []string, rows int) []string
	// bind binds the rows that follow the heading in rows.
	bind(rows [][]string) error
	// build turns bound row i into a row of the catalogue.
	build(i int, c *rowContext) (catalog.SheetRow, *problem)
}

// bound is the binder for the import struct T. gocsv binds to a struct that has
// only the fields of T that are mapped, since it makes two new ones for every
// row; their cells then go into one T.
type bound[T any] struct {
	row   T
	into  []stating     // mapped cells of row
	chunk reflect.Value // slice of the narrow struct
	rows  int
	cells []stating // mapped cells of the chunk, row by row
	ties  []*word   // hidden cells of the chunk
	make  func(*T, *rowContext) (catalog.SheetRow, *problem)
}

func bindWith[T any](build func(*T, *rowContext) (catalog.SheetRow, *problem)) func() binder {
	return func() binder { return &bound[T]{make: build} }
}

func (b *bound[T]) header(mapped []string, rows int) []string {
	b.rows = rows
	head := append([]string{rowColumn}, mapped...)
	v := reflect.ValueOf(&b.row).Elem()
	narrow := make([]reflect.StructField, len(head))
	for j, name := range head {
		i := slices.IndexFunc(reflect.VisibleFields(v.Type()), func(f reflect.StructField) bool { return f.Tag.Get("csv") == name })
		f := v.Type().Field(i)
		narrow[j] = reflect.StructField{Name: f.Name, Type: f.Type, Tag: f.Tag}
		if j > 0 {
			b.into = append(b.into, v.Field(i).Addr().Interface().(stating))
		}
	}
	b.chunk = reflect.New(reflect.SliceOf(reflect.StructOf(narrow)))
	b.chunk.Elem().Set(reflect.MakeSlice(b.chunk.Elem().Type(), rows, rows))
	for i := range rows {
		row := b.chunk.Elem().Index(i)
		b.ties = append(b.ties, row.Field(0).Addr().Interface().(*word))
		for j := 1; j < len(head); j++ {
			b.cells = append(b.cells, row.Field(j).Addr().Interface().(stating))
		}
	}
	return head
}

func (b *bound[T]) bind(rows [][]string) error {
	b.chunk.Elem().SetLen(len(rows) - 1)
	defer b.chunk.Elem().SetLen(b.rows)
	return gocsv.UnmarshalCSV(&feeder{rows: rows}, b.chunk.Interface())
}

func (b *bound[T]) build(i int, c *rowContext) (catalog.SheetRow, *problem) {
	if b.ties[i].text != rowNumbers[i] {
		return catalog.SheetRow{}, bindProblem(errors.New("the rows of a chunk changed places"))
	}
	n := len(b.into)
	c.cells = b.cells[i*n : (i+1)*n]
	for j, cell := range c.cells {
		b.into[j].take(cell)
	}
	return b.make(&b.row, c)
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
