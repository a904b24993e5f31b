package app

import (
	"bytes"
	"fmt"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"
	"golang.org/x/text/encoding/charmap"
)

// longList is a list over the size that is kept in memory, with rows to hold, a row
// of several lines and letters beyond ASCII.
func longList() string {
	var b strings.Builder
	b.WriteString("Part No;Our remarks;Opening temp;Price EUR\n")
	long := strings.Repeat("Thermostat für Öl und Wasser ", 300)
	for i := range 600 {
		switch i % 97 {
		case 5:
			fmt.Fprintf(&b, "L-%d;%s;82 °C;1,5x\n", i, long)
		case 7:
			fmt.Fprintf(&b, "L-%d;%s;82 °C;1,50;too many\n", i, long)
		case 9:
			fmt.Fprintf(&b, "L-%d;\"%s\nand a second line\";82 °C;1,50\n", i, long)
		default:
			fmt.Fprintf(&b, "L-%d;%s;8%d °C;%d,50\n", i, long, i%10, i)
		}
	}
	return b.String()
}

// A large sheet is read from where it lies, out of an archive or in another encoding
// from a file of our own: the same rows come in as from memory, and of those files
// nothing is left. It does not matter that the sheet is gone afterwards.
func TestLargeSheetComesInFromItsFileAsFromMemory(t *testing.T) {
	text := longList()
	old, err := charmap.Windows1252.NewEncoder().String(text)
	if err != nil || len(old) < largeSheet {
		t.Fatal(len(old), err)
	}
	dir := t.TempDir()
	for _, tc := range []struct {
		name string
		raw  []byte
		set  map[string]string
	}{
		{"list.csv", []byte(text), nil}, {"list.csv.gz", packed([]byte(text)), map[string]string{"limit-ratio": "10000"}},
		{"old.csv", []byte(old), map[string]string{"encoding": "windows-1252"}},
	} {
		var want []string
		for _, inFile := range []bool{false, true} {
			s := garage(t)
			q := ImportQuestion{Name: tc.name, Raw: tc.raw, Supplier: "Ostrel", Settings: tc.set, Ignore: []string{"Our remarks"}}
			if inFile {
				path := filepath.Join(dir, tc.name)
				if err := os.WriteFile(path, tc.raw, 0o600); err != nil {
					t.Fatal(err)
				}
				f, err := os.Open(path)
				if err != nil {
					t.Fatal(err)
				}
				defer f.Close()
				q.Raw, q.File = nil, &osFile{f, int64(len(tc.raw))}
			}
			q.Check = true
			a := s.mustImport(t, q, Staged)
			a, err := s.AcceptStaged(t.Context(), a.ID, ImportQuestion{})
			if err != nil || a.Status != Imported || a.RowsHeld != 14 {
				t.Fatalf("%s: %s, %d held, %+v, %v", tc.name, a.Status, a.RowsHeld, a.Open, err)
			}
			got := append(s.seen(t), fmt.Sprintf("%+v", a.Held))
			if d := cmp.Diff(want, got); inFile && d != "" {
				t.Errorf("%s (-in memory +in a file):\n%s", tc.name, d)
			}
			want = got
			if inFile {
				s.mustBeSound(t)
				line, err := s.SheetLine(t.Context(), SheetLineQuestion{Sheet: fmt.Sprint(a.ID), Line: 7})
				if err != nil || len(line.Cells) != 4 || line.Cells[3].Text != "1,5x" {
					t.Errorf("%s: line 7 of the kept sheet is %+v, %v", tc.name, line, err)
				}
				var kept bytes.Buffer
				if err := s.WriteSheetFile(t.Context(), a.ID, &kept); err != nil || !strings.HasSuffix(tc.name, ".gz") && !bytes.Equal(kept.Bytes(), tc.raw) {
					t.Errorf("%s: %d bytes are kept of %d, %v", tc.name, kept.Len(), len(tc.raw), err)
				}
			}
			if left, err := os.ReadDir(filepath.Join(s.store.Dir(), scratchFolder)); len(left) > 0 || err != nil && !os.IsNotExist(err) {
				t.Errorf("%s: %d files are left over (%v)", tc.name, len(left), err)
			}
		}
	}
}

type osFile struct {
	*os.File
	size int64
}

func (f *osFile) Size() int64 { return f.size }

// A file that a killed process left goes when the next one is made.
func TestWhatAKilledImportLeftInTheScratchFolderGoes(t *testing.T) {
	s := garage(t)
	dir := filepath.Join(s.store.Dir(), scratchFolder)
	left := filepath.Join(dir, "fitfill-left")
	if err := os.MkdirAll(dir, 0o700); err != nil {
		t.Fatal(err)
	}
	if err := os.WriteFile(left, []byte("x"), 0o600); err != nil {
		t.Fatal(err)
	}
	f, err := s.scratch()
	if err != nil {
		t.Fatal(err)
	}
	if _, err := os.Stat(left); !os.IsNotExist(err) {
		t.Errorf("it is still there: %v", err)
	}
	if _, err := f.Write([]byte("text")); err != nil {
		t.Fatal(err)
	}
	got := make([]byte, 4)
	if _, err := f.ReadAt(got, 0); err != nil || !bytes.Equal(got, []byte("text")) || f.Close() != nil {
		t.Errorf("%q, %v", got, err)
	}
}
