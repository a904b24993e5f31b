package app

import (
	"context"
	"encoding/json"
	"errors"
	"fmt"
	"os"
	"path/filepath"
	"strings"
	"time"

	"fitfill/catalog"
	"fitfill/catalog/bleveindex"
	"fitfill/catalog/sqlite"
	"fitfill/importers"
)

// ImportQuestion is a sheet to be imported, with what the user says about it.
type ImportQuestion struct {
	Name     string // file name, shown in every answer that rests on the sheet
	Raw      []byte
	Supplier string
	As       string            // kind of sheet; empty: read off the headings
	Maps     map[string]string // our field -> their heading
	Ignore   []string          // headings to set aside
	Settings map[string]string // decimal, dates, unit, currency, separator, header
	Accept   []string          // what the user accepts although it was asked about
	Check    bool              // only say what would happen
}

// Pairs reads a list of name=value. An entry without a name or a value is a
// UsageError that names the flag.
func Pairs(flag string, list []string) (map[string]string, error) {
	pairs := map[string]string{}
	for _, p := range list {
		name, value, ok := strings.Cut(p, "=")
		if !ok || name == "" || value == "" {
			return nil, &UsageError{Problem: fmt.Sprintf("%s %q has no value", flag, p), Hint: "write it like " + flag + ` name="value"`}
		}
		pairs[strings.TrimSpace(name)] = value
	}
	return pairs, nil
}

// Status says what became of a sheet.
type Status string

// The statuses.
const (
	Imported  Status = "imported"
	Staged    Status = "staged"
	Unchanged Status = "unchanged"
)

// ImportAnswer is what became of a sheet.
type ImportAnswer struct {
	Status      Status            `json:"status"`
	Open        []OpenQuestion    `json:"open"`
	Sheet       string            `json:"sheet"`
	Supplier    string            `json:"supplier"`
	NewSupplier bool              `json:"new_supplier"`
	Kind        catalog.SheetKind `json:"kind"`
	RowsRead    int               `json:"rows_read"`
	RowsTaken   int               `json:"rows_taken"`
	RowsHeld    int               `json:"rows_held"`
	RowsSkipped int               `json:"rows_skipped"`
	Columns     []MappedColumn    `json:"-"`
	ColumnMap   map[string]string `json:"columns"`
	Ignored     []string          `json:"ignored"`
	Held        []catalog.HeldRow `json:"held"`
	Changes     sqlite.Changes    `json:"changes"`
	Replaces    []string          `json:"replaces"`
}

// MappedColumn is a column with the field that it fills and how it is read.
type MappedColumn struct{ Heading, Field, Reading string }

// OpenQuestion is something that only a person can decide, with the words that
// go on the command line to decide it.
type OpenQuestion struct {
	Question string   `json:"question"`
	Choices  []string `json:"choices"`
	Command  string   `json:"command"`
}

// acceptSupplier is the word after --accept that adds a supplier although its
// name is close to that of a known one.
const acceptSupplier = "new-supplier"

// Import reads a sheet and, if nothing about it is open, puts it into the
// catalogue in one transaction. An open question leaves the catalogue as it is.
func (s *Shop) Import(ctx context.Context, q ImportQuestion) (ImportAnswer, error) {
	a := ImportAnswer{Sheet: q.Name, Open: []OpenQuestion{}, Held: []catalog.HeldRow{}, Ignored: []string{}, Replaces: []string{}, ColumnMap: map[string]string{}}
	sheet, err := importers.Open(s.ref, q.Name, q.Raw, q.Settings)
	if err != nil {
		return a, err
	}
	if a.Kind, err = s.kindOf(q, sheet); err != nil {
		return a, err
	}
	var known []sqlite.SheetRecord
	var suppliers []sqlite.Supplier
	err = s.store.View(ctx, func(v *sqlite.View) error {
		if suppliers, err = v.Suppliers(ctx); err != nil {
			return err
		}
		known, err = v.Sheets(ctx)
		return err
	})
	if err != nil {
		return a, err
	}
	if err := s.nameSupplier(q, suppliers, &a); err != nil {
		return a, err
	}
	sheet.Supplier = a.Supplier
	mapping, questions := importers.Propose(s.ref, a.Kind, sheet, importers.Options{
		Maps: q.Maps, Ignore: q.Ignore, Settings: q.Settings, Saved: savedMapping(known, a, sheet.Header),
	})
	a.describe(mapping)
	for _, o := range questions {
		a.Open = append(a.Open, openQuestion(o))
	}
	if len(a.Open) > 0 {
		a.Status, a.RowsRead = Staged, sheet.Rows()
		return a, nil
	}
	encoded, err := json.Marshal(mapping)
	if err != nil {
		return a, err
	}
	for _, k := range known {
		if k.SHA256 == sheet.SHA256 && k.Kind == a.Kind && k.Supplier == a.Supplier && k.Mapping == string(encoded) {
			a.Status = Unchanged
			a.RowsRead, a.RowsTaken, a.RowsHeld, a.RowsSkipped = k.Counts.Read, k.Counts.Taken, k.Counts.Held, k.Counts.Skipped
			return a, nil
		}
	}
	return a, s.stage(ctx, q, sheet, mapping, string(encoded), &a)
}

