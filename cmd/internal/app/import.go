package app

import (
	"context"
	"encoding/json"
	"errors"
	"fmt"
	"slices"
	"strings"

	"fitfill/catalog/sqlite"
	"fitfill/importers"
)

// ImportQuestion is a sheet to be imported, with what the user says about it.
type ImportQuestion struct {
	Name     string         // file name, shown in every answer that rests on the sheet
	Raw      []byte         `json:"-"` // the sheet, where it lies in memory
	File     importers.File `json:"-"` // or the file that it lies in
	Supplier string
	As       string            // kind of sheet; empty: read off the headings
	Table    string            // reference table that a sheet of own rows is for; empty: read off its name
	Maps     map[string]string // our field -> their heading
	Ignore   []string          // headings to set aside
	Settings map[string]string // decimal, dates, unit, currency, separator, header
	Accept   []string          // what the user accepts although it was asked about
	Check    bool              // only say what would happen
	StagedID int64             // the number under which it waits already; 0: it does not

	anyDay bool // days ahead are taken: the demo's are what they are on any clock

	// Progress is called now and then with the rows taken and all rows.
	Progress func(done, all int) `json:"-"`
	// Unpacking is called now and then with the kilobytes of a packed file that were
	// unpacked, and all of them.
	Unpacking func(done, all int) `json:"-"`
}

// Pairs reads a list of name=value. An entry without a name or a value is a
// UsageError that names the flag.
func Pairs(flag string, list []string) (map[string]string, error) {
	pairs := map[string]string{}
	for _, p := range list {
		name, value, ok := strings.Cut(p, "=")
		if strings.Contains(name, ":") { // a setting of one column: its heading may hold the sign too
			at := strings.LastIndex(p, "=")
			name, value = p[:at], p[at+1:]
		}
		if !ok || name == "" || value == "" {
			return nil, &UsageError{Problem: fmt.Sprintf("%s %q has no value", flag, p), Hint: "write it like " + flag + ` name="value"`}
		}
		pairs[strings.TrimSpace(name)] = value
	}
	return pairs, nil
}

// Import reads a sheet and, if nothing about it is open, puts it into the
// catalogue in one transaction. An open question leaves the catalogue as it is.
func (s *Shop) Import(ctx context.Context, q ImportQuestion) (a ImportAnswer, err error) {
	if q.As == string(TableKind) {
		return s.importTable(ctx, q)
	}
	a = newImportAnswer(q.Name)
	gates, err := newGates(s.whole())
	if err != nil {
		return a, err
	}
	for _, word := range q.Accept {
		word, _, _ := strings.Cut(word, "=")
		if names := gates.names(); !slices.Contains(names, word) {
			return a, &UsageError{Problem: fmt.Sprintf("--accept %s accepts nothing", word), Hint: "it takes one of " + strings.Join(names, ", ")}
		}
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
	reader, err := s.readerOf(ctx, q)
	if err != nil {
		return a, err
	}
	defer func() { err = errors.Join(err, reader.Close()) }()
	q.File = reader.file
	defer whileReading(q.File)()
	sheet, err := reader.open(q.Settings)
	var choice *importers.SheetChoice
	if errors.As(err, &choice) {
		a.Supplier = strings.TrimSpace(q.Supplier)
		a.Open = append(a.Open, whichSheet(choice))
		digest, err := reader.sha256()
		return a, errors.Join(err, s.waitForDecision(ctx, q, digest, &a))
	}
	if err != nil {
		return a, err
	}
	if member := q.Settings["sheet"]; member != "" && strings.HasPrefix(sheet.Packed, "zip") && !strings.HasSuffix(q.Name, "/"+member) {
		q.Name += "/" + member // each sheet of an archive has its own name
		reader.name = q.Name
		sheet.Name, a.Sheet = q.Name, q.Name
	}
	if sheet.Packed != "" { // which of its sheets was meant may have been asked
		digest, err := reader.sha256()
		if err != nil {
			return a, err
		}
		if q.StagedID, err = s.stagedID(ctx, q, digest, strings.TrimSpace(q.Supplier)); err != nil {
			return a, err
		}
	}
	if sheet, err = s.asCorrections(sheet, q, reader); err != nil {
		return a, err
	}
	if importers.IsCorrection(sheet) {
		return a, s.importCorrections(ctx, q, sheet, known, gates, &a)
	}
	if a.Kind, err = s.kindOf(q, sheet); err != nil {
		return a, err
	}
	if err := s.nameSupplier(q, sheet.Header, known, suppliers, &a); err != nil {
		return a, err
	}
	saved := savedMapping(known, a, sheet.Header)
	if saved != nil && saved.Measured.SHA256 != sheet.SHA256 {
		saved.Settings = saved.Settings.Lasting()
	}
	if saved != nil && len(saved.Settings) > 0 { // what was said of the last sheet holds for this one
		if sheet, err = reader.open(merged(saved.Settings, q.Settings)); err != nil {
			return a, err
		}
	}
	sheet.Supplier = a.Supplier
	opt := importers.Options{Maps: q.Maps, Ignore: q.Ignore, Accept: q.Accept, Settings: q.Settings, Saved: saved}
	if opt.Known, opt.KnownNumbers, err = s.knownNumbers(ctx, a); err != nil {
		return a, err
	}
	proposal := importers.Suggest(s.whole(), a.Kind, sheet, opt)
	mapping := proposal.Mapping
	a.describe(mapping)
	a.Notes = append(a.Notes, sheet.Notes...)
	for _, text := range proposal.Notes {
		a.Notes = append(a.Notes, importers.FileNote{Code: "mapping", Text: text})
	}
	for _, o := range append(sheet.Questions(), proposal.Questions...) {
		a.Open = append(a.Open, openQuestion(o))
	}
	if len(a.Open) > 0 {
		a.RowsRead = sheet.Rows()
		return a, s.waitForDecision(ctx, q, sheet.SHA256, &a)
	}
	encoded, err := json.Marshal(mapping)
	if err != nil {
		return a, err
	}
	var am *amendment
	for _, k := range known {
		if k.SHA256 != sheet.SHA256 || k.Kind != a.Kind || k.Supplier != a.Supplier {
			continue
		}
		if k.Mapping == string(encoded) {
			a.unchanged(k)
			return a, s.sweep()
		}
		if am, err = s.amendmentOf(ctx, k.ID); err != nil {
			return a, err
		}
	}
	again, note, err := s.withoutForgotten(ctx, q, sheet, mapping)
	if err != nil {
		return a, err
	}
	if again != nil {
		a, err = s.Import(ctx, *again)
		a.Notes = append(a.Notes, note)
		return a, err
	}
	defer whileStaging(q.File)()
	return a, s.stage(ctx, q, sheet, mapping, opt, string(encoded), gates, am, &a)
}

// sweep removes what an import that was killed left behind, as whoever takes the
// lock does; an import that is under way has nothing to be swept.
func (s *Shop) sweep() error {
	if !s.store.HoldsLeavings() {
		return nil
	}
	lock, err := s.store.LockImports()
	if errors.Is(err, ErrBusy) {
		return nil
	}
	if err != nil {
		return err
	}
	return lock.Unlock()
}
