package sqlite

import (
	"context"
	"database/sql"
	"errors"
	"fmt"
	"os"
	"path/filepath"
	"slices"

	"fitfill/catalog"
)

// SheetInfo is what is known of a sheet before its rows are staged.
type SheetInfo struct {
	Supplier   string // canonical name; empty for the garage's own sheets
	Kind       catalog.SheetKind
	Name       string
	SHA256     string
	File       Content  // the file's own bytes
	Lines      Content  // its text in UTF-8; nil or File where that is the same
	Workbook   Content  // what the text was written out of, to be kept too; nil: nothing
	Mapping    string   // the column mapping as the importer writes it
	Fields     []string // our field names among the columns
	ImportedAt string   // RFC 3339
	StagedID   int64    // the number it was staged under; 0: it was not
	Place      Place    // what a person said about earlier sheets in doubt
}

// Counts is the sum of a sheet's rows.
type Counts struct{ Read, Taken, Held, Skipped int }

// nextSheetID returns the number of the next sheet; sheets that wait for a
// decision have theirs already.
func (s *Store) nextSheetID(ctx context.Context) (id int64, err error) {
	err = s.write.QueryRowContext(ctx, `SELECT 1 + max(coalesce((SELECT max(id) FROM sheet), 0), coalesce((SELECT max(id) FROM staged), 0),
		coalesce((SELECT max(sheet_id) FROM decision), 0))`).Scan(&id)
	return id, busy(err)
}

// Stage is an import under way: its rows lie in a file of their own, so that
// the catalogue is locked for the commit alone.
type Stage struct {
	store       *Store
	info        SheetInfo
	supplierID  int64
	newSupplier bool // not on file before the commit
	sheetID     int64
	dict        *dictionary
	path        string
	db          *sql.DB
	tx          *sql.Tx
	tables      map[string]*bulk
	repeats     map[uint64]int64
	identities  map[string]uint64
	said        map[string]bool // facts of engines stated so far
	taken       int
	left        leftBehind
	plan        *plan
	amends      int64 // the earlier reading of the same file that this one replaces
	corrections []Correction
	amendNote   string
}

// stageSchema mirrors the catalogue's tables without indexes: rows are only
// appended here and read once. The numbers of fitments are declared as such,
// because an index on a column without a type serves no comparison with one of
// the catalogue's.
const stageSchema = `
CREATE TABLE fact (part_id INTEGER, field INTEGER, sheet_id INTEGER, line INTEGER, value INTEGER, word INTEGER, text INTEGER);
CREATE TABLE fitment (application_id INTEGER, part_id INTEGER, sheet_id INTEGER, line INTEGER);
CREATE TABLE cross_reference (part_id, other_supplier, other_number, other_key, relation, sheet_id, line);
CREATE TABLE engine_fact (family, circuit, field, sheet_id, line, value, word, text);
CREATE TABLE purchase (line, content, repeat, day, supplier, number, type, quantity, price, currency, price_text, document, vehicle);
CREATE TABLE returned (line, content, repeat, day, supplier, number, quantity, reason, purchase_day, purchase_text, fitted_day, fitted_text, document, note);
CREATE TABLE vehicle (line, content, repeat, mark, vin, engine, first_fill);
CREATE TABLE fill (line, content, repeat, day, vehicle, engine, circuit, number, chemistry, colour, strength, strength_text, volume, volume_text, drained, drained_text, note);
CREATE TABLE fitted (line, content, repeat, day, vehicle, number, supplier, measured);
`

// NewStage begins to stage a sheet. The caller holds the import lock and calls
// Commit or Discard.
func (s *Store) NewStage(ctx context.Context, lock *ImportLock, info SheetInfo) (*Stage, error) {
	if lock == nil {
		return nil, errors.New("an import needs the import lock")
	}
	st := &Stage{store: s, info: info, repeats: map[uint64]int64{}, identities: map[string]uint64{}, said: map[string]bool{}, tables: map[string]*bulk{}}
	var err error
	if info.Supplier != "" {
		if st.supplierID, st.newSupplier, err = s.supplierNumber(ctx, info.Supplier); err != nil {
			return nil, err
		}
	}
	if st.sheetID = info.StagedID; st.sheetID == 0 {
		if st.sheetID, err = s.nextSheetID(ctx); err != nil {
			return nil, err
		}
	}
	dir := filepath.Join(s.dir, stageFolder)
	if err := os.MkdirAll(dir, 0o755); err != nil {
		return nil, fmt.Errorf("make the staging folder: %w", err)
	}
	if st.dict, err = s.dictionary(ctx, dir, st.supplierID); err != nil {
		return nil, err
	}
	st.path = filepath.Join(dir, fmt.Sprintf("sheet-%d.db", st.sheetID))
	// Nothing here outlives a crash, so nothing needs to be synced.
	if st.db, err = open(st.path, "_pragma=busy_timeout(10000)", "_pragma=journal_mode(OFF)", "_pragma=synchronous(OFF)"); err != nil {
		return nil, errors.Join(err, st.Discard())
	}
	st.db.SetMaxOpenConns(1)
	if _, err := st.db.ExecContext(ctx, stageSchema); err != nil {
		return nil, errors.Join(fmt.Errorf("begin staging: %w", err), st.Discard())
	}
	if st.tx, err = st.db.BeginTx(ctx, nil); err != nil {
		return nil, errors.Join(err, st.Discard())
	}
	return st, nil
}