func (s *Shop) kindOf(q ImportQuestion, sheet *importers.Sheet) (catalog.SheetKind, error) {
	if q.As == "" {
		kind, ok := importers.GuessKind(s.ref, sheet.Header)
		if !ok {
			kind = catalog.SupplierSheet
		}
		if ok && kind != catalog.SupplierSheet && q.Supplier != "" {
			kind = catalog.SupplierSheet
		}
		return kind, nil
	}
	var names []string
	for _, k := range catalog.SheetKinds {
		if string(k) == q.As {
			return k, nil
		}
		names = append(names, string(k))
	}
	return "", &UsageError{Problem: fmt.Sprintf("there is no kind of sheet called %q", q.As), Hint: "the kinds are " + strings.Join(names, ", ")}
}

// nameSupplier finds out whose sheet it is. A new name that is nearly a known
// one is a question, since a misspelt name would split a supplier in two.
func (s *Shop) nameSupplier(q ImportQuestion, suppliers []sqlite.Supplier, a *ImportAnswer) error {
	if a.Kind != catalog.SupplierSheet {
		return nil
	}
	name := strings.TrimSpace(q.Supplier)
	if catalog.Fold(name) == "" {
		return &UsageError{Problem: fmt.Sprintf("%s is a supplier's sheet: whose?", q.Name), Hint: fmt.Sprintf("fitfill import %q --supplier NAME (or --as engines, vehicles, purchases, returns, fills, fitted)", q.Name)}
	}
	if known, err := supplierName(name, suppliers); err == nil {
		a.Supplier = known
		return nil
	}
	a.Supplier, a.NewSupplier = name, true
	for _, accepted := range q.Accept {
		if accepted == acceptSupplier {
			return nil
		}
	}
	for _, k := range suppliers {
		if nearlySame(k.Name, name) {
			a.Open = append(a.Open, OpenQuestion{
				Question: fmt.Sprintf("Is %q the supplier that is on file as %q?", name, k.Name),
				Choices:  []string{k.Name, name},
				Command:  fmt.Sprintf("if it is: --supplier %q; if it is another: --accept %s", k.Name, acceptSupplier),
			})
			return nil
		}
	}
	return nil
}

// nearlySame reports whether two names differ by a slip of the keys, or by a
// word that one of them has more. Names with different figures ("Depot 1",
// "Depot 2") are meant to differ.
func nearlySame(a, b string) bool {
	a, b = catalog.Fold(a), catalog.Fold(b)
	if figures(a) != figures(b) {
		return false
	}
	if len(a) > len(b) {
		a, b = b, a
	}
	return strings.HasPrefix(b, a+" ") || len(a) >= 5 && distance(a, b) <= 2
}

// savedMapping returns the mapping of the supplier's last sheet whose headings
// are most like these.
func savedMapping(known []sqlite.SheetRecord, a ImportAnswer, header []string) *importers.Mapping {
	in := map[string]bool{}
	for _, h := range header {
		in[h] = true
	}
	var best *importers.Mapping
	most := 0
	for _, k := range known {
		if k.Kind != a.Kind || k.Supplier != a.Supplier {
			continue
		}
		var m importers.Mapping
		if json.Unmarshal([]byte(k.Mapping), &m) != nil {
			continue // written by a version that mapped differently: propose anew
		}
		common := 0
		for _, c := range m.Columns {
			if in[c.Heading] {
				common++
			}
		}
		if common > 0 && common >= most {
			best, most = &m, common
		}
	}
	return best
}

func figures(text string) string {
	return strings.Map(func(r rune) rune {
		if r >= '0' && r <= '9' {
			return r
		}
		return -1
	}, text)
}

func (a *ImportAnswer) describe(m importers.Mapping) {
	for _, c := range m.Columns {
		a.ColumnMap[c.Heading] = c.Field
		var reading []string
		if c.Unit != "" {
			reading = append(reading, "in "+string(c.Unit))
		}
		if c.Currency != "" {
			reading = append(reading, "in "+c.Currency)
		}
		if c.Decimal == importers.Comma {
			reading = append(reading, "decimal comma")
		}
		if c.Dates != "" {
			reading = append(reading, "dates "+c.Dates)
		}
		a.Columns = append(a.Columns, MappedColumn{c.Heading, c.Field, strings.Join(reading, ", ")})
	}
	a.Ignored = append(a.Ignored, m.Ignored...)
}

