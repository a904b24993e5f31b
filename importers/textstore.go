package importers

import (
	"errors"
	"fmt"
	"io"
	"math"
	"sync/atomic"
)

// File is a file that can be read at any place, wherever it lies: bytes.NewReader
// makes one of bytes, io.NewSectionReader one of an open file.
type File interface {
	io.ReaderAt
	Size() int64
}

// ScratchFile is an empty file to write once and to read from then on. Close
// takes it away.
type ScratchFile interface {
	io.Writer
	io.ReaderAt
	io.Closer
}

// Scratch makes room for text that no file holds as such, because it comes out of
// an archive, a workbook or another encoding.
type Scratch func() (ScratchFile, error)

// storage says how much of a text may lie in memory, and where the rest goes.
type storage struct {
	scratch Scratch // nil: everything stays in memory
	keep    int     // texts up to this size stay in memory
	page    int     // bytes of a page of those that do not
	over    int     // bytes of the next page that each page holds too
}

// usualStorage keeps small sheets in memory. A record lies on one page as a rule,
// since a page reaches over into the next.
func usualStorage(scratch Scratch) storage {
	return storage{scratch: scratch, keep: 4 << 20, page: 128 << 10, over: 8 << 10}
}

// text is the bytes of a sheet. What does not lie in memory is read from its file
// by pages; a slice of it stays good for as long as anybody holds it, and keeps its
// page in memory for that long. All methods may be used from several goroutines.
type text struct {
	mem  []byte // all of it, where file is nil
	file io.ReaderAt
	base int64 // where in the file it begins
	size int
	storage

	pages  [pageSets][pagesOfSet]atomic.Pointer[leaf]
	turn   atomic.Uint32
	failed atomic.Pointer[error]
}

// A text keeps the pages that were read last: a few for each goroutine that may go
// through it at the same time.
const (
	pageSets   = 4
	pagesOfSet = 4
)

type leaf struct {
	number int
	data   []byte
}

func textOf(mem []byte) *text { return &text{mem: mem, size: len(mem)} }

// textIn returns the text that a file holds, in memory where it is short.
func textIn(f File, st storage) (*text, error) {
	if f.Size() > math.MaxInt {
		return nil, errors.New("the file is larger than this machine can count")
	}
	t := &text{file: f, size: int(f.Size()), storage: st}
	if t.size > st.keep {
		return t, nil
	}
	mem := t.bytes()
	return textOf(mem), t.err()
}

// from returns the text behind its first n bytes.
func (t *text) from(n int) *text {
	if t.file == nil {
		return textOf(t.mem[n:])
	}
	if n == 0 {
		return t
	}
	return &text{file: t.file, base: t.base + int64(n), size: t.size - n, storage: t.storage}
}

// slice returns the bytes from..to.
func (t *text) slice(from, to int) []byte {
	if t.file == nil {
		return t.mem[from:to:to]
	}
	if from == to {
		return nil
	}
	number := from / t.page
	p := t.load(number)
	if at := from - number*t.page; at+to-from <= len(p.data) {
		return p.data[at : at+to-from : at+to-from]
	}
	b := make([]byte, to-from)
	t.read(b, from)
	return b
}

func (t *text) load(number int) *leaf {
	set := &t.pages[number%pageSets]
	for i := range set {
		if p := set[i].Load(); p != nil && p.number == number {
			return p
		}
	}
	from := number * t.page
	p := &leaf{number, make([]byte, min(t.page+t.over, t.size-from))}
	t.read(p.data, from)
	set[t.turn.Add(1)%pagesOfSet].Store(p)
	return p
}

// read fills b from a place. What cannot be read is zeros, and the error stays.
func (t *text) read(b []byte, from int) {
	if t.file == nil {
		copy(b, t.mem[from:])
		return
	}
	n, err := t.file.ReadAt(b, t.base+int64(from))
	if n == len(b) {
		return
	}
	clear(b[n:])
	if err == nil || err == io.EOF {
		err = io.ErrUnexpectedEOF
	}
	t.failed.CompareAndSwap(nil, &err)
}

// err is what went wrong while the text was read, if anything did. Whoever read
// it through asks, and believes nothing of it otherwise.
func (t *text) err() error {
	if p := t.failed.Load(); p != nil {
		return fmt.Errorf("the file cannot be read to its end (%w): nothing may be stored; look whether it was changed or moved meanwhile", *p)
	}
	return nil
}

// bytes returns all of the text.
func (t *text) bytes() []byte {
	if t.file == nil {
		return t.mem
	}
	b := make([]byte, t.size)
	t.read(b, 0)
	return b
}

// copyOf returns n bytes from a place on, or all that there are, without keeping
// their page.
func (t *text) copyOf(from, n int) []byte {
	n = max(0, min(n, t.size-from))
	if t.file == nil {
		return t.mem[from : from+n]
	}
	b := make([]byte, n)
	t.read(b, from)
	return b
}

// head returns the first n bytes, or all where there are fewer.
func (t *text) head(n int) []byte { return t.slice(0, min(n, t.size)) }

// passBytes is how much of a text one pass looks at: little enough that several
// looks at it find it near the processor.
const passBytes = 64 << 10

// pass goes through the text from a place in pieces, until do returns false. A
// piece is only good during the call.
func (t *text) pass(from int, do func(piece []byte) bool) {
	var buf []byte
	for from < t.size {
		n := min(passBytes, t.size-from)
		var piece []byte
		if t.file == nil {
			piece = t.mem[from : from+n]
		} else {
			if buf == nil {
				buf = make([]byte, min(n, t.page))
			}
			n = min(n, t.page)
			piece = buf[:n]
			t.read(piece, from)
		}
		if !do(piece) {
			return
		}
		from += n
	}
}

// ReadAt and Size make a text a File.
func (t *text) ReadAt(b []byte, off int64) (int, error) {
	if off < 0 || off >= int64(t.size) {
		return 0, io.EOF
	}
	n := min(len(b), t.size-int(off))
	if t.file != nil {
		got, err := t.file.ReadAt(b[:n], t.base+off)
		if got < n {
			return got, err
		}
	} else {
		copy(b[:n], t.mem[off:])
	}
	if n < len(b) {
		return n, io.EOF
	}
	return n, nil
}

// Size returns the number of bytes.
func (t *text) Size() int64 { return int64(t.size) }
