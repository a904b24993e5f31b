package importers

import "bytes"

// window is the part of a text that a reader from front to back has in memory: a few
// pages, and more where a record needs it. In a text that lies in memory it is all of
// it.
type window struct {
	text *text
	raw  []byte
	base int  // where in the text it begins
	end  int  // where the text is taken to end
	last bool // it reaches to that end
}

func newWindow(t *text, from, end int) *window {
	w := &window{text: t, base: from, end: end}
	if t.file == nil {
		w.raw, w.last = t.mem[from:end], true
		return w
	}
	w.move(0)
	return w
}

// move lets the window begin off bytes further on, and reach further.
func (w *window) move(off int) {
	rest := w.raw[off:]
	size := max(cap(w.raw), 4*w.text.page)
	if off == 0 && len(rest) > 0 {
		size *= 2
	}
	w.base += off
	size = min(size, w.end-w.base)
	buf := w.raw[:0]
	if cap(buf) < size {
		buf = make([]byte, 0, size)
	}
	n := copy(buf[:len(rest)], rest)
	buf = buf[:max(size, n)]
	w.text.read(buf[n:], w.base+n)
	w.raw, w.last = buf, w.base+len(buf) == w.end
}

// eachLine hands on the physical lines of the text from a place on with their line
// ends, until told to stop. They are only good during the call.
func (t *text) eachLine(from int, do func(line, ending []byte) bool) {
	w := newWindow(t, from, t.size)
	sp := &splitter{raw: w.raw, nextLF: -1}
	for off := 0; off < len(w.raw) || !w.last; {
		sp.cut = false
		end, after := sp.lineEnd(off)
		if sp.cut && !w.last {
			w.move(off)
			sp, off = &splitter{raw: w.raw, nextLF: -1}, 0
			continue
		}
		if !do(w.raw[off:end], w.raw[end:after]) {
			return
		}
		off = after
	}
}

// lineLength returns how long the line at a place of the text is with its line end,
// without keeping it.
func (t *text) lineLength(from, end int) int {
	at := from
	t.pass(from, func(piece []byte) bool {
		if k := bytes.IndexAny(piece, "\r\n"); k >= 0 {
			at += k
			return false
		}
		at += len(piece)
		return true
	})
	if at >= end {
		return end - from
	}
	sp := &splitter{raw: t.slice(at, min(end, at+3)), nextLF: -1}
	_, after := sp.lineEnd(0)
	return at + after - from
}
