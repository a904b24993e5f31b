package app

import (
	"context"
	"errors"
	"os"
	"path/filepath"
	"time"

	"fitfill/catalog"
	"fitfill/catalog/bleveindex"
	"fitfill/catalog/sqlite"
	"fitfill/importers"
)

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
