package importers

import "bytes"

// source is the sheet that is read, with the rows that a person corrected in
// place of the sheet's own.
type source struct {
	*Sheet
	fixed   map[int][]string // record -> corrected cells
	section []int32          // by record, the section line above it; nil where they are not used
}

// cells returns the cells of record i.
func (s *source) cells(i int, dst []string) []string {
	if c, ok := s.fixed[i]; ok {
		dst = append(dst[:0], c...)
	} else {
		dst = s.Cells(i, dst)
	}
	if s.section != nil {
		for len(dst) < len(s.Header) {
			dst = append(dst, "")
		}
		dst = append(dst[:len(s.Header)], s.sectionAt(i))
	}
	return dst
}

// one returns a cell of record i, empty if the record is too short. Quotes behind
// the cell do not matter, so that the line need not be copied as a rule.
func (s *source) one(i, column int) string {
	if s.section != nil && column == len(s.Header) {
		return s.sectionAt(i)
	}
	if c, ok := s.fixed[i]; ok {
		if column < len(c) {
			return c[column]
		}
		return ""
	}
	if !s.Dialect.plain() || s.records.note(i)&QuoteSpaced != 0 || s.records.fault(i) != NoFault {
		return s.cell(i, column)
	}
	rest := s.content(i)
	for left := column; ; left-- {
		if len(rest) > 0 && rest[0] == '"' {
			return s.cell(i, column)
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

// wrong says what is wrong with the shape of record i, if anything.
func (s *source) wrong(i int) *problem {
	c, ok := s.fixed[i]
	if !ok {
		return s.structure(i)
	}
	if len(c) > len(s.Header) && countFilled(c[len(s.Header):]) > 0 {
		return &problem{code: "extra-cell", why: "the corrected row still has cells behind the last heading: move them to their columns"}
	}
	return nil
}
