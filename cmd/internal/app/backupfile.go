package app

import (
	"archive/zip"
	"compress/flate"
	"context"
	"crypto/sha256"
	"encoding/hex"
	"encoding/json"
	"errors"
	"fmt"
	"hash"
	"io"
	"io/fs"
	"os"
	"path/filepath"
	"slices"

	"fitfill/catalog/sqlite"
)

// A backup is a zip archive with the files of a data folder that nothing else
// could make again, and a list of them.
const (
	backupFormat  = 1
	backupList    = "fitfill-backup.json"
	catalogueFile = "catalogue.db"
	largestList   = 1 << 20 // bytes that the list may have
)

// inBackup are the files that a backup may hold.
var inBackup = []string{catalogueFile, SettingsFile, PassphraseFile}

// BackupList is what a backup says of itself.
type BackupList struct {
	Format int             `json:"fitfill_backup"` // of the archive
	MadeAt string          `json:"made_at"`        // when the catalogue was copied
	Schema int             `json:"schema"`         // of the catalogue
	Holds  sqlite.Holdings `json:"holds"`
	Files  []BackedUp      `json:"files"`
}

// BackedUp is a file in a backup.
type BackedUp struct {
	Name   string `json:"name"`
	Size   int64  `json:"size_bytes"`
	SHA256 string `json:"sha256"`
}

// writeBackup writes the archive: the files by the names that they get in it,
// where they are there at all, and then the list.
func writeBackup(ctx context.Context, w io.Writer, list *BackupList, from map[string]string) error {
	z := zip.NewWriter(w)
	z.RegisterCompressor(zip.Deflate, func(w io.Writer) (io.WriteCloser, error) {
		return flate.NewWriter(w, flate.BestSpeed) // half the size; the usual level takes four to five times as long for a tenth less
	})
	list.Files = []BackedUp{}
	for _, name := range inBackup {
		one, err := packFile(ctx, z, name, from[name])
		if errors.Is(err, fs.ErrNotExist) && name != catalogueFile {
			continue
		}
		if err != nil {
			return err
		}
		list.Files = append(list.Files, one)
	}
	text, err := json.MarshalIndent(list, "", "  ")
	if err != nil {
		return err
	}
	entry, err := z.Create(backupList)
	if err != nil {
		return err
	}
	if _, err := entry.Write(append(text, '\n')); err != nil {
		return err
	}
	return z.Close()
}

func packFile(ctx context.Context, z *zip.Writer, name, path string) (BackedUp, error) {
	f, err := os.Open(path)
	if err != nil {
		return BackedUp{}, err
	}
	defer f.Close()
	entry, err := z.Create(name)
	if err != nil {
		return BackedUp{}, err
	}
	sum := sha256.New()
	n, err := io.Copy(io.MultiWriter(entry, sum), whileWanted{ctx, f})
	return BackedUp{name, n, digestOf(sum)}, err
}

func digestOf(h hash.Hash) string { return hex.EncodeToString(h.Sum(nil)) }

// whileWanted reads until nobody waits for it any more.
type whileWanted struct {
	ctx  context.Context
	from io.Reader
}

func (r whileWanted) Read(p []byte) (int, error) {
	if err := r.ctx.Err(); err != nil {
		return 0, err
	}
	return r.from.Read(p)
}

// noBackup says why a file cannot be restored from.
func noBackup(file, why string) error {
	return &UsageError{Problem: fmt.Sprintf("%s is not a whole backup: %s", file, why), Hint: "take another backup; nothing was changed"}
}

// backupArchive is a backup that is open for reading.
type backupArchive struct {
	*zip.ReadCloser
	name  string
	list  BackupList
	files map[string]*zip.File
}

