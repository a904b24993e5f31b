package app

import (
	"context"
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
	"strings"
	"syscall"
	"time"

	"fitfill/catalog/sqlite"
)

// BackupQuestion asks for a backup.
type BackupQuestion struct {
	File      string // to write
	Overwrite bool   // a file of that name may go
}

// BackupAnswer is what a backup holds and where it lies.
type BackupAnswer struct {
	File string `json:"file"` // its whole path
	Size int64  `json:"size_bytes"`
	BackupList
	Seconds float64 `json:"took_s"`
	Restore string  `json:"restore"` // the command that brings it back
}

// Has reports whether the backup holds a file.
func (l BackupList) Has(name string) bool {
	for _, f := range l.Files {
		if f.Name == name {
			return true
		}
	}
	return false
}

// backupFolder, in the data folder, holds the copy of the catalogue while a
// backup is made. It lies there and not beside the backup because that is a disk
// of this machine for certain: a backup may go to a stick or to another machine.
const backupFolder = "backup"

// Backup writes one file with all of the data folder that cannot be made again,
// as of one moment, while others read and import. The search index is not in
// it: it builds itself from the catalogue. The file appears when it is whole and
// checked; nothing is left where it fails or is stopped.
func (s *Shop) Backup(ctx context.Context, q BackupQuestion) (a BackupAnswer, err error) {
	begin := s.now()
	if a.File, err = s.placeForBackup(q); err != nil {
		return a, err
	}
	lock, err := s.store.LockBackups()
	if errors.Is(err, sqlite.ErrBusy) {
		return a, &BusyError{Problem: "another backup of this data folder is being made", Hint: "wait until it is done, then try again"}
	}
	if err != nil {
		return a, err
	}
	defer func() { err = errors.Join(err, lock.Unlock()) }()
	dir := filepath.Join(s.store.Dir(), backupFolder)
	if err := errors.Join(os.RemoveAll(dir), os.Mkdir(dir, 0o700)); err != nil { // what a killed one left goes
		return a, err
	}
	defer func() { err = errors.Join(err, os.RemoveAll(dir)) }()
	copied := filepath.Join(dir, catalogueFile)
	a.Format, a.MadeAt = backupFormat, s.timestamp()
	if err := s.store.CopyTo(ctx, copied); err != nil {
		return a, noRoom(fmt.Errorf("copy the catalogue: %w", err), dir)
	}
	if err := a.checkCopy(ctx, dir); err != nil {
		return a, err
	}
	from := map[string]string{catalogueFile: copied}
	for _, name := range []string{SettingsFile, PassphraseFile} {
		from[name] = filepath.Join(s.store.Dir(), name)
	}
	if err := publish(ctx, a.File, q.Overwrite, &a.BackupList, from); err != nil {
		return a, noRoom(err, filepath.Dir(a.File))
	}
	info, err := os.Stat(a.File)
	if err != nil {
		return a, err
	}
	a.Size, a.Seconds = info.Size(), s.now().Sub(begin).Round(time.Millisecond).Seconds()
	a.Restore = "fitfill restore " + quoted(a.File)
	return a, nil
}

// placeForBackup returns the whole path of the file to write, or says why
// nothing can be written there.
func (s *Shop) placeForBackup(q BackupQuestion) (string, error) {
	path, err := filepath.Abs(q.File)
	if err != nil {
		return "", err
	}
	sample := filepath.Join(path, "fitfill-"+s.now().Format(time.DateOnly)+".zip")
	info, err := os.Stat(path)
	switch {
	case err == nil && info.IsDir():
		return "", &UsageError{Problem: q.File + " is a folder", Hint: "name a file in it: fitfill backup " + quoted(sample)}
	case err == nil && !info.Mode().IsRegular():
		return "", &UsageError{Problem: q.File + " is no ordinary file", Hint: "name a file that is not there yet"}
	case err == nil && !q.Overwrite:
		return "", &UsageError{Problem: q.File + " exists already", Hint: "name another file, or let this one go with --overwrite"}
	case err != nil && !errors.Is(err, fs.ErrNotExist) && !errors.Is(err, syscall.ENOTDIR):
		return "", err
	}
	in, err := filepath.EvalSymlinks(filepath.Dir(path))
	if err != nil {
		return "", &UsageError{Problem: fmt.Sprintf("the folder %s is not there", filepath.Dir(path)), Hint: "make it first, or name a file in another one"}
	}
	home, err := filepath.Abs(s.store.Dir())
	if err == nil {
		home, err = filepath.EvalSymlinks(home)
	}
	if err != nil {
		return "", err
	}
	if below, err := filepath.Rel(home, in); err == nil && below != ".." && !strings.HasPrefix(below, ".."+string(filepath.Separator)) {
		return "", &UsageError{Problem: q.File + " lies in the data folder, and would be lost with it", Hint: "name a file on another disk or stick"}
	}
	return path, nil
}

