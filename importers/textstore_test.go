package importers

import (
	"bytes"
	"errors"
	"io"
	"sync"
	"sync/atomic"
	"testing"

	"fitfill/catalog"

	"pgregory.net/rapid"
)

// memScratch is a scratch file in memory that tells whether it was closed.
type memScratch struct {
	bytes.Buffer
	closed bool
}

func (m *memScratch) ReadAt(b []byte, off int64) (int, error) {
	return bytes.NewReader(m.Bytes()).ReadAt(b, off)
}

func (m *memScratch) Close() error { m.closed = true; return nil }

// smallPages stores texts as a large sheet's are stored, in pages so small that
// every record crosses one.
func smallPages(page int) storage {
	return storage{scratch: func() (ScratchFile, error) { return &memScratch{}, nil }, page: page, over: page / 2}
}

func TestTextInPagesIsTheTextInMemory(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		raw := rapid.SliceOfN(rapid.Byte(), 0, 400).Draw(t, "raw")
		st := smallPages(rapid.IntRange(1, 50).Draw(t, "page"))
		st.keep = rapid.IntRange(-1, 100).Draw(t, "keep")
		w := newTextWriter(st)
		for rest := raw; len(rest) > 0; {
			n := rapid.IntRange(1, len(rest)).Draw(t, "part")
			if _, err := w.Write(rest[:n]); err != nil {
				t.Fatal(err)
			}
			rest = rest[n:]
		}
		whole, err := w.text()
		if err != nil {
			t.Fatal(err)
		}
		if (w.file != nil) != (len(raw) > st.keep && len(raw) > 0) {
			t.Fatalf("%d bytes with %d kept lie in a file: %v", len(raw), st.keep, w.file != nil)
		}
		skip := rapid.IntRange(0, len(raw)).Draw(t, "skip")
		part := whole.from(skip)
		raw = raw[skip:]
		var group sync.WaitGroup
		for range 3 {
			from := rapid.IntRange(0, len(raw)).Draw(t, "from")
			to := rapid.IntRange(from, len(raw)).Draw(t, "to")
			group.Go(func() {
				for range 3 {
					if got := part.slice(from, to); !bytes.Equal(got, raw[from:to]) {
						t.Errorf("%d to %d is %q, want %q", from, to, got, raw[from:to])
					}
				}
			})
		}
		group.Wait()
		var passed []byte
		part.pass(0, func(b []byte) bool { passed = append(passed, b...); return true })
		read, err := io.ReadAll(io.NewSectionReader(part, 0, part.Size()))
		if !bytes.Equal(passed, raw) || !bytes.Equal(read, raw) || err != nil || part.err() != nil {
			t.Fatalf("%q was passed and %q read (%v, %v), want %q", passed, read, err, part.err(), raw)
		}
	})
}

// A file that became shorter, or a disk that fails, is an error and no text.
func TestTextThatCannotBeReadSaysSo(t *testing.T) {
	whole, err := textIn(io.NewSectionReader(bytes.NewReader([]byte("short")), 0, 50), smallPages(8))
	if err != nil || len(whole.slice(0, 50)) != 50 || !errors.Is(whole.err(), io.ErrUnexpectedEOF) {
		t.Fatalf("%v, %v", err, whole.err())
	}
	st := smallPages(8)
	st.scratch = func() (ScratchFile, error) { return nil, errors.New("no room") }
	w := newTextWriter(st)
	io.WriteString(w, "text")
	if _, err := w.text(); err == nil {
		t.Fatal("a text without room was kept")
	}
}

// A file that fails after it was opened ends the reading of its rows with an error,
// for what it could not say must not be taken for nothing.
func TestFileThatFailsWhileItsRowsAreReadIsAnError(t *testing.T) {
	file := &failing{Reader: bytes.NewReader([]byte("Part No;Description;Price EUR\n" + manyRows()))}
	s, err := openFile(testVocabulary(t), "list.csv", file, smallPages(500), nil)
	if err != nil {
		t.Fatal(err)
	}
	m := suggestWith(testVocabulary(t), specOf(catalog.SupplierSheet), s, Options{}).Mapping
	file.broken.Store(true)
	_, err = readWithVocabulary(testVocabulary(t), s, m, Options{}, func(catalog.SheetRow) error { return nil })
	if !errors.Is(err, errBroken) {
		t.Fatalf("the rows of a broken file were read: %v", err)
	}
}

var errBroken = errors.New("the disk is gone")

type failing struct {
	*bytes.Reader
	broken atomic.Bool
}

func (f *failing) ReadAt(b []byte, off int64) (int, error) {
	if f.broken.Load() {
		return 0, errBroken
	}
	return f.Reader.ReadAt(b, off)
}

func TestScratchFileGoesWhenItIsClosed(t *testing.T) {
	file := &memScratch{}
	w := newTextWriter(storage{scratch: func() (ScratchFile, error) { return file, nil }, page: 8})
	if _, err := io.WriteString(w, "text"); err != nil || w.Close() != nil || !file.closed {
		t.Fatalf("closed: %v, %v", file.closed, err)
	}
}
