package app

import (
	"context"
	"errors"
	"fmt"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"time"

	"fitfill/catalog"
	"fitfill/catalog/bleveindex"
	"fitfill/catalog/sqlite"
	"fitfill/importers"
)

// stage moves the sheet's rows through the staging file into the catalogue,
// unless a gate has to be decided first.
func (s *Shop) stage(ctx context.Context, q ImportQuestion, sheet *importers.Sheet, mapping importers.Mapping, opt importers.Options, encoded string, g gates, am *amendment, a *ImportAnswer) (err error) {
	lock, err := s.store.LockImports()
	if err != nil {
		return err
	}
	defer func() { err = errors.Join(err, lock.Unlock()) }()
	info := sqlite.SheetInfo{
		Supplier: a.Supplier, Kind: a.Kind, Name: sheet.Name, SHA256: sheet.SHA256, File: sheet.File(), Lines: sheet.Lines(), Mapping: encoded,
		ImportedAt: s.timestamp(), Place: placeOf(q.Accept), Workbook: workbookToKeep(q, sheet, a.Kind),
	}
	for _, c := range mapping.Columns {
		info.Fields = append(info.Fields, c.Field)
	}
	file := sheet.SHA256
	if am != nil && am.sha256 != "" {
		file = am.sha256
	}
	if info.StagedID, err = s.stagedID(ctx, q, file, a.Supplier); err != nil {
		return err
	}
	q.StagedID = info.StagedID
	st, err := s.store.NewStage(ctx, lock, info)
	if err != nil {
		return err
	}
	defer func() { err = errors.Join(err, st.Discard()) }()
	opt.Corrected = am.rows()
	report, said, err := s.readRows(ctx, q, sheet, mapping, opt, st)
	if err != nil {
		return err
	}
	a.RowsRead, a.RowsTaken, a.RowsHeld, a.RowsSkipped = report.RowsRead, report.RowsTaken, report.RowsHeld, report.RowsSkipped
	a.Held = append(a.Held, report.Held...)
	a.Remarks, a.Repeats = append(a.Remarks, report.Remarks...), len(report.Repeats)
	a.SetAside = setAside(sheet, report.Skipped)
	if am != nil {
		corrections := am.taken(report.Held)
		a.RowsCorrected = len(corrections)
		st.Amend(am.of, corrections, am.note(corrections))
	}
	replaced, changes, err := st.Plan(ctx)
	if err != nil {
		return err
	}
	a.Changes = changes
	before := 0
	for _, r := range replaced {
		if am == nil {
			a.Replaces = append(a.Replaces, r.Name)
		}
		before += r.Rows
	}
	compared, err := st.Compare(ctx)
	if err != nil {
		return err
	}
	a.Report = newChangeReport(compared, said.superseded)
	a.Open = append(a.Open, doubts(st.Doubts())...)
	unknown, err := s.unknownSuppliers(ctx, said.suppliers, q.Accept)
	if err != nil {
		return err
	}
	a.Open = append(a.Open, unknown...)
	if err := s.noteReasons(said.reasons, a); err != nil {
		return err
	}
	for _, o := range g.fired(a, before, compared) {
		// What is still held, or was not there from the start, was seen before.
		if again := am != nil && (o.Gate == gateHeld || o.Gate == gateFewer); !again && !slices.Contains(q.Accept, o.Gate) {
			a.Open = append(a.Open, o)
		}
	}
	if q.Check {
		a.Open = append(a.Open, OpenQuestion{
			Code: askCheck, Question: "Only checked, as asked. Import it?", Choices: []string{"yes", "no"}, Command: "the same command without --check",
		})
	}
	if len(a.Open) > 0 {
		return s.keepStaged(ctx, q, file, a)
	}
	return s.commit(ctx, lock, st, report, a)
}

// progressEvery is how many rows lie between two reports of progress.
const progressEvery = 2048

