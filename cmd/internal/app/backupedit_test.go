package app

import (
	"archive/zip"
	"bytes"
	"database/sql"
	"encoding/json"
	"errors"
	"io"
	"os"
	"path/filepath"
	"testing"
)

// rewritten copies a backup with one of its files changed; without a change it
// is left out.
func rewritten(t *testing.T, file, name string, change func([]byte) []byte) string {
	t.Helper()
	z, err := zip.OpenReader(file)
	if err != nil {
		t.Fatal(err)
	}
	defer z.Close()
	var out bytes.Buffer
	w := zip.NewWriter(&out)
	for _, f := range z.File {
		r, err := f.Open()
		if err != nil {
			t.Fatal(err)
		}
		text, err := io.ReadAll(r)
		if err != nil {
			t.Fatal(err)
		}
		if f.Name == name {
			if change == nil {
				continue
			}
			text = change(text)
		}
		entry, err := w.Create(f.Name)
		if err == nil {
			_, err = entry.Write(text)
		}
		if err != nil {
			t.Fatal(err)
		}
	}
	if err := w.Close(); err != nil {
		t.Fatal(err)
	}
	path := filepath.Join(t.TempDir(), "other.zip")
	if err := os.WriteFile(path, out.Bytes(), 0o600); err != nil {
		t.Fatal(err)
	}
	return path
}

// relisted changes the list of a backup.
func relisted(t *testing.T, file string, change func(*BackupList)) string {
	return rewritten(t, file, backupList, func(text []byte) []byte {
		var l BackupList
		if err := json.Unmarshal(text, &l); err != nil {
			t.Fatal(err)
		}
		change(&l)
		text, err := json.Marshal(l)
		if err != nil {
			t.Fatal(err)
		}
		return text
	})
}

// changedCatalogue runs statements on the catalogue of a backup and writes the
// list anew, as if it had been made so.
func changedCatalogue(t *testing.T, file string, statements string) string {
	t.Helper()
	var size int64
	var sum string
	other := rewritten(t, file, catalogueFile, func(raw []byte) []byte {
		path := filepath.Join(t.TempDir(), "c.db")
		if err := os.WriteFile(path, raw, 0o600); err != nil {
			t.Fatal(err)
		}
		db, err := sql.Open("sqlite", path)
		if err == nil {
			_, err = db.Exec(statements)
		}
		if err := errors.Join(err, db.Close()); err != nil {
			t.Fatal(err)
		}
		raw, err = os.ReadFile(path)
		if err != nil {
			t.Fatal(err)
		}
		size, sum = int64(len(raw)), hashOf(raw)
		return raw
	})
	return relisted(t, other, func(l *BackupList) { l.Files[0].Size, l.Files[0].SHA256 = size, sum })
}
