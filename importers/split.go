package importers

import (
	"bytes"
	"math"
)

// The quoted cells of one record may run over this many lines before the
// opening quote counts as a slip of the keyboard.
const maxCellLines = 50

// maxTried bounds the bytes that are read again to find a quote too many.
const maxTried = 1 << 20

// splitter cuts text into records. Line ends are LF, CRLF, CR and CR CR LF. A
// quote opens a cell only as its first character; anywhere else it is an inch
// mark or an apostrophe. With width set, a cell of several lines is only
// believed if the joined row has that width and the lines inside do not look
// like rows.
type splitter struct {
	raw       []byte
	delim     byte
	wide      bool // a space belongs to the separator
	quote     byte
	backslash bool
	width     int
	maxCell   int // bytes that a quoted cell may have beyond its first line
	maxLine   int
	nextLF    int  // position of the next LF at or behind the current line
	cut       bool // more text behind raw might change what was found
}

func newSplitter(raw []byte, d Dialect, width int, l sizeLimits) *splitter {
	return &splitter{raw: raw, delim: d.Delimiter[0], wide: len(d.Delimiter) == 2, quote: d.Quote, backslash: d.Backslash,
		width: width, maxCell: int(l.field), maxLine: int(l.line), nextLF: -1}
}

// stretch cuts those records of a text that begin in from..to; the last of them may
// go on to the end of the text. A record is believed once nothing behind the window
// can change it; a line over the limit is measured and not kept.
func (sp *splitter) stretch(t *text, from, to, end int, records *recordTable) {
	w := newWindow(t, from, end)
	sp.raw, sp.nextLF = w.raw, -1
	for off := 0; w.base+off < to; {
		r := sp.next(off, 1)
		n := int(r.Length)
		switch {
		case !sp.cut || w.last:
			records.add(r)
			off += n
			continue
		case len(sp.raw)-off > sp.maxLine && !bytes.ContainsAny(sp.raw[off:], "\r\n"):
			n = t.lineLength(w.base+off, end)
			records.add(Record{Length: uint32(n), Lines: 1, Width: 1, Fault: LineTooLong})
			w = newWindow(t, w.base+off+n, end)
		default:
			w.move(off)
		}
		sp.raw, sp.nextLF, off = w.raw, -1, 0
	}
}

// next returns the record that starts at off on that physical line.
func (sp *splitter) next(off, line int) Record {
	sp.cut = false
	end, after := sp.lineEnd(off)
	text := sp.raw[off:end]
	r := Record{Offset: int64(off), Length: uint32(after - off), Line: uint32(line), Lines: 1, Width: 1}
	if len(text) > sp.maxLine {
		r.Fault = LineTooLong
		return r
	}
	if sp.quote == 0 || bytes.IndexByte(text, sp.quote) < 0 {
		r.Width = cap16(sp.literalWidth(text))
		return r
	}
	w := sp.walk(sp.raw, off, end)
	sp.cut = sp.cut || w.cut
	if w.fault == NoFault && w.stop > end {
		return sp.joined(r, w)
	}
	r.Fault, r.Width = w.fault, cap16(w.width)
	if w.fault != NoFault {
		r.Width = cap16(sp.literalWidth(text))
	} else if w.spaced {
		r.Note = QuoteSpaced
	}
	return r
}

// joined decides about a record whose quoted cell ran past its first line.
func (sp *splitter) joined(first Record, w walked) Record {
	r := first
	head := sp.text(first)
	var last []byte
	suspicious := false
	off := int(first.Offset) + int(first.Length)
	for {
		end, after := sp.lineEnd(off)
		r.Lines++
		if end >= w.stop {
			last = sp.raw[off:end]
			r.Length = uint32(after - int(first.Offset))
			break
		}
		suspicious = suspicious || sp.isRow(sp.raw[off:end])
		off = after
	}
	sp.nextLF = -1
	r.Width = cap16(w.width)
	if w.spaced {
		r.Note = QuoteSpaced
	}
	if sp.width > 1 && w.width != sp.width {
		first.Fault, first.Width = QuoteOpen, cap16(sp.literalWidth(head))
		return first
	}
	if suspicious || sp.isRow(last) && sp.isRowButForAQuote(head) {
		r.Fault, r.Note, r.Width = QuoteBlock, NoNote, cap16(sp.literalWidth(sp.text(r)))
	}
	return r
}

func (sp *splitter) text(r Record) []byte {
	return bytes.TrimRight(sp.raw[r.Offset:r.Offset+int64(r.Length)], "\r\n")
}

// isRow reports whether a line is a row by itself, its quotes read or not.
func (sp *splitter) isRow(line []byte) bool {
	if sp.width <= 1 {
		return false
	}
	if sp.literalWidth(line) == sp.width {
		return true
	}
	w := sp.walk(line, 0, len(line))
	return w.fault == NoFault && w.width == sp.width
}

// isRowButForAQuote reports whether a line would be a row by itself if one of
// its quotes were not there. A line too long to try counts as one.
func (sp *splitter) isRowButForAQuote(line []byte) bool {
	if sp.width > 1 && sp.literalWidth(line) == sp.width || bytes.Count(line, []byte{sp.quote})*len(line) > maxTried {
		return sp.width > 1
	}
	without := make([]byte, 0, len(line))
	for i, b := range line {
		if b != sp.quote {
			continue
		}
		without = append(append(without[:0], line[:i]...), line[i+1:]...)
		if sp.isRow(without) {
			return true
		}
	}
	return false
}

func (sp *splitter) literalWidth(line []byte) int {
	if !sp.wide {
		return bytes.Count(line, []byte{sp.delim}) + 1
	}
	n := bytes.Count(line, []byte{sp.delim, ' '}) + 1
	if len(line) > 0 && line[len(line)-1] == sp.delim {
		n++
	}
	return n
}

// lineEnd returns where the text of the line at off ends and where the next
// line starts.
func (sp *splitter) lineEnd(off int) (end, after int) {
	if sp.nextLF < off {
		sp.nextLF = len(sp.raw)
		if i := bytes.IndexByte(sp.raw[off:], '\n'); i >= 0 {
			sp.nextLF = off + i
		}
	}
	i := bytes.IndexByte(sp.raw[off:sp.nextLF], '\r')
	if i < 0 {
		sp.cut = sp.cut || sp.nextLF == len(sp.raw)
		return sp.nextLF, min(sp.nextLF+1, len(sp.raw))
	}
	end, after = off+i, off+i+1
	sp.cut = sp.cut || end+2 >= len(sp.raw)
	for k := 1; k <= 2 && end+k < len(sp.raw); k++ {
		if sp.raw[end+k] == '\n' {
			return end, end + k + 1
		}
		if sp.raw[end+k] != '\r' {
			break
		}
	}
	return end, after
}

func cap16(n int) uint16 { return uint16(min(n, math.MaxUint16)) }
