package app

import (
	"context"
	"errors"
	"io"

	"fitfill/catalog"
	"fitfill/catalog/sqlite"
	"fitfill/importers"
)

// workbookToKeep returns the workbook that a sheet was read out of, nil where it
// is kept as text alone: because it was no workbook, or because it may name
// vehicles and their owners, on other worksheets too. There nobody could take them
// out again when a vehicle is to be forgotten.
func workbookToKeep(q ImportQuestion, sheet *importers.Sheet, kind catalog.SheetKind) sqlite.Content {
	if !sheet.OfWorkbook() || kind != catalog.SupplierSheet && kind != catalog.EnginesSheet {
		return nil
	}
	return q.content()
}

// WriteSheetFile writes a sheet in use as it came: the workbook where one is kept,
// else the bytes of its text, which a sheet out of an archive is kept as too. A
// UsageError if no sheet has the number.
func (s *Shop) WriteSheetFile(ctx context.Context, id int64, w io.Writer) error {
	if _, err := s.record(ctx, id); err != nil {
		return staleNumber(err, id)
	}
	return s.store.View(ctx, func(v *sqlite.View) error {
		err := v.Workbook(ctx, id, w)
		if !errors.Is(err, sqlite.ErrNotFound) {
			return err
		}
		return v.RawSheet(ctx, id, w)
	})
}