// openBackup opens a backup and reads its list. What is no backup, holds what
// its list does not name, or was made by a newer fitfill is a UsageError.
func openBackup(file string) (_ *backupArchive, err error) {
	z, err := zip.OpenReader(file)
	if errors.Is(err, fs.ErrNotExist) || errors.Is(err, fs.ErrPermission) {
		return nil, &UsageError{Problem: fmt.Sprintf("%s cannot be opened: %v", file, errors.Unwrap(err)), Hint: "name the file that fitfill backup wrote"}
	}
	if err != nil {
		return nil, noBackup(file, "it is no archive or its end is missing")
	}
	defer func() {
		if err != nil {
			err = errors.Join(err, z.Close())
		}
	}()
	a := &backupArchive{ReadCloser: z, name: file, files: map[string]*zip.File{}}
	for _, f := range z.File {
		if a.files[f.Name] != nil {
			return nil, noBackup(file, f.Name+" stands in it twice")
		}
		a.files[f.Name] = f
	}
	if a.files[backupList] == nil {
		return nil, noBackup(file, "it has no list of what it holds")
	}
	text, err := a.read(backupList, largestList)
	if err != nil {
		return nil, noBackup(file, "the list of what it holds cannot be read")
	}
	if err := json.Unmarshal(text, &a.list); err != nil || a.list.Format < 1 {
		return nil, noBackup(file, "the list of what it holds cannot be read")
	}
	known, err := sqlite.Schema()
	if err != nil {
		return nil, err
	}
	if a.list.Format > backupFormat || a.list.Schema > known {
		return nil, &UsageError{
			Problem: fmt.Sprintf("%s was made by a newer fitfill (schema %d, this one knows %d)", file, a.list.Schema, known),
			Hint:    "restore it with that one; nothing was changed",
		}
	}
	return a, a.complete()
}

// complete compares the archive with its list.
func (a *backupArchive) complete() error {
	listed := map[string]bool{backupList: true}
	for _, f := range a.list.Files {
		if !slices.Contains(inBackup, f.Name) {
			return noBackup(a.name, fmt.Sprintf("it lists %q, which no backup holds", f.Name))
		}
		if a.files[f.Name] == nil || listed[f.Name] {
			return noBackup(a.name, f.Name+" is not in it once, as its list says")
		}
		listed[f.Name] = true
	}
	for name := range a.files {
		if !listed[name] {
			return noBackup(a.name, fmt.Sprintf("it holds %q, which is not on its list", name))
		}
	}
	if !listed[catalogueFile] {
		return noBackup(a.name, "no catalogue is in it")
	}
	return nil
}

func (a *backupArchive) read(name string, most int64) ([]byte, error) {
	r, err := a.files[name].Open()
	if err != nil {
		return nil, err
	}
	defer r.Close()
	return io.ReadAll(io.LimitReader(r, most))
}

// unpack writes every file of the backup into a folder, or to nowhere where
// that is "", and compares each with the list.
func (a *backupArchive) unpack(ctx context.Context, dir string) error {
	for _, f := range a.list.Files {
		if err := a.unpackOne(ctx, f, dir); err != nil {
			return err
		}
	}
	return nil
}

func (a *backupArchive) unpackOne(ctx context.Context, f BackedUp, dir string) (err error) {
	to := io.Discard
	if dir != "" {
		file, err := os.OpenFile(filepath.Join(dir, f.Name), os.O_WRONLY|os.O_CREATE|os.O_EXCL, 0o600)
		if err != nil {
			return err
		}
		defer func() { err = errors.Join(err, file.Close()) }()
		to = file
	}
	r, err := a.files[f.Name].Open()
	if err != nil {
		return noBackup(a.name, f.Name+" in it cannot be read")
	}
	defer r.Close()
	// One byte more than the list says: a small file can unpack to a disk full of
	// nothing.
	sum, out := sha256.New(), &keptError{to: to}
	n, err := io.Copy(io.MultiWriter(out, sum), io.LimitReader(whileWanted{ctx, r}, f.Size+1))
	switch {
	case ctx.Err() != nil:
		return ctx.Err()
	case out.err != nil:
		return out.err
	case err != nil:
		return noBackup(a.name, f.Name+" in it is damaged")
	case n != f.Size || digestOf(sum) != f.SHA256:
		return noBackup(a.name, f.Name+" in it is not what its list says: it was changed or damaged")
	}
	return nil
}

// keptError tells an error of the writer from one of the reader.
type keptError struct {
	to  io.Writer
	err error
}

func (k *keptError) Write(p []byte) (int, error) {
	n, err := k.to.Write(p)
	k.err = errors.Join(k.err, err)
	return n, err
}
