package cli

import (
	"bytes"
	"fmt"
	"io"
	"os"

	"fitfill/cmd/internal/app"
)

// sheetFile is a sheet that a person named: the open file, or, of what is none (a
// pipe), all that came out of it.
type sheetFile struct {
	io.ReaderAt
	size int64
	file *os.File // nil where it is no file
}

// openSheet opens a sheet for reading. It must be closed.
func openSheet(name string) (*sheetFile, error) {
	f, err := os.Open(name)
	if err != nil {
		return nil, unreadable(name, err)
	}
	info, err := f.Stat()
	if err == nil && info.Mode().IsRegular() {
		return &sheetFile{f, info.Size(), f}, nil
	}
	raw, err := io.ReadAll(f)
	f.Close()
	if err != nil {
		return nil, unreadable(name, err)
	}
	return &sheetFile{bytes.NewReader(raw), int64(len(raw)), nil}, nil
}

func unreadable(name string, err error) error {
	return &app.UsageError{Problem: fmt.Sprintf("cannot read %s: %v", name, err), Hint: "check the name of the file"}
}

// Size returns the number of bytes.
func (s *sheetFile) Size() int64 { return s.size }

// Close closes the file, if there is one.
func (s *sheetFile) Close() error {
	if s.file == nil {
		return nil
	}
	return s.file.Close()
}
