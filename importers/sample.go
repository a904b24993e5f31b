package importers

import (
	"bytes"
	"strings"
)

// The sample that decides about the dialect: the first lines, and windows of
// lines across the rest of the file.
const (
	sampleLines  = 2000
	sampleBytes  = 512 << 10
	windows      = 20
	windowLines  = 40
	windowBytes  = 8 << 10
	lineEndBytes = 3   // of the longest line end
	judgedRows   = 400 // rows of which the cells are looked at
	judgedBytes  = 16 << 10
)

// sampleText returns the sample as stretches of whole lines.
func sampleText(t *text) [][]byte {
	head := firstLines(t.copyOf(0, sampleBytes+lineEndBytes), sampleLines, sampleBytes)
	sample := [][]byte{head}
	rest := t.size - len(head)
	for i := range windows {
		from := len(head) + rest/windows*i
		w := t.copyOf(from, 2*windowBytes+lineEndBytes)
		k := bytes.IndexAny(w[:min(len(w), windowBytes)], "\r\n")
		if k < 0 {
			continue
		}
		w = w[k+1:]
		if w = firstLines(w[:min(len(w), windowBytes+lineEndBytes)], windowLines, windowBytes); len(w) > 0 {
			sample = append(sample, w)
		}
	}
	return sample
}

// firstLines returns the first lines of a text; a line cut by the bound is left
// out, unless it is the only one.
func firstLines(text []byte, lines, most int) []byte {
	sp := &splitter{raw: text, nextLF: -1}
	off := 0
	for range lines {
		if off >= len(text) {
			break
		}
		_, after := sp.lineEnd(off)
		if after > most {
			if off == 0 {
				off = min(most, len(text))
			}
			break
		}
		off = after
	}
	return text[:off]
}

// judgedRow is one row of the sample with its cells.
type judgedRow struct {
	cells []string
	width int
}

// scoreDialect reads the sample in a dialect; twice where quoted cells run over
// line ends, for whether they may is only known with the usual width.
func (s *Sheet) scoreDialect(voc *vocabulary, sample [][]byte, d Dialect) scoredDialect {
	c := scoredDialect{Dialect: d, width: 1}
	rows, several := s.readSample(&c, sample, 0)
	if several {
		width := c.width
		c = scoredDialect{Dialect: d, width: 1}
		rows, _ = s.readSample(&c, sample, width)
	}
	for i, r := range rows {
		if i < headingRows {
			c.known = max(c.known, voc.knownHeadings(r.cells))
		}
		if r.width == c.width && len(c.sample) < 2 {
			c.sample = append(c.sample, shorten(strings.Join(r.cells, " | "), 80))
		}
		for _, cell := range r.cells {
			c.cells++
			if looksLikeValue(cell) {
				c.shaped++
			}
		}
	}
	if c.rows == 0 || c.cells == 0 {
		return c
	}
	c.score = float64(c.fits) / float64(c.rows) * float64(c.shaped) / float64(c.cells)
	if c.width == 1 {
		c.score *= 0.05
	}
	if c.known > 1 {
		c.score *= 1 + float64(c.known)/float64(c.known+1)
	}
	return c
}

// readSample counts the widths of the sample's rows, and returns the first rows
// and whether one of them runs over a line end.
func (s *Sheet) readSample(c *scoredDialect, sample [][]byte, width int) (judged []judgedRow, several bool) {
	widths := map[int]int{}
	for _, window := range sample {
		sp := newSplitter(window, c.Dialect, width, s.sizes)
		for off := 0; off < len(window); {
			r := sp.next(off, 1)
			line := bytes.TrimRight(window[off:off+int(r.Length)], "\r\n")
			off += int(r.Length)
			if len(bytes.Trim(line, " \t;,|\"'")) == 0 {
				continue
			}
			c.rows++
			several = several || r.Lines > 1
			if r.Fault != NoFault {
				c.faults++
				continue
			}
			widths[int(r.Width)]++
			if len(judged) < judgedRows && len(line) < judgedBytes {
				judged = append(judged, judgedRow{c.cut(string(line), nil), int(r.Width)})
			}
		}
	}
	for w, n := range widths {
		if n > c.fits || n == c.fits && w > c.width {
			c.width, c.fits = w, n
		}
	}
	return judged, several
}
