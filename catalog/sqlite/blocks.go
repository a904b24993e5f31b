package sqlite

import (
	"bytes"
	"compress/flate"
	"context"
	"fmt"
	"io"
	"slices"
)

const linesPerBlock = 256

// lineEnd returns the length of the line end at the beginning of b, 0 if there
// is none. CR CR LF, which some programs write, is one line end.
func lineEnd(b []byte) int {
	for _, end := range []string{"\r\r\n", "\r\n", "\n", "\r"} {
		if len(b) >= len(end) && string(b[:len(end)]) == end {
			return len(end)
		}
	}
	return 0
}

// Content is the bytes of a file, in memory or wherever they lie: bytes.NewReader and
// io.NewSectionReader make one.
type Content interface {
	io.ReaderAt
	Size() int64
}

// readOf goes through a content from its beginning.
func readOf(c Content) io.Reader { return io.NewSectionReader(c, 0, c.Size()) }

// readAtOnce is how much of a content eachBlock reads at a time, and lineEndBytes the
// bytes of the longest line end.
const (
	readAtOnce   = 256 << 10
	lineEndBytes = 3
)

// eachBlock hands on the blocks of splitLines with the number of their first line,
// and has not much more than one of them in memory. A block is good during the call.
func eachBlock(c Content, do func(firstLine int, block []byte) error) error {
	r := readOf(c)
	var held []byte
	line, left := 1, c.Size()
	for left > 0 || len(held) > 0 {
		n := int(min(left, int64(max(readAtOnce, len(held)))))
		from := len(held)
		held = slices.Grow(held, n)[:from+n]
		if _, err := io.ReadFull(r, held[from:]); err != nil {
			return fmt.Errorf("read the sheet once more: %w", err)
		}
		left -= int64(n)
		done := 0
		for _, block := range splitLines(held) {
			// What ends with the piece may go on in the next.
			if left > 0 && done+len(block)+lineEndBytes > len(held) {
				break
			}
			if err := do(line, block); err != nil {
				return err
			}
			done += len(block)
			line += linesPerBlock
		}
		held = append(held[:0], held[done:]...)
	}
	return nil
}

// splitLines cuts a file into blocks of whole physical lines; the blocks joined
// are the file, byte for byte.
func splitLines(raw []byte) (blocks [][]byte) {
	start, lines := 0, 0
	for i := 0; i < len(raw); {
		n := lineEnd(raw[i:])
		if n == 0 {
			i++
			continue
		}
		i += n
		if lines++; lines == linesPerBlock {
			blocks = append(blocks, raw[start:i])
			start, lines = i, 0
		}
	}
	if start < len(raw) {
		blocks = append(blocks, raw[start:])
	}
	return blocks
}

// lineOf returns line n (0 is the first) of a block, without its line end.
func lineOf(block []byte, n int) (string, bool) {
	for {
		end := bytes.IndexAny(block, "\r\n")
		if end < 0 {
			end = len(block)
		}
		if n == 0 {
			return string(block[:end]), len(block) > 0
		}
		if end == len(block) {
			return "", false
		}
		block, n = block[end+lineEnd(block[end:]):], n-1
	}
}

func pack(w *flate.Writer, block []byte) ([]byte, error) {
	return packAll(w, bytes.NewReader(block))
}

func packAll(w *flate.Writer, r io.Reader) ([]byte, error) {
	var out bytes.Buffer
	w.Reset(&out)
	if _, err := io.Copy(w, r); err != nil {
		return nil, err
	}
	if err := w.Close(); err != nil {
		return nil, err
	}
	return out.Bytes(), nil
}

func unpack(data []byte) ([]byte, error) { return io.ReadAll(flate.NewReader(bytes.NewReader(data))) }

// LineText returns the text of a physical line of a sheet (1 is the first), in
// UTF-8, as it stands in the file. ErrNotFound if the sheet has no such line.
func (v *View) LineText(ctx context.Context, sheetID int64, line int) (string, error) {
	first := (line-1)/linesPerBlock*linesPerBlock + 1
	at := blockAt{sheetID, first}
	block, ok := v.blocks[at]
	if !ok {
		var data []byte
		err := v.row(ctx, "SELECT data FROM sheet_block WHERE sheet_id = ? AND first_line = ?", []any{sheetID, first}, &data)
		if err != nil {
			return "", notFound(err, "line %d of sheet %d", line, sheetID)
		}
		if block, err = unpack(data); err != nil {
			return "", fmt.Errorf("the kept copy of sheet %d is damaged: %w", sheetID, err)
		}
		v.blocks[at] = block
	}
	text, ok := lineOf(block, line-first)
	if !ok {
		return "", fmt.Errorf("line %d of sheet %d: %w", line, sheetID, ErrNotFound)
	}
	return text, nil
}

type blockAt struct {
	sheetID int64
	first   int
}

// RawSheet writes the bytes of a sheet as they were imported, block by block.
// ErrNotFound if there is no such sheet.
func (v *View) RawSheet(ctx context.Context, sheetID int64, w io.Writer) error {
	var own []byte
	if err := v.row(ctx, "SELECT raw FROM sheet WHERE id = ?", []any{sheetID}, &own); err != nil {
		return notFound(err, "sheet %d", sheetID)
	}
	if own != nil {
		return unpackTo(w, own, sheetID)
	}
	return v.each(ctx, "SELECT data FROM sheet_block WHERE sheet_id = ? ORDER BY first_line", []any{sheetID}, func(r record) error {
		var data []byte
		if err := r.Scan(&data); err != nil {
			return err
		}
		return unpackTo(w, data, sheetID)
	})
}

// unpackTo writes what was packed. An error of the writer comes back as it is.
func unpackTo(w io.Writer, data []byte, sheetID int64) error {
	from, to := flate.NewReader(bytes.NewReader(data)), &failing{w: w}
	if _, err := io.Copy(to, from); err != nil && to.err == nil {
		return fmt.Errorf("the kept copy of sheet %d is damaged: %w", sheetID, err)
	}
	return to.err
}

// failing remembers what went wrong while it was written to.
type failing struct {
	w   io.Writer
	err error
}

func (f *failing) Write(b []byte) (n int, err error) {
	n, f.err = f.w.Write(b)
	return n, f.err
}
