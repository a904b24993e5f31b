package app

import (
	"bytes"
	"context"
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
	"time"

	"fitfill/catalog/sqlite"
)

// RestoreQuestion asks for a backup to be brought back.
type RestoreQuestion struct {
	File    string
	Home    string // the data folder
	Replace bool   // what the folder holds goes aside
}

// RestoreAnswer is what was brought back.
type RestoreAnswer struct {
	File string `json:"file"`
	Home string `json:"home"`
	BackupList
	KeptAside   string `json:"kept_aside,omitempty"` // the folder with what was there
	NewSettings bool   `json:"new_settings"`         // the settings of the backup took the place of others, or of none
	OldSettings bool   `json:"old_settings"`         // the data folder has settings, and those stay
	// The passphrase of the page is that of the backup: the data folder had none. One
	// that is there stays, as an old one may be known to whom it should not be.
	NewPassphrase bool           `json:"new_passphrase"`
	Forgotten     ForgottenAgain `json:"forgotten_again"`
	Seconds       float64        `json:"took_s"`
}

// Restore brings a backup back into a data folder. A folder that holds something
// is refused unless that may go aside; so is a backup that is damaged or newer,
// and a folder that another program has open. Vehicles that the folder has
// forgotten are forgotten in what comes back too. Until the last step, which is
// one transaction, the folder is as it was.
func Restore(ctx context.Context, q RestoreQuestion) (a RestoreAnswer, err error) {
	begin := time.Now()
	a.File = q.File
	if a.Home, err = filepath.Abs(q.Home); err != nil {
		return a, err
	}
	archive, err := openBackup(q.File)
	if err != nil {
		return a, err
	}
	defer func() { err = errors.Join(err, archive.Close()) }()
	a.BackupList = archive.list
	r := &restoring{q: q, home: a.Home, dir: sqlite.RestoreDir(a.Home), archive: archive}
	if err := r.look(ctx); err != nil {
		return a, err
	}
	lock, err := sqlite.LockImports(a.Home)
	if err != nil {
		return a, err
	}
	defer func() { err = errors.Join(err, lock.Unlock()) }()
	if err := os.Mkdir(r.dir, 0o700); err != nil {
		return a, err
	}
	defer func() { err = errors.Join(err, os.RemoveAll(r.dir)) }()
	if a.Forgotten, a.Holds, err = r.prepare(ctx); err != nil {
		return a, noRoom(err, a.Home)
	}
	if err := r.settle(begin); err != nil {
		return a, err
	}
	if err := r.swap(ctx); err != nil {
		return a, noRoom(r.opened(err), a.Home)
	}
	a.KeptAside, a.NewSettings = r.aside, r.newSettings
	a.OldSettings, a.NewPassphrase = !r.newSettings && r.has(SettingsFile), r.newPassphrase
	a.Seconds = time.Since(begin).Round(time.Millisecond).Seconds()
	return a, nil
}

// restoring is a backup on its way back.
type restoring struct {
	q           RestoreQuestion
	archive     *backupArchive
	home, dir   string
	there       sqlite.Holdings
	forgotten   sqlite.ForgottenMarks
	damaged     bool // the catalogue that is there cannot be opened
	aside       string
	newSettings bool

	newPassphrase bool
}

// has reports whether a file is there in the data folder.
func (r *restoring) has(name string) bool {
	_, err := os.Lstat(filepath.Join(r.home, name))
	return err == nil
}

// look reads what the data folder holds.
func (r *restoring) look(ctx context.Context) error {
	s, err := sqlite.Open(r.home)
	if err == nil {
		err = s.View(ctx, func(v *sqlite.View) error {
			if r.there, err = v.Holdings(ctx); err != nil {
				return err
			}
			r.forgotten, err = v.Forgotten(ctx)
			return err
		})
		err = errors.Join(err, s.Close())
	}
	if sqlite.IsDamaged(err) {
		r.damaged, err = true, nil
	}
	if err != nil || r.q.Replace || !r.damaged && r.there.Nothing {
		return err
	}
	holds := fmt.Sprintf("%s and %s", Plural(r.there.Sheets, "sheet", "sheets"), Plural(r.there.Parts, "part", "parts"))
	if r.damaged {
		holds = "a damaged catalogue"
	}
	return &UsageError{
		Problem: fmt.Sprintf("the data folder %s holds %s already", r.home, holds),
		Hint:    fmt.Sprintf("to put the backup in its place: fitfill restore %s --replace (what is there is kept aside)", quoted(r.q.File)),
	}
}

