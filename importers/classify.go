package importers

import "strings"

// classify gives every record its class; the heading lies in head[0]..head[1].
func (s *Sheet) classify(voc *vocabulary, head [2]int) error {
	for i := range head[0] {
		s.records.setClass(i, ClassTitle)
	}
	for i := head[0]; i < head[1]; i++ {
		s.records.setClass(i, ClassHeading)
	}
	known := map[string]bool{}
	var again *repeatedRow // the first row of the heading, as it is repeated
	length := 0
	if head[1] > head[0] {
		again = s.repeatOf(voc, head[0])
		length = len(s.content(head[0]))
	}
	if err := s.lookAtLines(head[1], length); err != nil {
		return err
	}
	var cells []string
	for i := head[1]; i < s.records.n; i++ {
		if !s.records.isRow(i) || !s.records.looks(i, mayBeHeading) {
			continue
		}
		line := s.content(i)
		if again == nil {
			break
		}
		if again.mayBe(line) {
			if cells = s.Cells(i, cells); again.is(voc, cells) {
				s.records.setClass(i, ClassRepeated)
				continue
			}
		}
		if s.startsOtherTable(voc, i, line, known) {
			s.otherTable(i)
			break
		}
	}
	s.repeatedBlocks(voc, head)
	s.totals(voc, head[1])
	s.footers(voc, head[1])
	return nil
}

// lookAtLines gives blank lines and section lines their class, and notes what else
// the lines look like; length is that of the heading, 0 where there is none. What a
// line is depends on nothing but itself, so all processors look at once.
func (s *Sheet) lookAtLines(from, length int) error {
	return stretches(s.records.n-from, processors(), func(_, a, b int) {
		lines := s.cursor(from + a)
		for i := from + a; i < from+b; i++ {
			line := lines.content(i)
			if s.records.fault(i) != NoFault {
				continue
			}
			filled, cell := s.filledUpToTwo(i, line)
			s.records.setLooks(i, s.looksOf(i, line, filled, cell, length))
			switch {
			case filled == 0:
				s.records.setClass(i, ClassBlank)
			case filled == 1 && len(s.Header) > 2 && isSection(cell):
				s.records.setClass(i, ClassSection)
			}
		}
	})
}

func (s *Sheet) looksOf(i int, line []byte, filled int, first string, length int) (l looks) {
	if length > 0 && len(line) < length+8 && len(line) > length-8 || !hasDigit(view(line)) {
		l |= mayBeHeading
	}
	if filled > 0 && len(first) <= maxWord && !hasDigit(first) {
		l |= beginsWithWord
	}
	if s.holdsEmptyCell(i, line) {
		l |= mayHoldEmpty
	}
	end := len(line)
	for end > 0 && line[end-1] == ' ' {
		end--
	}
	if end > 0 && (line[end-1] == s.Dialect.Quote || line[end-1] == s.Dialect.Delimiter[0]) {
		l |= endsOpen
	}
	return l
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
