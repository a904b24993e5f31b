package app

import (
	"context"
	"errors"
	"io/fs"
	"os"
	"path/filepath"

	"fitfill/catalog/sqlite"
)

// swap puts the catalogue of the backup in the place of the one that is there,
// and what was there aside. Where it fails, all is put back.
func (r *restoring) swap(ctx context.Context) (err error) {
	var alone *sqlite.Alone
	if !r.damaged {
		if alone, err = sqlite.OpenAlone(ctx, r.home); err != nil {
			return err
		}
		defer func() { err = errors.Join(err, alone.Close()) }()
	}
	aside := r.aside
	if aside == "" {
		aside = filepath.Join(r.dir, "aside") // nothing worth keeping; it goes with the folder
	}
	if err := os.Mkdir(aside, 0o700); err != nil {
		return err
	}
	var moved []string
	var settled []string // files of the backup that are in place
	defer func() {
		if err == nil {
			return
		}
		for _, name := range settled {
			err = errors.Join(err, os.Remove(filepath.Join(r.home, name)))
		}
		for _, name := range moved {
			err = errors.Join(err, os.Rename(filepath.Join(aside, name), filepath.Join(r.home, name)))
		}
		err = errors.Join(err, os.RemoveAll(aside))
	}()
	// The index goes before the catalogue changes, and the new one comes after: a
	// catalogue without an index builds it anew, and one that found another's under
	// the same name would believe it.
	names := []string{indexFolder}
	if r.newSettings {
		names = append(names, SettingsFile)
	}
	for _, name := range names {
		if err := os.Rename(filepath.Join(r.home, name), filepath.Join(aside, name)); err == nil {
			moved = append(moved, name)
		} else if !errors.Is(err, fs.ErrNotExist) {
			return err
		}
	}
	// Before the catalogue: whoever is stopped in between has new settings and the
	// old catalogue, and restores once more.
	for name, wanted := range map[string]bool{SettingsFile: r.newSettings, PassphraseFile: r.newPassphrase} {
		if !wanted {
			continue
		}
		if err := os.Rename(filepath.Join(r.dir, name), filepath.Join(r.home, name)); err != nil {
			return err
		}
		settled = append(settled, name)
	}
	now := filepath.Join(r.newHome(), catalogueFile)
	if r.damaged {
		if err := sqlite.MoveCatalogue(r.home, aside); err != nil {
			return errors.Join(err, sqlite.MoveCatalogue(aside, r.home))
		}
		if err := os.Rename(now, filepath.Join(r.home, catalogueFile)); err != nil {
			return errors.Join(err, sqlite.MoveCatalogue(aside, r.home))
		}
		r.takeIndex()
		return nil
	}
	if r.aside != "" {
		if err := alone.KeepAs(ctx, filepath.Join(aside, catalogueFile)); err != nil {
			return err
		}
	}
	if err := alone.Become(ctx, now); err != nil {
		return err
	}
	r.takeIndex()
	return nil
}

// takeIndex moves the index that was built for the backup to its place. It is
// restored all the same where that fails: the next search builds it.
func (r *restoring) takeIndex() {
	_ = os.Rename(filepath.Join(r.newHome(), indexFolder), filepath.Join(r.home, indexFolder))
}

// indexFolder is where the search indexes lie in a data folder.
const indexFolder = "index"
