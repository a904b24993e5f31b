package app

import (
	"cmp"
	"context"
	"errors"
	"fmt"
	"slices"
	"strings"
	"sync"
	"time"

	"fitfill/catalog"
	"fitfill/catalog/sqlite"
	"fitfill/compat/audit"
	"fitfill/compat/codes"
	"fitfill/compat/coolant"
	"fitfill/compat/fit"
	"fitfill/compat/job"
	"fitfill/data"
	"fitfill/importers"
)

// TableKind is the kind of a sheet that holds a garage's own rows of a
// reference table.
const TableKind catalog.SheetKind = "table"

// ownSource is what a row of the garage's own is cited as.
func ownSource(sheet string) catalog.Source {
	return catalog.Source{Key: "own", Title: "your own table " + sheet, Mark: catalog.OwnMeasure}
}

// useOwnTables puts the garage's own rows in place of the shipped ones. Own
// rows that no longer can be read are left out as a whole; OwnProblem then says
// why, so that the program stays usable and nobody is left in the dark.
func (s *Shop) useOwnTables(ctx context.Context) error {
	var own []sqlite.OwnTable
	err := s.store.View(ctx, func(v *sqlite.View) (err error) {
		if s.ownState, err = v.OwnTablesState(ctx); err != nil || s.ownState == "" {
			return err
		}
		own, err = v.OwnTables(ctx)
		return err
	})
	if err != nil || len(own) == 0 {
		return err
	}
	ref, err := overlaid(s.whole(), own)
	if err == nil {
		err = s.readTables(ref)
	}
	if err != nil {
		s.OwnProblem = "your own tables cannot be used, so the shipped ones count: " + err.Error()
		return nil
	}
	s.shipped, s.own = shippedTables{s.whole(), s.coolant}, own
	s.takeTables(ref)
	return nil
}

// shippedTables are the tables without the garage's own rows.
type shippedTables struct {
	ref     catalog.Reference
	coolant func() *coolant.Tables
}

// readTables reports whether every part of the program can read the tables.
func (s *Shop) readTables(ref catalog.Tables) error {
	_, fitting := fit.NewTables(ref)
	_, mixing := coolant.NewTables(ref)
	_, jobs := job.NewTables(ref)
	_, trouble := codes.NewTables(ref)
	_, audits := audit.NewTables(ref)
	_, _, back := (&Shop{ref: ref}).returnTables(SuppliersQuestion{})
	return cmp.Or(fitting, mixing, jobs, trouble, audits, back)
}

// takeTables makes s answer by these tables, which were read before or are
// those of this program.
func (s *Shop) takeTables(ref catalog.Tables) {
	s.ref = ref
	s.fit = sync.OnceValue(func() *fit.Tables { return sound(fit.OnDemand(ref)) })
	s.coolant = sync.OnceValue(func() *coolant.Tables { return sound(coolant.NewTables(ref)) })
	s.job = sync.OnceValue(func() *job.Tables { return sound(job.NewTables(ref)) })
	s.words = shippedWords
	if ref != data.Shipped() {
		s.words = sync.OnceValues((&Shop{ref: ref}).counterWords) // of these tables, whatever a copy of s takes later
	}
	s.records = &keptRecords{}
}

// sound returns tables that cannot be damaged: a garage's own rows were tried
// by readTables before, and a program whose own tables cannot be read was built
// wrong and fails its tests.
func sound[T any](tables T, err error) T {
	if err != nil {
		panic(fmt.Sprintf("the reference tables of this program are damaged: %v", err))
	}
	return tables
}

// whole returns every table, for what reads sheets by many of them.
func (s *Shop) whole() catalog.Reference {
	if all, ok := s.ref.(catalog.Reference); ok {
		return all
	}
	return sound(data.Reference())
}

// overlaid returns the reference with the garage's own rows in it.
func overlaid(ref catalog.Reference, own []sqlite.OwnTable) (catalog.Reference, error) {
	shapes, err := data.Shapes()
	if err != nil {
		return nil, err
	}
	out := catalog.Reference{}
	for name, rows := range ref {
		out[name] = rows
	}
	for _, t := range own {
		i := slices.IndexFunc(shapes, func(s data.Shape) bool { return s.Table == t.Name })
		if i < 0 {
			return nil, fmt.Errorf("there is no table %s any more", t.Name)
		}
		rows := slices.Clone(t.Rows)
		for n := range rows {
			rows[n].Source = ownSource(t.Sheet)
		}
		out[t.Name], _, _ = shapes[i].Overlay(ref[t.Name], rows)
	}
	return out, nil
}