// prepare unpacks the backup, looks it over, brings an old one up to date, and
// forgets in it what was forgotten since, and builds its search index.
func (r *restoring) prepare(ctx context.Context) (again ForgottenAgain, holds sqlite.Holdings, err error) {
	if err := r.archive.unpack(ctx, r.dir); err != nil {
		return again, holds, err
	}
	unpacked := filepath.Join(r.dir, catalogueFile)
	schema, damage, err := sqlite.CopySchema(ctx, unpacked)
	switch {
	case sqlite.IsDamaged(err):
		return again, holds, noBackup(r.q.File, "the catalogue in it is damaged")
	case err != nil:
		return again, holds, err
	case len(damage) > 0:
		return again, holds, noBackup(r.q.File, "the catalogue in it is damaged: "+damage[0])
	case schema == 0 || schema != r.archive.list.Schema:
		return again, holds, noBackup(r.q.File, "the catalogue in it is not the one that its list names")
	}
	if err := errors.Join(os.Mkdir(r.newHome(), 0o700), os.Rename(unpacked, filepath.Join(r.newHome(), catalogueFile))); err != nil {
		return again, holds, err
	}
	s, err := Open(r.newHome(), nil)
	if err != nil {
		return again, holds, err
	}
	defer func() { err = errors.Join(err, s.Close()) }()
	err = s.store.View(ctx, func(v *sqlite.View) error {
		wrong, err := v.CheckSchema(ctx)
		if err == nil && len(wrong) == 0 {
			wrong, err = v.Check(ctx)
		}
		if err == nil && len(wrong) > 0 {
			err = noBackup(r.q.File, "the catalogue in it is damaged: "+wrong[0])
		}
		return err
	})
	if err != nil {
		return again, holds, err
	}
	if again, err = s.forgetAgain(ctx, r.forgotten); err != nil {
		return again, holds, fmt.Errorf("forget the vehicles again that were forgotten after the backup: %w", err)
	}
	again.Unread = r.damaged
	if err := s.repairIndexes(ctx); err != nil { // here, where nobody waits at the counter
		return again, holds, err
	}
	err = s.store.View(ctx, func(v *sqlite.View) error {
		holds, err = v.Holdings(ctx)
		return err
	})
	return again, holds, err
}

// asidePrefix begins the names of the folders with what was replaced.
const asidePrefix = "replaced-"

// newHome is the folder that holds the catalogue of the backup.
func (r *restoring) newHome() string { return filepath.Join(r.dir, "home") }

// settle decides whether the settings change, and where what is there is kept.
func (r *restoring) settle(now time.Time) error {
	if r.archive.list.Has(SettingsFile) {
		theirs, err := os.ReadFile(filepath.Join(r.dir, SettingsFile))
		if err != nil {
			return err
		}
		ours, err := os.ReadFile(filepath.Join(r.home, SettingsFile))
		if err != nil && !errors.Is(err, fs.ErrNotExist) {
			return err
		}
		if err == nil && !bytes.Equal(ours, theirs) && !r.q.Replace {
			return &UsageError{
				Problem: fmt.Sprintf("the data folder %s has settings of its own", r.home),
				Hint:    fmt.Sprintf("to put those of the backup in their place: fitfill restore %s --replace (what is there is kept aside)", quoted(r.q.File)),
			}
		}
		r.newSettings = err != nil || !bytes.Equal(ours, theirs)
	}
	r.newPassphrase = r.archive.list.Has(PassphraseFile) && !r.has(PassphraseFile)
	if !r.q.Replace || r.there.Nothing && !r.damaged && !r.newSettings {
		return nil
	}
	day := filepath.Join(r.home, asidePrefix+now.Format("2006-01-02-150405"))
	r.aside = day
	for n := 2; ; n++ {
		if _, err := os.Lstat(r.aside); errors.Is(err, fs.ErrNotExist) {
			return nil
		} else if err != nil {
			return err
		}
		r.aside = fmt.Sprintf("%s-%d", day, n)
	}
}

// opened says in plain words that others have the catalogue open.
func (r *restoring) opened(err error) error {
	if !errors.Is(err, sqlite.ErrOpen) {
		return err
	}
	hint := "stop it first (the page with Ctrl-C where it runs), then try again; nothing was changed"
	if who := haveOpen(filepath.Join(r.home, catalogueFile)); who != "" {
		hint = who + " has it open: " + hint
	}
	return &BusyError{Problem: "another program has the catalogue open, such as the page", Hint: hint}
}