// checkCopy looks the copy over as the doctor does the catalogue, and sums it up.
func (l *BackupList) checkCopy(ctx context.Context, dir string) (err error) {
	c, err := sqlite.OpenCopy(dir)
	if err != nil {
		return err
	}
	defer func() { err = errors.Join(err, c.Close()) }()
	return c.View(ctx, func(v *sqlite.View) error {
		if l.Schema, err = sqlite.Schema(); err != nil {
			return err
		}
		if l.Holds, err = v.Holdings(ctx); err != nil {
			return err
		}
		if l.Holds.Nothing {
			return &UsageError{Problem: "there is nothing to back up: this data folder holds no sheet and no entry", Hint: "another data folder: fitfill backup FILE --home DIR"}
		}
		wrong, err := v.CheckSchema(ctx)
		if err == nil && len(wrong) == 0 {
			wrong, err = v.Check(ctx)
		}
		if err == nil && len(wrong) > 0 {
			err = fmt.Errorf("the catalogue is damaged, and so nothing was written: %s (and all that is wrong: fitfill doctor)", wrong[0])
		}
		return err
	})
}

// publish writes the backup under a name of its own beside the file, reads it
// back, and gives it its name when it is whole.
func publish(ctx context.Context, file string, overwrite bool, list *BackupList, from map[string]string) (err error) {
	part := partOf(file)
	if err := os.Remove(part); err != nil && !errors.Is(err, fs.ErrNotExist) {
		return err
	}
	f, err := os.OpenFile(part, os.O_WRONLY|os.O_CREATE|os.O_EXCL, 0o600) // it may hold names of customers
	if err != nil {
		return err
	}
	defer func() {
		if gone := os.Remove(part); !errors.Is(gone, fs.ErrNotExist) {
			err = errors.Join(err, gone)
		}
	}()
	err = writeBackup(ctx, f, list, from)
	if err == nil {
		err = f.Sync()
	}
	if err = errors.Join(err, f.Close()); err != nil {
		return err
	}
	written, err := openBackup(part)
	if err != nil {
		return err
	}
	if err := errors.Join(written.unpack(ctx, ""), written.Close()); err != nil {
		return err
	}
	if err := giveName(part, file, overwrite); err != nil {
		return err
	}
	syncFolder(filepath.Dir(file))
	return nil
}

// partOf is the name under which a backup is written until it is whole.
func partOf(file string) string {
	return filepath.Join(filepath.Dir(file), "."+filepath.Base(file)+".part")
}

// giveName gives a whole file its name. Without overwrite a file that appeared
// there meanwhile stays.
func giveName(part, file string, overwrite bool) error {
	if overwrite {
		return os.Rename(part, file)
	}
	err := os.Link(part, file)
	if err == nil {
		return nil // the part is removed like that of one that failed
	}
	if errors.Is(err, fs.ErrExist) {
		return &UsageError{Problem: file + " exists already", Hint: "name another file, or let this one go with --overwrite"}
	}
	// Sticks and shares may know no second names.
	if _, err := os.Lstat(file); !errors.Is(err, fs.ErrNotExist) {
		return errors.Join(err, &UsageError{Problem: file + " exists already", Hint: "name another file, or let this one go with --overwrite"})
	}
	return os.Rename(part, file)
}

// syncFolder puts the names in a folder on the disk, where the system can.
func syncFolder(dir string) {
	if d, err := os.Open(dir); err == nil {
		_ = d.Sync()
		_ = d.Close()
	}
}

// noRoom says in plain words that a disk is full.
func noRoom(err error, where string) error {
	if errors.Is(err, sqlite.ErrFull) || errors.Is(err, syscall.ENOSPC) {
		return &FullError{Where: where, err: err}
	}
	return err
}

// FullError says that a disk has no room for what was to be written.
type FullError struct {
	Where string
	err   error
}

// Error names the place.
func (e *FullError) Error() string {
	return fmt.Sprintf("there is no room left on the disk of %s: make room there, or use another disk; nothing is left behind", e.Where)
}

// Unwrap returns what the system said.
func (e *FullError) Unwrap() error { return e.err }