// Discard gives up the import; the catalogue stays as it was.
func (st *Stage) Discard() error {
	var err error
	if st.tx != nil {
		_ = st.tx.Rollback() // what was cancelled has none left, and the file goes
		st.tx = nil
	}
	if st.db != nil {
		err = st.db.Close()
		st.db = nil
	}
	return errors.Join(err, st.dict.close(), os.RemoveAll(st.path))
}

// into appends a row to a table of the staging file.
func (st *Stage) into(ctx context.Context, table string, values ...any) error {
	b := st.tables[table]
	if b == nil {
		var err error
		if b, err = newBulk(ctx, st.tx, table, len(values)); err != nil {
			return err
		}
		st.tables[table] = b
	}
	st.left.rows++
	return b.add(ctx, values...)
}

func (st *Stage) add(ctx context.Context, row catalog.SheetRow) error {
	switch {
	case row.Part != nil:
		return st.addPart(ctx, row.Line, row.Part)
	case row.Engine != nil:
		return st.addEngine(ctx, row.Line, row.Engine)
	case row.Purchase != nil:
		return st.addPurchase(ctx, row.Line, row.Purchase)
	case row.Return != nil:
		return st.addReturn(ctx, row.Line, row.Return)
	case row.Vehicle != nil:
		return st.addVehicle(ctx, row.Line, row.Vehicle)
	case row.Fill != nil:
		return st.addFill(ctx, row.Line, row.Fill)
	case row.Fitted != nil:
		return st.addFitted(ctx, row.Line, row.Fitted)
	}
	return fmt.Errorf("line %d says nothing that can be kept", row.Line)
}

var partFieldBit = func() map[string]uint64 {
	m := map[string]uint64{}
	for i, f := range catalog.PartFields() {
		m[f.Name] = 1 << i
	}
	return m
}()

func (st *Stage) addPart(ctx context.Context, line int, row *catalog.PartRow) error {
	parts := &st.dict.parts
	p, err := parts.part(catalog.Key(row.Number), row.Number)
	if err != nil {
		return fmt.Errorf("line %d: %w", line, err)
	}
	id := parts.id(p)
	parts.named[p] = true
	for _, f := range row.Facts {
		bit := partFieldBit[f.Field]
		if bit == 0 {
			return fmt.Errorf("line %d: %q is not a field of a part", line, f.Field)
		}
		if parts.seen[p]&bit != 0 {
			continue // the importer holds rows that contradict each other, so this repeats the first
		}
		parts.seen[p] |= bit
		parts.content[p] += uint64(fnvOffset.text(f.Field).number(f.Int).text(f.Word).text(f.Text))
		var word any
		if f.Word != "" {
			word = st.dict.word(f.Word)
		}
		if err := st.into(ctx, "fact", id, st.dict.word(f.Field), st.sheetID, line, f.Int, word, st.dict.word(f.Text)); err != nil {
			return err
		}
	}
	var listed []int64
	for _, f := range row.Fitments {
		a := application{
			st.dict.word(f.Make), st.dict.word(f.Model), st.dict.word(f.Engine), st.dict.word(yearsText(f)),
			st.dict.word(f.VIN8), st.dict.word(f.WhereFitted), st.dict.word(f.Condition), st.dict.word(f.Quantity),
		}
		h := fnvOffset
		for _, w := range a {
			h = h.number(w)
		}
		parts.content[p] += uint64(h)
		app := st.dict.application(a)
		if slices.Contains(listed, app) {
			continue // said twice in one row, it is one statement
		}
		listed = append(listed, app)
		if err := st.into(ctx, "fitment", app, id, st.sheetID, line); err != nil {
			return err
		}
	}
	for _, x := range row.CrossRefs {
		key := catalog.Key(x.OtherNumber)
		parts.content[p] += uint64(fnvOffset.text(x.OtherSupplier).text(key).text(string(x.Relation)))
		if err := st.into(ctx, "cross_reference", id, x.OtherSupplier, x.OtherNumber, key, string(x.Relation), st.sheetID, line); err != nil {
			return err
		}
	}
	return nil
}

// yearsText writes model years so that they read back without the sheet's own
// conventions; the cell as it was written stands in the kept line.
func yearsText(f catalog.Fitment) string {
	if f.Years.Stated() {
		return f.Years.String()
	}
	return ""
}

func (st *Stage) addEngine(ctx context.Context, line int, row *catalog.EngineRow) error {
	circuit := row.Circuit
	if circuit == "" {
		circuit = catalog.DefaultCircuit
	}
	// The family itself is a fact, so that one without any other still exists.
	for _, f := range append([]catalog.Fact{{Field: "family", Word: row.Family, Text: row.Family}}, row.Facts...) {
		thing := catalog.Key(row.Family) + "\x00" + circuit
		if said := thing + "\x00" + f.Field; st.said[said] {
			continue // the importer holds rows that contradict each other, so this repeats the first
		} else {
			st.said[said] = true
		}
		st.identities[thing] += engineContent(f.Field, f.Int, f.Word, f.Text)
		if err := st.into(ctx, "engine_fact", row.Family, circuit, f.Field, st.sheetID, line, f.Int, f.Word, f.Text); err != nil {
			return err
		}
	}
	return nil
}

func engineContent(field string, value int64, word, text string) uint64 {
	return uint64(fnvOffset.text(field).number(value).text(word).text(text))
}

// finish writes what is still buffered.
func (st *Stage) finish(ctx context.Context) error {
	if st.tx == nil {
		return nil
	}
	for _, b := range st.tables {
		if err := b.flush(ctx); err != nil {
			return err
		}
	}
	err := errors.Join(st.dict.err(), st.tx.Commit())
	st.tx = nil
	return err
}
