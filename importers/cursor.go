package importers

import "bytes"

// cursorBytes is how much of a file a cursor has in memory, and leapBytes that of one
// which leaves most records out.
const (
	cursorBytes = 256 << 10
	leapBytes   = 4 << 10
)

// cursor goes through the records of a sheet one behind the other. It reads a file in
// pieces into memory of its own again and again, so that what it returns is only good
// until the next call: for looks at records from which nothing is kept.
type cursor struct {
	sheet *Sheet
	at    int // the record that comes next
	off   int // where it begins
	size  int // how much of the file is read at once
	buf   []byte
	base  int // where in the text buf begins
}

func (s *Sheet) cursor(from int) *cursor {
	c := &cursor{sheet: s, at: from, size: cursorBytes}
	if from < s.records.n {
		c.off, _ = s.records.place(from)
	}
	return c
}

// leaping returns a cursor for a few records here and there.
func (s *Sheet) leaping() *cursor { return &cursor{sheet: s, at: -1, size: leapBytes} }

// content returns what Sheet.content does of record i; to leave some out costs little.
func (c *cursor) content(i int) []byte {
	s := c.sheet
	if i != c.at {
		c.off, _ = s.records.place(i)
	}
	n := s.records.length(i)
	line := c.bytes(n)
	c.at, c.off = i+1, c.off+n
	return s.withoutEnd(i, line)
}

func (c *cursor) bytes(n int) []byte {
	t := c.sheet.text
	if t.file == nil {
		return t.mem[c.off : c.off+n]
	}
	if at := c.off - c.base; at < 0 || at+n > len(c.buf) {
		size := min(max(n, c.size), t.size-c.off)
		if cap(c.buf) < size {
			c.buf = make([]byte, size)
		}
		c.buf, c.base = c.buf[:size], c.off
		t.read(c.buf, c.off)
	}
	at := c.off - c.base
	return c.buf[at : at+n : at+n]
}

// withoutEnd takes the line end off a record, and the end-of-file character 0x1A of old
// systems behind the last one.
func (s *Sheet) withoutEnd(i int, b []byte) []byte {
	if i == s.records.n-1 {
		b = b[:len(b)-s.tail]
	}
	for len(b) > 0 && (b[len(b)-1] == '\n' || b[len(b)-1] == '\r') {
		b = b[:len(b)-1]
	}
	return b
}

// cellOf returns one cell of record i, whose text is line; empty if the record is too
// short.
func (s *Sheet) cellOf(i int, line []byte, column int) string {
	if !s.Dialect.plain() || s.records.note(i)&QuoteSpaced != 0 || s.records.fault(i) != NoFault {
		if cells := s.Cells(i, nil); column < len(cells) {
			return cells[column]
		}
		return ""
	}
	rest := line
	for left := column; ; left-- {
		if len(rest) > 0 && rest[0] == '"' {
			cell, tail, more := cutCell(view(rest), byte(s.Delimiter))
			switch {
			case left == 0:
				return cell
			case !more:
				return ""
			}
			rest = rest[len(rest)-len(tail):]
			continue
		}
		end := bytes.IndexByte(rest, byte(s.Delimiter))
		switch {
		case end < 0 && left == 0:
			return view(rest)
		case end < 0:
			return ""
		case left == 0:
			return view(rest[:end])
		}
		rest = rest[end+1:]
	}
}