func openQuestion(o importers.Question) OpenQuestion {
	q := OpenQuestion{Question: o.Question, Choices: o.Choices, Command: o.Command}
	if q.Choices == nil {
		q.Choices = []string{}
	}
	return q
}

// stage moves the sheet's rows through the staging file into the catalogue.
func (s *Shop) stage(ctx context.Context, q ImportQuestion, sheet *importers.Sheet, mapping importers.Mapping, encoded string, a *ImportAnswer) (err error) {
	lock, err := s.store.LockImports()
	if err != nil {
		return err
	}
	defer func() { err = errors.Join(err, lock.Unlock()) }()
	info := sqlite.SheetInfo{
		Supplier: a.Supplier, Kind: a.Kind, Name: sheet.Name, SHA256: sheet.SHA256, Raw: sheet.Raw, Mapping: encoded,
		ImportedAt: s.now().UTC().Format(time.RFC3339),
	}
	for _, c := range mapping.Columns {
		info.Fields = append(info.Fields, c.Field)
	}
	st, err := s.store.NewStage(ctx, lock, info)
	if err != nil {
		return err
	}
	defer func() { err = errors.Join(err, st.Discard()) }()
	report, err := importers.Read(s.ref, sheet, mapping, func(row catalog.SheetRow) error { return st.Add(ctx, row) })
	if err != nil {
		return err
	}
	a.RowsRead, a.RowsTaken, a.RowsHeld, a.RowsSkipped = report.RowsRead, report.RowsTaken, report.RowsHeld, report.RowsSkipped
	a.Held = append(a.Held, report.Held...)
	replaced, changes, err := st.Plan(ctx)
	if err != nil {
		return err
	}
	a.Changes = changes
	for _, r := range replaced {
		a.Replaces = append(a.Replaces, r.Name)
	}
	if q.Check {
		a.Status = Staged
		a.Open = append(a.Open, OpenQuestion{
			Question: "Only checked, as asked. Import it?", Choices: []string{"yes", "no"}, Command: "the same command without --check",
		})
		return nil
	}
	return s.commit(ctx, lock, st, report, a)
}

func (s *Shop) commit(ctx context.Context, lock *sqlite.ImportLock, st *sqlite.Stage, report importers.Report, a *ImportAnswer) error {
	folder := ""
	if a.Kind == catalog.SupplierSheet {
		folder = st.IndexFolder()
		// A killed import may have left a folder of this name; nobody points to it.
		if err := os.RemoveAll(filepath.Join(s.store.IndexDir(), folder)); err != nil {
			return err
		}
		count, err := bleveindex.Build(s.store.IndexDir(), folder, func(do func(catalog.SearchDoc) error) error {
			return st.SearchDocs(ctx, func(d catalog.SearchDoc) error { return errors.Join(ctx.Err(), do(d)) })
		})
		if err != nil {
			return err
		}
		if count == 0 {
			folder = ""
		}
	}
	counts := sqlite.Counts{Read: report.RowsRead, Taken: report.RowsTaken, Held: report.RowsHeld, Skipped: report.RowsSkipped}
	if _, err := st.Commit(ctx, counts, report.Held, folder); err != nil {
		if folder != "" {
			err = errors.Join(err, os.RemoveAll(filepath.Join(s.store.IndexDir(), folder)))
		}
		return err
	}
	a.Status = Imported
	if err := s.store.Purge(ctx, lock); err != nil {
		return err
	}
	return s.dropOldIndexes(ctx)
}

// dropOldIndexes deletes the index folders that neither the present nor the
// generation before it needs. The caller holds the import lock.
func (s *Shop) dropOldIndexes(ctx context.Context) error {
	keep := map[string]bool{}
	err := s.store.View(ctx, func(v *sqlite.View) error {
		suppliers, err := v.Suppliers(ctx)
		if err != nil {
			return err
		}
		for _, sup := range suppliers {
			keep[sup.IndexFolder] = true
		}
		return nil
	})
	if err != nil {
		return err
	}
	entries, err := os.ReadDir(s.store.IndexDir())
	if err != nil {
		return err
	}
	for _, name := range sqlite.StaleFolders(entries, keep) {
		if err := os.RemoveAll(filepath.Join(s.store.IndexDir(), name)); err != nil {
			return err
		}
	}
	return nil
}

// AddSupplierName makes other another name of a known supplier.
func (s *Shop) AddSupplierName(ctx context.Context, name, other string) error {
	err := s.store.AddSupplierName(ctx, name, other)
	if errors.Is(err, sqlite.ErrNotFound) {
		return &UsageError{Problem: fmt.Sprintf("no supplier is called %q", name), Hint: "the first name must be one that sheets were imported under: fitfill sheets list"}
	}
	return err
}
