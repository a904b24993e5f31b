package app

import (
	"errors"
	"io"
	"io/fs"
	"os"
	"path/filepath"

	"fitfill/importers"
)

// scratchFolder holds texts of large sheets while they are read.
const scratchFolder = "scratch"

// scratch makes room in the data folder for the text of a large sheet.
func (s *Shop) scratch() (importers.ScratchFile, error) {
	dir := filepath.Join(s.store.Dir(), scratchFolder)
	if err := os.MkdirAll(dir, 0o700); err != nil {
		return nil, err
	}
	// What a killed process left goes now. A file in use is no longer here, or
	// cannot be removed.
	entries, err := os.ReadDir(dir)
	if err != nil {
		return nil, err
	}
	for _, e := range entries {
		_ = os.Remove(filepath.Join(dir, e.Name()))
	}
	return scratchIn(dir)
}

// scratchIn makes a file that nobody else can read, and that is gone when this
// process ends, however it does.
func scratchIn(dir string) (importers.ScratchFile, error) {
	f, err := os.CreateTemp(dir, "fitfill-*")
	if err != nil {
		return nil, err
	}
	if os.Remove(f.Name()) == nil {
		return f, nil
	}
	return &laterRemoved{f}, nil // as on systems that keep a file while it is open
}

type laterRemoved struct{ *os.File }

func (f *laterRemoved) Close() error {
	err := f.File.Close()
	// Another process may have taken it for what a killed one left.
	if gone := os.Remove(f.Name()); !errors.Is(gone, fs.ErrNotExist) {
		err = errors.Join(err, gone)
	}
	return err
}

// ownCopy is a copy of a large file that nobody can change while it is read, again
// and again, until it is stored. It must be closed. A small file needs none: it is
// read at once and kept.
func (s *Shop) ownCopy(f importers.File) (importers.File, io.Closer, error) {
	copied, err := s.scratch()
	if err != nil {
		return nil, nil, err
	}
	n, err := io.Copy(copied, io.NewSectionReader(f, 0, f.Size()))
	if err == nil && n < f.Size() {
		err = io.ErrUnexpectedEOF
	}
	if err != nil {
		return nil, nil, errors.Join(err, copied.Close())
	}
	return io.NewSectionReader(copied, 0, n), copied, nil
}
