package importers

import (
	"bytes"
	"math"
)

// The quoted cells of one record may run over this many lines, and each over
// this many bytes, before the opening quote counts as a slip of the keyboard.
const (
	maxCellLines = 50
	maxCellBytes = 64 << 10
)

// splitter cuts text into records. Line ends are LF, CRLF, CR and CR CR LF. A
// quote opens a cell only as its first character; inside, a doubled quote is
// one quote. With width set, a cell of several lines is only believed if the
// joined row has that width and the lines inside do not look like rows.
type splitter struct {
	raw    []byte
	delim  byte
	width  int
	nextLF int // position of the next LF at or behind the current line
}

func splitAll(raw []byte, start int, delim byte, width int) []Record {
	records := make([]Record, 0, bytes.Count(raw, []byte("\n"))+1)
	sp := &splitter{raw: raw, delim: delim, width: width, nextLF: -1}
	for off, line := start, 1; off < len(raw); {
		r := sp.next(off, line)
		records = append(records, r)
		off += int(r.Length)
		line += int(r.Lines)
	}
	return records
}

// next returns the record that starts at off on that physical line.
func (sp *splitter) next(off, line int) Record {
	end, after := sp.lineEnd(off)
	text := sp.raw[off:end]
	r := Record{Offset: int64(off), Length: uint32(after - off), Line: uint32(line), Lines: 1}
	if bytes.IndexByte(text, '"') < 0 {
		r.Width = cap16(bytes.Count(text, []byte{sp.delim}) + 1)
		return r
	}
	stop, width, fault := sp.quoted(off)
	if fault == NoFault && stop > end {
		return sp.joined(r, stop, width)
	}
	r.Fault = fault
	r.Width = cap16(width)
	if fault != NoFault {
		r.Width = cap16(sp.literalWidth(text))
	}
	return r
}

// joined decides about a record whose quoted cell ran past its first line.
func (sp *splitter) joined(first Record, stop, width int) Record {
	r := first
	var mid, last []byte
	suspicious := false
	off := int(first.Offset) + int(first.Length)
	for {
		end, after := sp.lineEnd(off)
		r.Lines++
		if end >= stop {
			last = sp.raw[off:end]
			r.Length = uint32(after - int(first.Offset))
			break
		}
		mid = sp.raw[off:end]
		suspicious = suspicious || sp.looksLikeRow(mid)
		off = after
	}
	sp.nextLF = -1
	r.Width = cap16(width)
	if sp.width > 1 && width != sp.width {
		first.Fault, first.Width = QuoteOpen, cap16(sp.literalWidth(sp.text(first)))
		return first
	}
	if suspicious || sp.looksLikeRow(sp.text(first)) && sp.looksLikeRow(last) {
		r.Fault, r.Width = QuoteBlock, cap16(sp.literalWidth(sp.text(r)))
	}
	return r
}

func (sp *splitter) text(r Record) []byte {
	return bytes.TrimRight(sp.raw[r.Offset:r.Offset+int64(r.Length)], "\r\n")
}

func (sp *splitter) looksLikeRow(line []byte) bool {
	return sp.width > 1 && sp.literalWidth(line) == sp.width
}

func (sp *splitter) literalWidth(line []byte) int { return bytes.Count(line, []byte{sp.delim}) + 1 }

// quoted walks the cells of the record at off and returns where the record's
// text ends and how many cells it has.
func (sp *splitter) quoted(off int) (stop, width int, fault Fault) {
	raw, limit, lines := sp.raw, min(len(sp.raw), off+maxCellBytes), 0
	for pos := off; ; pos++ {
		width++
		if pos < len(raw) && raw[pos] == '"' {
			pos++
			for {
				i := bytes.IndexByte(raw[pos:max(limit, pos)], '"')
				if i < 0 {
					return 0, 0, QuoteOpen
				}
				cell := raw[pos : pos+i]
				lines += max(bytes.Count(cell, []byte("\n")), bytes.Count(cell, []byte("\r")))
				pos += i + 1
				if pos >= len(raw) || raw[pos] != '"' {
					break
				}
				pos++
			}
			switch {
			case lines > maxCellLines:
				return 0, 0, QuoteOpen
			case pos < len(raw) && raw[pos] != sp.delim && raw[pos] != '\n' && raw[pos] != '\r':
				return 0, 0, QuoteStray
			}
		} else {
			for pos < len(raw) && raw[pos] != sp.delim && raw[pos] != '\n' && raw[pos] != '\r' {
				pos++
			}
		}
		if pos >= len(raw) || raw[pos] != sp.delim {
			return pos, width, NoFault
		}
		limit = min(len(raw), pos+maxCellBytes)
	}
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
		return sp.nextLF, min(sp.nextLF+1, len(sp.raw))
	}
	end, after = off+i, off+i+1
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
