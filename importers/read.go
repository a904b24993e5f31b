package importers

import (
	"cmp"
	"fmt"
	"slices"

	"fitfill/catalog"
)

// Skip is a record that was passed over on purpose.
type Skip struct {
	Line  int    `json:"line"`
	Class string `json:"class"` // blank, repeated heading or footer
}

// Report says what became of every record of a sheet besides title lines and
// heading. RowsRead = RowsTaken + RowsHeld + RowsSkipped always.
type Report struct {
	RowsRead    int               `json:"rows_read"`
	RowsTaken   int               `json:"rows_taken"`
	RowsHeld    int               `json:"rows_held"`
	RowsSkipped int               `json:"rows_skipped"`
	Held        []catalog.HeldRow `json:"held,omitempty"`
	Skipped     []Skip            `json:"skipped,omitempty"`
}

// Read turns every record of the sheet into a row for emit, a held row or a
// skipped record, in the order of the file. Facts carry the sheet's name, hash,
// supplier and the line, but not the line's text. A row is held whole: for a
// wrong number of cells, for a cell that cannot be read, and, where rows of one
// part, engine or vehicle contradict each other, all of those rows. An error of
// emit ends the reading and is returned; a mapping of another sheet and counts
// that do not add up are errors.
func Read(ref catalog.Reference, s *Sheet, m Mapping, emit func(catalog.SheetRow) error) (Report, error) {
	if err := m.fits(s); err != nil {
		return Report{}, err
	}
	voc, err := newVocabulary(ref)
	if err != nil {
		return Report{}, err
	}
	p, err := newPlan(voc, m)
	if err != nil {
		return Report{}, err
	}
	r := newReading(s, p, emit)
	r.conflicts = findConflicts(s, p)
	for i := range s.Records {
		if err := r.record(i); err != nil {
			return r.report, err
		}
	}
	if err := r.flush(); err != nil {
		return r.report, err
	}
	return r.close()
}

// reading is the work of one Read.
type reading struct {
	sheet     *Sheet
	plan      *plan
	emit      func(catalog.SheetRow) error
	binder    binder
	head      []string
	rows      [][]string // canonical rows of the chunk
	raw       []string   // the sheet's own mapped cells of the chunk
	records   []int      // record of each row of the chunk
	context   rowContext
	conflicts map[int]*problem
	cells     []string
	report    Report
}

func newReading(s *Sheet, p *plan, emit func(catalog.SheetRow) error) *reading {
	r := &reading{sheet: s, plan: p, emit: emit, binder: p.kind.bind()}
	r.head = r.binder.header(p.fields())
	n := len(p.columns)
	r.raw = make([]string, n*chunkRows)
	store := make([]string, (n+1)*chunkRows)
	r.rows = make([][]string, chunkRows+1)
	r.rows[0] = r.head
	for i := range chunkRows {
		r.rows[i+1] = store[i*(n+1) : (i+1)*(n+1) : (i+1)*(n+1)]
		r.rows[i+1][0] = rowNumbers[i]
	}
	r.context = rowContext{plan: p, spans: map[string]yearsRead{},
		origin: catalog.Origin{Sheet: s.Name, SHA256: s.SHA256, Supplier: s.Supplier}}
	return r
}

// record puts one record of the sheet into the chunk, or sets it aside.
func (r *reading) record(i int) error {
	rec := &r.sheet.Records[i]
	switch rec.Class {
	case ClassTitle, ClassHeading:
		return nil
	case ClassData:
	default:
		r.report.RowsSkipped++
		r.report.Skipped = append(r.report.Skipped, Skip{int(rec.Line), rec.Class.String()})
		return nil
	}
	if p := r.sheet.structure(i); p != nil {
		r.hold(i, p, 1, "")
		return nil
	}
	r.cells = r.sheet.Cells(i, r.cells)
	k, n := len(r.records), len(r.plan.columns)
	row := r.rows[k+1]
	p, count := r.plan.canonical(r.cells, r.raw[k*n:(k+1)*n], row[1:])
	if p == nil && r.conflicts[i] != nil {
		p, count = r.conflicts[i], 1
	}
	if p != nil {
		r.hold(i, p, count, r.numberOf(row[1:]))
		return nil
	}
	if r.records = append(r.records, i); len(r.records) == chunkRows {
		return r.flush()
	}
	return nil
}

func (r *reading) numberOf(canon []string) string {
	for j, c := range r.plan.columns {
		if c.field.name == "number" {
			return canon[j]
		}
	}
	return ""
}

// flush binds the chunk and hands its rows on. A row that cannot be bound is
// held, and the rest is bound again.
func (r *reading) flush() error {
	n := len(r.plan.columns)
	for len(r.records) > 0 {
		err := r.binder.bind(r.rows[:len(r.records)+1])
		if err == nil {
			break
		}
		k, field, ok := badRow(err, r.head)
		if !ok || k >= len(r.records) {
			return fmt.Errorf("%s: binding lines from %d on: %w", r.sheet.Name, r.sheet.Records[r.records[0]].Line, err)
		}
		p := bindProblem(err)
		p.field = field
		r.hold(r.records[k], p, 1, "")
		for j := k; j+1 < len(r.records); j++ {
			copy(r.rows[j+1][1:], r.rows[j+2][1:])
			copy(r.raw[j*n:(j+1)*n], r.raw[(j+1)*n:(j+2)*n])
		}
		r.records = slices.Delete(r.records, k, k+1)
	}
	for k, i := range r.records {
		r.context.origin.Line = int(r.sheet.Records[i].Line)
		r.context.raw = r.raw[k*n : (k+1)*n]
		row, p := r.binder.build(k, &r.context)
		if p != nil {
			r.hold(i, p, 1, r.numberOf(r.rows[k+1][1:]))
			continue
		}
		if err := r.emit(row); err != nil {
			return err
		}
		r.report.RowsTaken++
	}
	r.records = r.records[:0]
	return nil
}

// close checks the sum.
func (r *reading) close() (Report, error) {
	slices.SortStableFunc(r.report.Held, func(a, b catalog.HeldRow) int { return cmp.Compare(a.Line, b.Line) })
	r.report.RowsRead, r.report.RowsHeld = r.sheet.Rows(), len(r.report.Held)
	if sum := r.report.RowsTaken + r.report.RowsHeld + r.report.RowsSkipped; sum != r.report.RowsRead {
		return r.report, fmt.Errorf("%s: %d rows were read but %d taken, held or skipped: nothing may be stored; report this as a fault of the program", r.sheet.Name, r.report.RowsRead, sum)
	}
	return r.report, nil
}
