package app

import (
	"context"
	"encoding/json"
	"errors"
	"fmt"

	"fitfill/catalog"
	"fitfill/catalog/bleveindex"
	"fitfill/catalog/sqlite"
)

// waitForDecision keeps a sheet whose columns are not clear yet.
func (s *Shop) waitForDecision(ctx context.Context, q ImportQuestion, sha256 string, a *ImportAnswer) (err error) {
	lock, err := s.store.LockImports()
	if err != nil {
		return err
	}
	defer func() { err = errors.Join(err, lock.Unlock()) }()
	return s.keepStaged(ctx, q, sha256, a)
}

// keepStaged keeps a sheet with its open questions until somebody decides.
// Nothing of it is in the catalogue. The caller holds the import lock, so that
// no other import takes the number.
func (s *Shop) keepStaged(ctx context.Context, q ImportQuestion, sha256 string, a *ImportAnswer) error {
	a.Status = Staged
	inOrder(a.Open)
	var err error
	if q.StagedID, err = s.stagedID(ctx, q, sha256, a.Supplier); err != nil {
		return err
	}
	asked, err := json.Marshal(stagedQuestion{q, sha256, a.Supplier})
	if err != nil {
		return err
	}
	answer, err := json.Marshal(a)
	if err != nil {
		return err
	}
	a.ID, err = s.store.KeepStaged(ctx, sqlite.Staged{
		ID: q.StagedID, Name: q.Name, Question: string(asked), Answer: string(answer), StagedAt: s.timestamp(), File: q.content(),
	})
	return err
}

// stagedQuestion is how an import that waits was asked for.
type stagedQuestion struct {
	ImportQuestion
	SHA256 string
	Whose  string
}

// stagedID returns the number under which the same file of the same supplier
// waits already, 0 if it does not.
func (s *Shop) stagedID(ctx context.Context, q ImportQuestion, sha256, supplier string) (id int64, err error) {
	if q.StagedID != 0 {
		return q.StagedID, nil
	}
	err = s.store.View(ctx, func(v *sqlite.View) error {
		waiting, err := v.StagedSheets(ctx)
		if err != nil {
			return err
		}
		for _, w := range waiting {
			var was stagedQuestion
			if json.Unmarshal([]byte(w.Question), &was) == nil && was.SHA256 == sha256 && was.Whose == supplier {
				id = w.ID
			}
		}
		return nil
	})
	return id, err
}

// AcceptStaged imports a sheet that waits, exactly as it was staged. The gates
// that it ran into are accepted; more says what else was decided: mappings,
// columns to set aside, settings. If something is still open, or has come up
// since, it goes on waiting.
func (s *Shop) AcceptStaged(ctx context.Context, id int64, more ImportQuestion) (ImportAnswer, error) {
	var w sqlite.Staged
	file := &keptCopy{shop: s}
	defer file.Close()
	err := s.store.View(ctx, func(v *sqlite.View) (err error) {
		if w, err = v.StagedSheet(ctx, id); err != nil {
			return err
		}
		return v.StagedFile(ctx, id, file)
	})
	if err != nil {
		return ImportAnswer{}, staleNumber(err, id)
	}
	var was stagedQuestion
	var answer ImportAnswer
	if err := errors.Join(json.Unmarshal([]byte(w.Question), &was), json.Unmarshal([]byte(w.Answer), &answer)); err != nil {
		return ImportAnswer{}, fmt.Errorf("sheet %d was staged by another version of fitfill: import the file again (%w)", id, err)
	}
	q := was.ImportQuestion
	q.File, q.StagedID, q.Check, q.Progress, q.Unpacking = file.content(), id, false, more.Progress, more.Unpacking
	q.Ignore, q.Accept = append(q.Ignore, more.Ignore...), append(q.Accept, more.Accept...)
	for _, o := range answer.Open {
		if o.Gate != "" {
			q.Accept = append(q.Accept, o.Gate)
		}
	}
	q.Maps, q.Settings = merged(q.Maps, more.Maps), merged(q.Settings, more.Settings)
	if more.Supplier != "" {
		q.Supplier = more.Supplier
	}
	if more.As != "" {
		q.As = more.As
	}
	return s.Import(ctx, q)
}

func merged(a, b map[string]string) map[string]string {
	out := map[string]string{}
	for _, m := range []map[string]string{a, b} {
		for k, v := range m {
			out[k] = v
		}
	}
	return out
}

// DropStaged forgets a sheet that waits.
func (s *Shop) DropStaged(ctx context.Context, id int64) error {
	return staleNumber(s.store.DropStaged(ctx, id, s.timestamp()), id)
}

func staleNumber(err error, id int64) error {
	if errors.Is(err, sqlite.ErrNotFound) {
		return &UsageError{Problem: fmt.Sprintf("no sheet has the number %d in that list", id), Hint: "the numbers stand in: fitfill sheets list"}
	}
	return err
}

// UndoSheet takes an imported sheet back: the sheets that it had replaced are in
// use again. It returns what it did.
func (s *Shop) UndoSheet(ctx context.Context, id int64) (u sqlite.Undo, err error) {
	lock, err := s.store.LockImports()
	if err != nil {
		return u, err
	}
	defer func() { err = errors.Join(err, lock.Unlock()) }()
	err = s.store.View(ctx, func(v *sqlite.View) error {
		u, err = v.PlanUndo(ctx, id)
		return err
	})
	if err != nil {
		return u, staleNumber(err, id)
	}
	folder := ""
	if u.Supplier.ID != 0 {
		if folder, err = s.buildIndex(ctx, u.Supplier, []int64{u.SheetID}, u.Back); err != nil {
			return u, err
		}
	}
	if err := s.store.CommitUndo(ctx, lock, u, folder, s.timestamp()); err != nil {
		return u, err
	}
	// It is taken back. Folders that cannot go yet, because somebody reads them, go
	// with the next import.
	_ = s.dropOldIndexes(context.WithoutCancel(ctx))
	return u, nil
}

// buildIndex builds a new index of one supplier from the store, and returns its
// folder; empty if the supplier has no parts.
func (s *Shop) buildIndex(ctx context.Context, sup sqlite.Supplier, gone, back []int64) (string, error) {
	folder, err := s.store.FreeFolder(sup.ID)
	if err != nil {
		return "", err
	}
	count, err := bleveindex.Build(s.store.IndexDir(), folder, func(do func(catalog.SearchDoc) error) error {
		return s.store.SupplierDocs(ctx, sup, gone, back, func(d catalog.SearchDoc) error { return errors.Join(ctx.Err(), do(d)) })
	})
	if err != nil || count == 0 {
		return "", err
	}
	return folder, nil
}

// Waiting returns what is known of a sheet that waits for a decision.
func (s *Shop) Waiting(ctx context.Context, id int64) (ImportAnswer, error) {
	var a ImportAnswer
	err := s.store.View(ctx, func(v *sqlite.View) error {
		w, err := v.StagedSheet(ctx, id)
		if err != nil {
			return err
		}
		if err := json.Unmarshal([]byte(w.Answer), &a); err != nil {
			return fmt.Errorf("sheet %d was staged by another version of fitfill: import the file again (%w)", id, err)
		}
		a.ID = id
		return nil
	})
	return a, staleNumber(err, id)
}
