package importers

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

// one returns a cell of record i, empty if the record is too short.
func (s *source) one(i, column int) string { return s.oneOf(i, s.content(i), column) }

// oneOf is one for whoever has the text of the record already.
func (s *source) oneOf(i int, line []byte, column int) string {
	if s.section != nil && column == len(s.Header) {
		return s.sectionAt(i)
	}
	if c, ok := s.fixed[i]; ok {
		if column < len(c) {
			return c[column]
		}
		return ""
	}
	return s.cellOf(i, line, column)
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
