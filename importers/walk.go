package importers

import "bytes"

// walked is what the cells of one record show when its quotes are read.
type walked struct {
	stop   int  // where the record's text ends
	width  int  // number of cells
	spaced bool // blanks stand behind a closing quote
	fault  Fault
	cut    bool // the text ended before the cells were read for certain
}

// walk reads the cells of the record at off whose first line ends at end. A
// quoted cell may run on for maxCell bytes and maxCellLines lines.
func (sp *splitter) walk(raw []byte, off, end int) (w walked) {
	lines := 0
	for pos := off; ; {
		w.width++
		if pos < len(raw) && raw[pos] == sp.quote {
			var closed bool
			limit := max(end, pos+sp.maxCell)
			w.cut = w.cut || limit >= len(raw)
			pos, closed = sp.closing(raw, pos+1, min(len(raw), limit), &lines)
			if !closed {
				return walked{fault: QuoteOpen, cut: w.cut}
			}
			from := pos
			for pos < len(raw) && (raw[pos] == ' ' || raw[pos] == '\t' && sp.delim != '\t') {
				pos++
			}
			w.spaced = w.spaced || pos > from
			if sp.delimAt(raw, pos) == 0 && pos < len(raw) && raw[pos] != '\n' && raw[pos] != '\r' {
				if pos > end { // the quote met on a later line is that line's own
					return walked{fault: QuoteOpen, cut: w.cut}
				}
				return walked{fault: QuoteStray, cut: w.cut}
			}
		} else {
			if !sp.wide && pos < end {
				more := 0
				more, pos = sp.unquoted(raw, pos, end)
				if w.width += more; pos < end {
					continue
				}
			}
			for pos < len(raw) {
				if c := raw[pos]; c == '\n' || c == '\r' || c == sp.delim && sp.delimAt(raw, pos) > 0 {
					break
				}
				pos++
			}
		}
		w.cut = w.cut || pos+1 >= len(raw)
		n := sp.delimAt(raw, pos)
		if n == 0 {
			w.stop = pos
			return w
		}
		pos += n
	}
}

// unquoted passes over the cells from pos on that do not begin with a quote, up to the
// next one on the line that does, or to where the last cell of the line ends. It returns
// how many cells follow the first of them, and where it stands.
func (sp *splitter) unquoted(raw []byte, pos, end int) (more, at int) {
	for from := pos; from < end; {
		k := bytes.IndexByte(raw[from:end], sp.quote)
		if k < 0 {
			break
		}
		if k += from; raw[k-1] == sp.delim {
			return bytes.Count(raw[pos:k], []byte{sp.delim}) - 1, k
		}
		from = k + 1 // a mark inside a cell, as of inches
	}
	return bytes.Count(raw[pos:end], []byte{sp.delim}), end
}

// closing returns the position behind the quote that closes the cell which
// starts at pos, and adds up the lines in between.
func (sp *splitter) closing(raw []byte, pos, limit int, lines *int) (int, bool) {
	for pos < limit {
		i := bytes.IndexByte(raw[pos:limit], sp.quote)
		if i < 0 {
			return 0, false
		}
		part := raw[pos : pos+i]
		if *lines += max(bytes.Count(part, []byte("\n")), bytes.Count(part, []byte("\r"))); *lines > maxCellLines {
			return 0, false
		}
		pos += i + 1
		switch {
		case sp.backslash && escaped(part):
		case pos < len(raw) && raw[pos] == sp.quote:
			pos++
		default:
			return pos, true
		}
	}
	return 0, false
}

// escaped reports whether an odd number of backslashes ends the text.
func escaped(text []byte) bool {
	n := len(text) - len(bytes.TrimRight(text, `\`))
	return n%2 == 1
}

// delimAt returns the length of the separator at pos, 0 if there is none.
func (sp *splitter) delimAt(raw []byte, pos int) int {
	switch {
	case pos >= len(raw) || raw[pos] != sp.delim:
		return 0
	case !sp.wide:
		return 1
	case pos+1 < len(raw) && raw[pos+1] == ' ':
		return 2
	case pos+1 == len(raw) || raw[pos+1] == '\n' || raw[pos+1] == '\r':
		return 1
	}
	return 0
}
