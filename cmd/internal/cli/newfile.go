package cli

import (
	"errors"
	"os"
	"path/filepath"
	"strings"

	"fitfill/cmd/internal/app"
)

// createNew makes a file that must not be there yet: a person may have filled in
// the one of that name.
func createNew(name string) (*os.File, error) {
	f, err := os.OpenFile(name, os.O_WRONLY|os.O_CREATE|os.O_EXCL, 0o644)
	if os.IsExist(err) {
		return nil, &app.UsageError{Problem: name + " exists already", Hint: "name another file, so that nothing you filled in is lost"}
	}
	return f, err
}

// writeNew writes a file that must not be there yet.
func writeNew(name string, text []byte) error {
	f, err := createNew(name)
	if err != nil {
		return err
	}
	_, err = f.Write(text)
	return errors.Join(err, f.Close())
}

// writeTable writes a table of comma-separated text, as a workbook where the
// file's name ends like one.
func writeTable(name string, table []byte) error {
	if strings.EqualFold(filepath.Ext(name), ".xlsx") {
		var err error
		if table, err = app.Workbook(table); err != nil {
			return err
		}
	}
	return writeNew(name, table)
}
