package app

import (
	"cmp"
	"context"
	"fmt"
	"slices"
	"strings"

	"fitfill/catalog/sqlite"
)

// SheetLineQuestion asks for one line of a sheet as it was read. Sheet is the
// number of the sheet, or the beginning of the SHA-256 of its file.
type SheetLineQuestion struct {
	Sheet string
	Line  int
}

// SheetLineAnswer is a line of a sheet in use with what was taken from it.
type SheetLineAnswer struct {
	Sheet    string      `json:"sheet"`
	Supplier string      `json:"supplier,omitempty"`
	SHA256   string      `json:"sha256"`
	Line     int         `json:"line"`
	Cells    []SheetCell `json:"cells"`
	Around   []RawLine   `json:"lines"` // physical lines around it, as they stand in the file
	Held     string      `json:"held,omitempty"`
}

// SheetCell is one cell with the field that its column fills.
type SheetCell struct {
	Heading string `json:"heading"`
	Text    string `json:"text"`
	Field   string `json:"field,omitempty"`
	Reading string `json:"reading,omitempty"`
}

// RawLine is a physical line of the file.
type RawLine struct {
	Line int    `json:"line"`
	Text string `json:"text"`
	Here bool   `json:"here,omitempty"`
}

// shortestHash is how much of a hash names a file well enough.
const shortestHash = 8

// linesAround is how many lines are shown before and behind the one asked for.
const linesAround = 3

// SheetLine shows a line of a sheet in use, the lines around it, and which field
// each cell fills.
func (s *Shop) SheetLine(ctx context.Context, q SheetLineQuestion) (SheetLineAnswer, error) {
	of, err := s.sheetMeant(ctx, q.Sheet)
	if err != nil {
		return SheetLineAnswer{}, err
	}
	a := SheetLineAnswer{Sheet: of.Name, Supplier: of.Supplier, SHA256: of.SHA256, Line: q.Line, Cells: []SheetCell{}, Around: []RawLine{}}
	sheet, err := s.reopen(ctx, of)
	if err != nil {
		return a, err
	}
	defer sheet.Close()
	i, ok := sheet.RecordOn(q.Line)
	if !ok {
		return a, &UsageError{Problem: fmt.Sprintf("no row of %s begins on line %d", of.Name, q.Line), Hint: fmt.Sprintf("the file has %s", Plural(sheet.Len(), "row", "rows"))}
	}
	for n := max(0, i-linesAround); n <= min(sheet.Len()-1, i+linesAround); n++ {
		a.Around = append(a.Around, RawLine{int(sheet.Record(n).Line), sheet.Text(n), n == i})
	}
	var describing ImportAnswer
	describing.ColumnMap = map[string]string{}
	describing.describe(sheet.mapping)
	for n, text := range sheet.Cells(i, nil) {
		c := SheetCell{Text: text}
		if n < len(sheet.Header) {
			c.Heading = sheet.Header[n]
			if k := slices.IndexFunc(describing.Columns, func(m MappedColumn) bool { return m.Heading == c.Heading }); k >= 0 {
				c.Field, c.Reading = describing.Columns[k].Field, describing.Columns[k].Reading
			}
		}
		a.Cells = append(a.Cells, c)
	}
	held, err := s.Held(ctx, of.ID)
	for _, h := range held {
		if h.Line == q.Line {
			a.Held = h.Reason
		}
	}
	return a, err
}

// sheetMeant finds a sheet in use by its number or the beginning of its hash.
func (s *Shop) sheetMeant(ctx context.Context, text string) (of sqlite.SheetRecord, err error) {
	var sheets []sqlite.SheetRecord
	err = s.store.View(ctx, func(v *sqlite.View) error {
		sheets, err = v.Sheets(ctx)
		return err
	})
	if err != nil {
		return of, err
	}
	i := slices.IndexFunc(sheets, func(k sqlite.SheetRecord) bool { return fmt.Sprint(k.ID) == text })
	if i < 0 && len(text) >= shortestHash {
		i = slices.IndexFunc(sheets, func(k sqlite.SheetRecord) bool { return strings.HasPrefix(k.SHA256, strings.ToLower(text)) })
	}
	if i < 0 {
		return of, &UnknownSheet{Sheet: cmp.Or(text, "?")}
	}
	return sheets[i], nil
}

// UnknownSheet says that no sheet in use goes by a number or hash.
type UnknownSheet struct{ Sheet string }

// Error returns the problem.
func (e *UnknownSheet) Error() string {
	return fmt.Sprintf("the sheet %s is not in use any more: a newer one has taken its place, or it was taken back", e.Sheet)
}
