package app

import (
	"context"
	"crypto/sha256"
	"encoding/hex"
	"errors"
	"fmt"
	"io"

	"fitfill/catalog"
	"fitfill/catalog/bleveindex"
	"fitfill/catalog/sqlite"
	"fitfill/importers"
)

// Health is what looking through the whole catalogue found.
type Health struct {
	Sheets int      `json:"sheets"`
	Rows   int      `json:"rows"`
	Parts  int      `json:"parts"`
	Wrong  []string `json:"wrong"` // plain sentences; empty: all is sound
}

// Doctor looks through the whole catalogue and changes nothing: the database,
// the kept sheets read once more against what was committed of them, and the
// search indexes. Where progress is not nil it is called after each sheet with the
// rows done and all rows.
func (s *Shop) Doctor(ctx context.Context, progress func(done, all int)) (Health, error) {
	h := Health{Wrong: []string{}}
	err := s.store.View(ctx, func(v *sqlite.View) error {
		wrong, err := v.Check(ctx)
		if err != nil {
			return err
		}
		h.Wrong = append(h.Wrong, wrong...)
		sheets, err := v.Sheets(ctx)
		if err != nil {
			return err
		}
		lines, err := v.LinesOf(ctx)
		if err != nil {
			return err
		}
		suppliers, err := v.Suppliers(ctx)
		if err != nil {
			return err
		}
		all := 0
		for _, r := range sheets {
			all += r.Counts.Read
		}
		for _, r := range sheets {
			c := &lineCheck{view: v, sheet: r, lines: lines[r.ID], supplier: numberOf(r.Supplier, suppliers)}
			if err := s.checkSheet(ctx, c, r, &h); err != nil {
				return err
			}
			if progress != nil {
				progress(h.Rows, all)
			}
		}
		if err := checkHeld(ctx, v, &h); err != nil {
			return err
		}
		return s.checkIndexes(ctx, v, &h)
	})
	return h, err
}

func (h *Health) say(format string, args ...any) {
	h.Wrong = append(h.Wrong, fmt.Sprintf(format, args...))
}

// checkSheet reads a kept sheet once more. Every stretch of the file has to have
// its place (the ledger), and the sums have to be those that were committed.
func (s *Shop) checkSheet(ctx context.Context, c *lineCheck, r sqlite.SheetRecord, h *Health) error {
	h.Sheets++
	h.Rows += r.Counts.Read
	kept, sum := &keptCopy{shop: s}, sha256.New()
	if err := c.view.RawSheet(ctx, r.ID, io.MultiWriter(kept, sum)); err != nil {
		h.say("sheet %d (%s): %v", r.ID, r.Name, err)
		return kept.Close()
	}
	defer kept.Close()
	if hex.EncodeToString(sum.Sum(nil)) != r.KeptSHA256 {
		h.say("sheet %d (%s): the kept copy is not the file that was imported", r.ID, r.Name)
		return nil
	}
	if err := c.view.Workbook(ctx, r.ID, io.Discard); err != nil && !errors.Is(err, sqlite.ErrNotFound) {
		h.say("sheet %d (%s): %v", r.ID, r.Name, err)
	}
	sheet, err := kept.open(r)
	if err != nil {
		h.say("sheet %d (%s): %v", r.ID, r.Name, err)
		return nil
	}
	defer sheet.Sheet.Close()
	am := &amendment{of: r.ID}
	if am.corrections, err = c.view.Corrections(ctx, r.ID); err != nil {
		return err
	}
	report, err := importers.ReadWith(s.whole(), sheet.Sheet, sheet.mapping, importers.Options{Corrected: am.rows()}, func(row catalog.SheetRow) error { return c.row(ctx, row) })
	if err != nil {
		return err
	}
	if _, err := importers.CheckLedger(sheet.Spans(&report), kept.size, &report); err != nil {
		h.say("sheet %d (%s): %v", r.ID, r.Name, err)
	}
	if report.RowsRead != r.Counts.Read || report.RowsSkipped != r.Counts.Skipped {
		h.say("sheet %d (%s): %d rows were read and %d skipped, and reading it again gives %d and %d: import it again",
			r.ID, r.Name, r.Counts.Read, r.Counts.Skipped, report.RowsRead, report.RowsSkipped)
	}
	c.close(sheet.Sheet, report, h)
	return nil
}

// checkHeld compares each held row with the line of the kept sheet that it
// begins on.
func checkHeld(ctx context.Context, v *sqlite.View, h *Health) error {
	held, err := v.HeldRows(ctx)
	if err != nil {
		return err
	}
	for _, row := range held {
		text, err := v.LineText(ctx, row.SheetID, row.Line)
		if err != nil && !errors.Is(err, sqlite.ErrNotFound) {
			return err
		}
		if err != nil || !sqlite.StandsIn(row.Raw, text) {
			h.say("sheet %d (%s): the held row of line %d does not stand there", row.SheetID, row.Origin.Sheet, row.Line)
		}
	}
	return nil
}

func (s *Shop) checkIndexes(ctx context.Context, v *sqlite.View, h *Health) error {
	suppliers, err := v.Suppliers(ctx)
	if err != nil {
		return err
	}
	for _, sup := range suppliers {
		want, err := v.PartsOf(ctx, sup.ID)
		if err != nil {
			return err
		}
		h.Parts += want
		var folders []string
		if sup.IndexFolder != "" {
			folders = []string{sup.IndexFolder}
		}
		x, err := bleveindex.Open(s.store.IndexDir(), folders)
		if err != nil {
			h.say("%s: %v; the next search builds it anew", sup.Name, err)
			continue
		}
		if err := x.Check(); err != nil {
			h.say("%s: %v; the next search builds it anew", sup.Name, err)
		}
		got, err := x.Parts()
		if err != nil {
			return err
		}
		if got != want {
			h.say("%s: the search index holds %d parts of %d; delete the folder %s in %s, and the next search builds it anew",
				sup.Name, got, want, sup.IndexFolder, s.store.IndexDir())
		}
		if err := x.Close(); err != nil {
			return err
		}
	}
	return nil
}
