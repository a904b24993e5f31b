package importers

import (
	"bytes"
	"strings"
)

// classify gives every record its class; the heading lies in head[0]..head[1].
func (s *Sheet) classify(voc *vocabulary, head [2]int) {
	for i := range head[0] {
		s.Records[i].Class = ClassTitle
	}
	for i := head[0]; i < head[1]; i++ {
		s.Records[i].Class = ClassHeading
	}
	known := map[string]bool{}
	var headings []string // of one row of the heading, as it is repeated
	length := 0
	if head[1] > head[0] {
		headings = trimAll(s.Cells(head[0], nil))
		length = len(s.content(head[0]))
	}
	var cells []string
	for i := head[1]; i < len(s.Records); i++ {
		r := &s.Records[i]
		if r.Fault != NoFault {
			continue
		}
		line := s.content(i)
		switch filled, cell := s.filledUpToTwo(i, line); {
		case filled == 0:
			r.Class = ClassBlank
			continue
		case filled == 1 && len(s.Header) > 2 && isSection(cell):
			r.Class = ClassSection
			continue
		}
		if len(line) < length+8 && len(line) > length-8 && head[1] > head[0] {
			if cells = s.Cells(i, cells); sameHeadings(cells, headings) {
				r.Class = ClassRepeated
				continue
			}
		}
		if len(headings) > 0 && s.startsOtherTable(voc, i, line, known) {
			s.otherTable(i)
			break
		}
	}
	s.repeatedBlocks(head)
	s.footers(voc, head[1])
}

// repeatedBlocks gives the other rows of a repeated heading of several rows
// their class.
func (s *Sheet) repeatedBlocks(head [2]int) {
	rows := head[1] - head[0]
	for i := head[1]; rows > 1 && i+rows <= len(s.Records); i++ {
		if s.Records[i].Class != ClassRepeated {
			continue
		}
		for k := 1; k < rows; k++ {
			if bytes.Equal(s.content(i+k), s.content(head[0]+k)) {
				s.Records[i+k].Class = ClassRepeated
			}
		}
	}
}

// isSection recognises the text of a section: words without digits, or with a
// word of four small letters at least, which no part number has.
func isSection(cell string) bool {
	if isText(cell) {
		return true
	}
	run := 0
	for _, r := range cell {
		if r >= 'a' && r <= 'z' || r >= 'à' && r <= 'ÿ' {
			if run++; run == 4 {
				return strings.Contains(trim(cell), " ")
			}
			continue
		}
		run = 0
	}
	return false
}

func sameHeadings(cells, header []string) bool {
	n := 0
	for i, c := range cells {
		c = strings.Join(strings.Fields(trim(c)), " ")
		switch {
		case i >= len(header) && c != "", i < len(header) && c != header[i]:
			return false
		case c != "":
			n++
		}
	}
	return n > 0
}
