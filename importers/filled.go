package importers

import "bytes"

// filledUpToTwo counts the filled cells of a record up to two, and returns the
// first. It looks no further than it must: this is done for every line.
func (s *Sheet) filledUpToTwo(i int, line []byte) (n int, first string) {
	from, k := -1, 0 // where the cell that is being read begins
	for k < len(line) {
		switch b := line[k]; {
		case b == byte(s.Delimiter):
			if from >= 0 {
				first, from = view(line[from:k]), -1
			}
		case b == ' ' || b == '\t':
		case from >= 0:
		case n == 1 && b < 0x80 && b != s.Dialect.Quote:
			return 2, first
		case b == s.Dialect.Quote && b != 0:
			inside, after, ok := s.quotedCell(line, k)
			if !ok {
				return s.countUpToTwo(i)
			}
			if k = after - 1; inside == "" {
				break
			}
			if n++; n == 2 {
				return 2, first
			}
			first = inside
		case mayBeBlank(b):
			return s.countUpToTwo(i)
		default:
			if n++; n == 2 {
				return 2, first
			}
			from = k
		}
		k++
	}
	if from >= 0 {
		first = view(line[from:])
	}
	return n, first
}

// quotedCell reads a quoted cell without quotes inside, its blanks taken off.
func (s *Sheet) quotedCell(line []byte, k int) (inside string, after int, ok bool) {
	end := bytes.IndexByte(line[k+1:], s.Dialect.Quote)
	if end < 0 {
		return "", 0, false
	}
	cell, after := line[k+1:k+1+end], k+2+end
	if after < len(line) && line[after] != byte(s.Delimiter) || bytes.IndexByte(cell, '\\') >= 0 && s.Dialect.Backslash {
		return "", 0, false
	}
	return trim(view(cell)), after, true
}

// mayBeBlank reports whether a byte may begin one of the blanks that trim takes
// off.
func mayBeBlank(b byte) bool {
	return b < ' ' || b == 0xC2 || b >= 0xE1 && b <= 0xE3 || b == 0xEF
}

func (s *Sheet) countUpToTwo(i int) (n int, first string) {
	for _, c := range s.Cells(i, nil) {
		if c = trim(c); c != "" {
			if n++; n == 2 {
				return n, first
			}
			first = c
		}
	}
	return n, first
}
