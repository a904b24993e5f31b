package app

import (
	"context"
	"encoding/json"
	"errors"
	"fmt"
	"os"
	"path/filepath"
	"slices"
	"strings"

	"fitfill/catalog/sqlite"
	"fitfill/importers"
)

// noneWaiting refuses while a sheet waits for a decision that names the vehicle:
// it would come back with it.
func (s *Shop) noneWaiting(ctx context.Context, v *sqlite.View, f *forgetting) error {
	waiting, err := s.waitingThat(ctx, v, func(cell string) bool { return f.is(cell) || f.clean(cell) != cell })
	if err != nil || len(waiting) == 0 {
		return err
	}
	w := waiting[0]
	return &UsageError{
		Problem: fmt.Sprintf("the sheet %s waits for a decision and names the vehicle", w.Name),
		Hint:    fmt.Sprintf("decide first: fitfill sheets accept %d, or fitfill sheets drop %d", w.ID, w.ID),
	}
}

// waitingThat returns the sheets that wait for a decision and have a cell that
// names a vehicle. One that cannot be read may name it.
func (s *Shop) waitingThat(ctx context.Context, v *sqlite.View, names func(cell string) bool) (list []sqlite.Staged, err error) {
	waiting, err := v.StagedSheets(ctx)
	if err != nil {
		return nil, err
	}
	for _, w := range waiting {
		var q stagedQuestion
		if err := json.Unmarshal([]byte(w.Question), &q); err != nil {
			return nil, fmt.Errorf("sheet %d was staged by another version of fitfill: drop it first (%w)", w.ID, err)
		}
		file := &keptCopy{shop: s}
		if err := v.StagedFile(ctx, w.ID, file); err != nil {
			return nil, errors.Join(err, file.Close())
		}
		sheet, err := importers.OpenFile(s.whole(), w.Name, file.content(), s.scratch, q.Settings)
		named := err != nil
		for i := 0; err == nil && !named && i < sheet.Len(); i++ {
			named = slices.ContainsFunc(sheet.Cells(i, nil), names)
		}
		if err == nil {
			err = sheet.Close()
		} else {
			err = nil
		}
		if err := errors.Join(err, file.Close()); err != nil {
			return nil, err
		}
		if named {
			list = append(list, w)
		}
	}
	return list, nil
}

// otherCopies removes the copy of the catalogue that a killed backup left, and
// names the catalogues that restoring has replaced.
func (s *Shop) otherCopies(a *Forgotten) error {
	lock, err := s.store.LockBackups()
	if err == nil {
		err = errors.Join(os.RemoveAll(filepath.Join(s.store.Dir(), backupFolder)), lock.Unlock())
	} else if errors.Is(err, sqlite.ErrBusy) {
		err = nil // a backup that is being made is one that was made before
	}
	entries, read := os.ReadDir(s.store.Dir())
	a.Aside = []string{}
	for _, e := range entries {
		if strings.HasPrefix(e.Name(), asidePrefix) {
			a.Aside = append(a.Aside, filepath.Join(s.store.Dir(), e.Name()))
		}
	}
	return errors.Join(err, read)
}