// rowsSaid is what the rows of a sheet say besides what is staged.
type rowsSaid struct {
	superseded []supersession
	reasons    map[string]int // line of the first return with each reason
	suppliers  map[string]int // line of the first row of purchases or returns that names each
}

func (r *rowsSaid) note(row catalog.SheetRow) {
	name := ""
	switch {
	case row.Part != nil:
		r.superseded = append(r.superseded, supersessionsOf(row.Part)...)
	case row.Purchase != nil:
		name = row.Purchase.Supplier
	case row.Return != nil:
		name = row.Return.Supplier
		if _, ok := r.reasons[row.Return.Reason]; !ok {
			r.reasons[strings.Clone(row.Return.Reason)] = row.Line
		}
	}
	if _, ok := r.suppliers[name]; name != "" && !ok {
		r.suppliers[strings.Clone(name)] = row.Line
	}
}

// readRows reads the sheet's rows into the stage.
func (s *Shop) readRows(ctx context.Context, q ImportQuestion, sheet *importers.Sheet, mapping importers.Mapping, opt importers.Options, st *sqlite.Stage) (importers.Report, rowsSaid, error) {
	limit := sheet.TimeLimit()
	ctx, cancel := context.WithTimeoutCause(ctx, limit, &UsageError{
		Problem: fmt.Sprintf("reading %s took longer than %d minutes: nothing was imported", sheet.Name, int(limit.Minutes())), Hint: "raise --set limit-minutes, or split the sheet",
	})
	defer cancel()
	if !q.anyDay {
		opt.Today = s.today()
	}
	said := rowsSaid{suppliers: map[string]int{}, reasons: map[string]int{}}
	done, all := 0, sheet.Rows()
	report, err := importers.ReadWith(s.whole(), sheet, mapping, opt, func(row catalog.SheetRow) error {
		if done++; done%progressEvery == 0 {
			if ctx.Err() != nil {
				return context.Cause(ctx)
			}
			if q.Progress != nil {
				q.Progress(done, all)
			}
		}
		said.note(row)
		return st.Add(ctx, row)
	})
	if err != nil && ctx.Err() != nil {
		err = context.Cause(ctx) // not what the store made of being stopped in the middle
	}
	if q.Progress != nil {
		q.Progress(all, all)
	}
	return report, said, err
}

// today is the day by the clock on the garage's wall: in UTC it is yesterday still
// on a morning in the east, and tomorrow already on an evening in the west.
func (s *Shop) today() catalog.Date {
	y, m, d := s.now().Date()
	return catalog.DateOf(y, int(m), d)
}

func (s *Shop) timestamp() string { return s.now().UTC().Format(time.RFC3339) }

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
	id, err := st.Commit(ctx, counts, report.Held, folder)
	if err != nil {
		if folder != "" {
			err = errors.Join(err, os.RemoveAll(filepath.Join(s.store.IndexDir(), folder)))
		}
		return err
	}
	a.Status, a.ID = Imported, id
	// The sheet is in. What is left of older ones can wait for the next import,
	// and must not make this one look failed.
	after := context.WithoutCancel(ctx)
	if s.store.Purge(after, lock) == nil {
		s.dropOldIndexes(after)
	}
	if a.Kind == catalog.SupplierSheet {
		if n, err := s.Notes(after, a.Supplier); err == nil && n.OpenTexts > 0 {
			a.Unread = &UnreadNotes{n.OpenTexts, n.OpenRows}
		}
	}
	return nil
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

// setAside lists what was passed over besides blank lines. A heading repeated on
// every page is said once.
func setAside(sheet *importers.Sheet, skipped []importers.Skip) []SetAside {
	list := []SetAside{}
	for _, k := range skipped {
		if k.Class != importers.ClassBlank.String() && k.Class != importers.ClassRepeated.String() {
			list = append(list, SetAside{k.Line, k.Class, sheet.TextOn(k.Line)})
		}
	}
	return list
}