// importTable takes a sheet of the same shape as a reference table: its rows
// take the place of the shipped ones with the same key, others are added.
func (s *Shop) importTable(ctx context.Context, q ImportQuestion) (ImportAnswer, error) {
	a := newImportAnswer(q.Name)
	a.Kind = TableKind
	shape, err := shapeNamed(q)
	if err != nil {
		return a, err
	}
	settings := merged(map[string]string{"header": "1"}, q.Settings)
	sheet, err := importers.OpenFile(s.whole(), q.Name, q.content(), s.scratch, settings)
	if err != nil {
		return a, err
	}
	defer sheet.Close()
	base := s.shipped.ref
	if base == nil {
		base = s.whole()
	}
	rows, err := ownRows(sheet, shape, base[shape.Table])
	if err != nil {
		return a, err
	}
	table := sqlite.OwnTable{Name: shape.Table, Sheet: q.Name, SHA256: sheet.SHA256, ImportedAt: s.now().UTC().Format(time.RFC3339), Rows: rows}
	var before []sqlite.OwnTable
	err = s.store.View(ctx, func(v *sqlite.View) (err error) {
		before, err = v.OwnTables(ctx)
		return err
	})
	if err != nil {
		return a, err
	}
	all := []sqlite.OwnTable{table}
	for _, b := range before {
		switch {
		case b.Name != table.Name:
			all = append(all, b)
		case b.SHA256 == table.SHA256 && b.Sheet == table.Sheet:
			a.Status = Unchanged
		}
	}
	_, replaced, added := shape.Overlay(base[shape.Table], rows)
	a.Table, a.RowsRead, a.RowsTaken = shape.Table, len(rows), len(rows)
	a.Changes.Changed, a.Changes.Added = replaced, added
	for _, h := range sheet.Header {
		a.ColumnMap[h] = h
	}
	ref, err := overlaid(base, all)
	if err == nil {
		err = s.readTables(ref)
	}
	if err != nil {
		return a, &UsageError{Problem: fmt.Sprintf("%s cannot be used as %s: %v", q.Name, shape.Table, err), Hint: "compare it with: fitfill sheets tables show " + shape.Table}
	}
	if a.Status == Unchanged || q.Check {
		if q.Check {
			a.Status = Staged
		}
		return a, nil
	}
	a.Status = Imported
	return a, s.store.KeepOwnTable(ctx, table)
}

// shapeNamed finds the table that a sheet is for: as said, else by its name.
func shapeNamed(q ImportQuestion) (data.Shape, error) {
	shapes, err := data.Shapes()
	if err != nil {
		return data.Shape{}, err
	}
	name := strings.TrimSpace(q.Table)
	if name == "" {
		name, _, _ = strings.Cut(q.Name, ".")
	}
	var names []string
	for _, s := range shapes {
		if strings.EqualFold(s.Table, name) {
			return s, nil
		}
		names = append(names, s.Table)
	}
	return data.Shape{}, &UsageError{
		Problem: fmt.Sprintf("there is no table called %q", name),
		Hint:    nearestHint(name, names, "name it with --table; fitfill sheets tables lists them"),
	}
}

// ownShape are the faults of a record that its number of cells settles here.
var ownShape = []importers.Fault{importers.NoFault, importers.MissingCell, importers.ExtraCell, importers.OtherTable, importers.ShiftedCells}

// ownRows reads the rows of a sheet as rows of a table. A column that the
// sheet leaves out keeps what the shipped row of the same key has.
func ownRows(sheet *importers.Sheet, shape data.Shape, shipped []catalog.RefRow) ([]catalog.RefRow, error) {
	bad := func(format string, args ...any) error {
		return &UsageError{Problem: sheet.Name + ": " + fmt.Sprintf(format, args...), Hint: "write it like: fitfill sheets tables show " + shape.Table}
	}
	for _, h := range sheet.Header {
		if !slices.Contains(shape.Columns, h) {
			return nil, bad("%s has no column %q; its columns are %s", shape.Table, h, strings.Join(shape.Columns, ", "))
		}
	}
	for _, key := range shape.Key {
		if !slices.Contains(sheet.Header, key) {
			return nil, bad("the column %s is missing, which names the rows of %s", key, shape.Table)
		}
	}
	byKey := map[string]catalog.RefRow{}
	for _, r := range shipped {
		byKey[shape.Of(r)] = r
	}
	var rows []catalog.RefRow
	seen := map[string]int{}
	for i, rec := range sheet.Records() {
		text := sheet.Text(i)
		switch {
		case rec.Class == importers.ClassHeading, rec.Class == importers.ClassBlank, strings.HasPrefix(text, "#"):
			continue
		case !slices.Contains(ownShape, rec.Fault):
			return nil, bad("line %d cannot be read: %s", rec.Line, rec.Fault.Code())
		}
		cells := sheet.Cells(i, nil)
		if len(cells) != len(sheet.Header) {
			return nil, bad("line %d has %d cells where the heading has %d", rec.Line, len(cells), len(sheet.Header))
		}
		r := catalog.RefRow{Table: shape.Table, Line: int(rec.Line), Cells: map[string]string{}, Own: catalog.Origin{Sheet: sheet.Name, SHA256: sheet.SHA256, Line: int(rec.Line), Text: text}}
		for n, h := range sheet.Header {
			r.Cells[h] = strings.TrimSpace(cells[n])
		}
		key := shape.Of(r)
		if at := seen[key]; at > 0 && !shape.Many {
			return nil, bad("lines %d and %d are about the same: %s", at, rec.Line, key)
		}
		seen[key] = int(rec.Line)
		for _, c := range shape.Columns {
			if _, said := r.Cells[c]; !said && !shape.Many {
				r.Cells[c] = byKey[key].Cell(c)
			}
		}
		rows = append(rows, r)
	}
	if len(rows) == 0 {
		return nil, bad("it holds no rows")
	}
	return rows, nil
}

// DropOwnTable goes back to the shipped rows of a table.
func (s *Shop) DropOwnTable(ctx context.Context, table string) error {
	err := s.store.DropOwnTable(ctx, table)
	if errors.Is(err, sqlite.ErrNotFound) {
		return &UsageError{Problem: fmt.Sprintf("you have no table %q of your own", table), Hint: "see: fitfill sheets tables"}
	}
	return err
}
