package app

import (
	"bytes"
	"context"
	"encoding/json"
	"fmt"
	"slices"
	"strings"

	"fitfill/catalog"
	"fitfill/catalog/sqlite"
	"fitfill/compat"
	"fitfill/data"
)

// OwnRow is a row of the garage's own that takes the place of a shipped one,
// or stands beside them.
type OwnRow struct {
	Table string `json:"table"`
	Row   string `json:"row"` // what names it
	Sheet string `json:"sheet"`
	Line  int    `json:"line"`
}

// OwnNote says that an answer rests on the garage's own tables.
type OwnNote struct {
	Rows    []OwnRow `json:"rows"`
	Shipped string   `json:"shipped,omitempty"` // what the shipped tables would have said, where that is another thing
}

// mostOwn is how many rows are named in words; JSON has them all.
const mostOwn = 3

// Says words the note for the end of an answer.
func (n *OwnNote) Says() string {
	var parts []string
	for _, r := range n.Rows[:min(mostOwn, len(n.Rows))] {
		parts = append(parts, fmt.Sprintf("%s %s (%s line %d)", r.Table, r.Row, r.Sheet, r.Line))
	}
	if more := len(n.Rows) - mostOwn; more > 0 {
		parts = append(parts, fmt.Sprintf("and %d more", more))
	}
	text := "Your own tables count here: " + strings.Join(parts, "; ") + "."
	if n.Shipped != "" {
		text += " The shipped ones say: " + n.Shipped + "."
	}
	return text
}

// ownRowsOf lists the garage's own rows of the tables whose names begin so.
func (s *Shop) ownRowsOf(area string) []OwnRow {
	if len(s.own) == 0 {
		return nil
	}
	shapes, err := data.Shapes()
	if err != nil {
		return nil
	}
	var list []OwnRow
	for _, t := range s.own {
		i := slices.IndexFunc(shapes, func(x data.Shape) bool { return x.Table == t.Name })
		if i < 0 || !strings.HasPrefix(t.Name, area) {
			continue
		}
		for _, r := range t.Rows {
			list = append(list, OwnRow{t.Name, shapes[i].Of(r), t.Sheet, r.Line})
		}
	}
	return list
}

// ownNote is the note of an answer that used tables of an area, nil where the
// garage has none of its own there.
func (s *Shop) ownNote(area string) *OwnNote {
	if rows := s.ownRowsOf(area); len(rows) > 0 {
		return &OwnNote{Rows: rows}
	}
	return nil
}

// ownDifference is the note of an answer that has been worked out both ways:
// nil where the garage's own rows made no difference, with those that the
// findings cite where there are such.
func (s *Shop) ownDifference(area string, now, shipped json.Marshaler, findings []compat.Finding, firstNow, firstShipped string) (*OwnNote, error) {
	a, err := now.MarshalJSON()
	if err != nil {
		return nil, err
	}
	b, err := shipped.MarshalJSON()
	if err != nil || bytes.Equal(a, b) {
		return nil, err
	}
	n := s.ownNote(area)
	if n == nil {
		return nil, nil
	}
	cited := slices.DeleteFunc(slices.Clone(n.Rows), func(r OwnRow) bool {
		return !slices.ContainsFunc(findings, func(f compat.Finding) bool {
			return slices.ContainsFunc(f.Origin, func(o compat.Evidence) bool { return o.Sheet == r.Sheet && o.Line == r.Line })
		})
	})
	if len(cited) > 0 {
		n.Rows = cited
	}
	if firstNow != firstShipped {
		n.Shipped = firstShipped
	}
	return n, nil
}

// OwnTable is a reference table and how much of it is the garage's own.
type OwnTable struct {
	Table string `json:"table"`
	About string `json:"about"`
	Rows  int    `json:"rows"`
	Own   int    `json:"own_rows"`
	Sheet string `json:"sheet,omitempty"`
	Since string `json:"since,omitempty"`
}

// Tables lists the reference tables that a garage may override.
func (s *Shop) Tables(ctx context.Context) ([]OwnTable, error) {
	shapes, err := data.Shapes()
	if err != nil {
		return nil, err
	}
	var own []sqlite.OwnTable
	err = s.store.View(ctx, func(v *sqlite.View) (err error) {
		own, err = v.OwnTables(ctx)
		return err
	})
	if err != nil {
		return nil, err
	}
	list := make([]OwnTable, 0, len(shapes))
	for _, x := range shapes {
		t := OwnTable{Table: x.Table, About: x.About, Rows: len(s.whole()[x.Table])}
		for _, o := range own {
			if o.Name == x.Table {
				t.Own, t.Sheet, t.Since = len(o.Rows), o.Sheet, o.ImportedAt
			}
		}
		list = append(list, t)
	}
	return list, nil
}

// Table returns the columns and the rows of a table as they count now, the
// garage's own among them.
func (s *Shop) Table(name string) ([]string, []catalog.RefRow, error) {
	x, err := shapeNamed(ImportQuestion{Table: name})
	if err != nil {
		return nil, nil, err
	}
	return x.Columns, s.whole()[x.Table], nil
}
