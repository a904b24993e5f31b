package importers

import (
	"bufio"
	"bytes"
	"errors"
	"fmt"
	"io"
	"strconv"
	"unicode/utf16"
	"unicode/utf8"
)

// sharedTexts are the texts that the cells of a workbook point to by number, one
// behind another: the first of them in memory, the others in a file, because a
// workbook may have millions.
type sharedTexts struct {
	scratch Scratch    // nil: all of them in memory
	ends    [][]uint32 // where each text ends, so many in one piece that a long table is not copied when it grows
	n       int        // texts
	head    []byte
	file    ScratchFile // nil as long as head holds all
	out     *bufio.Writer
	blocks  []sharedBlock
}

// sharedBlock is a stretch of the file that was read: texts that stand together
// are mostly asked for together.
type sharedBlock struct {
	number int64 // from 1
	data   []byte
}

const (
	sharedHead  = 8 << 20
	sharedEnds  = 1 << 16
	sharedBytes = 1<<32 - 1
	sharedMost  = 1 << 24
	sharedSize  = 8 << 10
	sharedSlots = 512
)

// readSharedTexts reads the table of a workbook; one that has none has an empty
// one.
func (b *book) readSharedTexts() error {
	if b.sharedPart == "" || findPart(b.zip, b.sharedPart) == nil {
		return nil
	}
	part, err := b.open(b.sharedPart)
	if err != nil {
		return err
	}
	defer part.Close()
	return b.shared.read(part)
}

func (t *sharedTexts) read(part io.Reader) error {
	x := newMarkup(part)
	var text, plain []byte
	for x.child(0) {
		for x.child(1) {
			if string(x.name) != "si" {
				continue
			}
			text = text[:0]
			eachText(x, func(t []byte) { text = append(text, t...) })
			plain = unescaped(plain[:0], text)
			if err := t.add(plain); err != nil {
				return err
			}
		}
	}
	if x.err == nil && t.out != nil {
		return t.out.Flush()
	}
	return x.err
}

// end is where text number i ends, 0 for the one before the first.
func (t *sharedTexts) end(i int) int64 {
	if i < 0 {
		return 0
	}
	return int64(t.ends[i/sharedEnds][i%sharedEnds])
}

func (t *sharedTexts) size() int64 {
	return t.end(t.n - 1)
}

func (t *sharedTexts) add(text []byte) error {
	size := t.size() + int64(len(text))
	if size > sharedBytes || t.n == sharedMost {
		return &limitError{fmt.Sprintf("more than %d texts or %s of them: split the workbook and import its parts", sharedMost, sizeText(1<<32))}
	}
	if t.n%sharedEnds == 0 {
		t.ends = append(t.ends, make([]uint32, 0, sharedEnds))
	}
	last := &t.ends[len(t.ends)-1]
	*last = append(*last, uint32(size))
	t.n++
	if t.file == nil && (t.scratch == nil || len(t.head)+len(text) <= sharedHead) {
		t.head = append(t.head, text...)
		return nil
	}
	if t.file == nil {
		var err error
		if t.file, err = t.scratch(); err != nil {
			return err
		}
		t.out = bufio.NewWriterSize(t.file, markupWindow)
		t.blocks = make([]sharedBlock, sharedSlots)
	}
	_, err := t.out.Write(text)
	return err
}

// append adds text number i to dst; false where the workbook has no such text.
func (t *sharedTexts) append(dst []byte, i int64) ([]byte, bool, error) {
	if i < 0 || i >= int64(t.n) {
		return dst, false, nil
	}
	from, end := t.end(int(i)-1), t.end(int(i))
	if end <= int64(len(t.head)) {
		return append(dst, t.head[from:end]...), true, nil
	}
	from, end = from-int64(len(t.head)), end-int64(len(t.head))
	for from < end {
		block, err := t.block(from / sharedSize)
		if err != nil {
			return dst, false, err
		}
		block = block[from%sharedSize:]
		n := min(int64(len(block)), end-from)
		dst, from = append(dst, block[:n]...), from+n
	}
	return dst, true, nil
}

// block returns a stretch of the file.
func (t *sharedTexts) block(number int64) ([]byte, error) {
	b := &t.blocks[number%sharedSlots]
	if b.number == number+1 {
		return b.data, nil
	}
	if b.data == nil {
		b.data = make([]byte, sharedSize)
	}
	b.number = 0
	n, err := t.file.ReadAt(b.data[:sharedSize], number*sharedSize)
	if err != nil && !errors.Is(err, io.EOF) {
		return nil, err
	}
	b.number, b.data = number+1, b.data[:n]
	return b.data, nil
}

func (t *sharedTexts) close() error {
	if t.file == nil {
		return nil
	}
	return t.file.Close()
}

// unescaped adds a text to dst in which characters that XML cannot hold are
// written by their numbers, as in _x000D_ (ISO/IEC 29500-1, 22.9.2.19
// ST_Xstring). Half of a pair that stands alone is no character and stays.
func unescaped(dst, text []byte) []byte {
	for {
		i := bytes.Index(text, []byte("_x"))
		if i < 0 {
			return append(dst, text...)
		}
		dst = append(dst, text[:i]...)
		text = text[i:]
		r, size := escapedRune(text)
		if size == 0 {
			dst, text = append(dst, text[:2]...), text[2:]
			continue
		}
		dst, text = append(dst, string(r)...), text[size:]
	}
}

// escapedRune reads _xHHHH_ at the beginning of text, or two of them that are one
// character.
func escapedRune(text []byte) (r rune, size int) {
	const length = len("_xHHHH_")
	unit := func(from int) (rune, bool) {
		if len(text) < from+length || text[from] != '_' || text[from+1] != 'x' || text[from+length-1] != '_' {
			return 0, false
		}
		n, err := strconv.ParseUint(string(text[from+2:from+length-1]), 16, 16)
		return rune(n), err == nil
	}
	first, ok := unit(0)
	if !ok {
		return 0, 0
	}
	if !utf16.IsSurrogate(first) {
		return first, length
	}
	if second, ok := unit(length); ok {
		if r := utf16.DecodeRune(first, second); r != utf8.RuneError {
			return r, 2 * length
		}
	}
	return 0, 0
}
