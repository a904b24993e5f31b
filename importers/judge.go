package importers

import (
	"fmt"
)

// judge gives every data record its fault or note. What it says never depends
// on a mapping.
func (s *Sheet) judge(settings Settings) {
	short, shortFirst, closed := 0, 0, false
	want := len(s.Header)
	for i := range s.records.n {
		if s.records.class(i) != ClassData || s.records.fault(i) != NoFault {
			continue
		}
		if fault := s.badText(i); fault != NoFault {
			s.records.setFault(i, fault)
			continue
		}
		width := s.records.width(i)
		switch {
		case width == want:
			closed = closed || s.records.looks(i, endsOpen) && s.lastCellEmpty(i)
		case int64(width) > s.sizes.columns:
			s.records.setFault(i, TooManyCells)
		case width > want:
			if countFilled(s.Cells(i, nil)[want:]) > 0 {
				s.records.setFault(i, ExtraCell)
				continue
			}
			s.records.addNote(i, ExtraEmpty)
		case width < s.needed():
			s.records.setFault(i, MissingCell)
			if short == 0 {
				shortFirst = i
			}
			short++
		}
	}
	s.judgeShort(settings, short, shortFirst, closed)
}

// badText looks at the text of a record where something in the file calls for
// it.
func (s *Sheet) badText(i int) Fault {
	switch {
	case s.damaged && s.badLetters(s.content(i)):
		return BadEncoding
	case s.seen.control && holdsControl(s.content(i)):
		return ControlChar
	case int64(s.records.length(i)) > s.sizes.field && int64(s.records.width(i)) <= s.sizes.columns:
		for _, c := range s.Cells(i, nil) {
			if int64(len(c)) > s.sizes.field {
				return FieldTooLong
			}
		}
	}
	return NoFault
}

// holdsControl finds zero bytes and other control characters that no cell has;
// tab and line ends are text.
func holdsControl(text []byte) bool {
	for len(text) >= 8 {
		w := uint64(text[0]) | uint64(text[1])<<8 | uint64(text[2])<<16 | uint64(text[3])<<24 |
			uint64(text[4])<<32 | uint64(text[5])<<40 | uint64(text[6])<<48 | uint64(text[7])<<56
		const low, high = 0x7f7f7f7f7f7f7f7f, 0x8080808080808080
		if ((w&low)+0x6060606060606060|w)&high != high && anyControl(text[:8]) {
			return true
		}
		text = text[8:]
	}
	return anyControl(text)
}

func anyControl(text []byte) bool {
	for _, b := range text {
		if b < ' ' && b != '\t' && b != '\n' && b != '\r' && b != '\v' && b != '\f' {
			return true
		}
	}
	return false
}

// lastCellEmpty reports whether a row of full width ends with an empty cell.
func (s *Sheet) lastCellEmpty(i int) bool {
	cells := s.Cells(i, nil)
	return trim(cells[len(cells)-1]) == ""
}

// needed is the number of cells up to the last filled heading.
func (s *Sheet) needed() int {
	n := len(s.Header)
	for n > 0 && s.Header[n-1] == "" {
		n--
	}
	return n
}

// recount notes that the separator is perhaps wrong after all: many rows have
// another number of cells than the heading.
func (s *Sheet) recount() {
	rows, held, first := 0, 0, 0
	for i := range s.records.n {
		fault := s.records.fault(i)
		if s.records.class(i) != ClassData || fault == OtherTable {
			continue
		}
		if rows++; fault == ExtraCell || fault == MissingCell {
			if held++; held == 1 {
				first = s.records.lineOf(i)
			}
		}
	}
	if held > max(3, rows/50) {
		s.note("separator-doubt", first, fmt.Sprintf("%d of %d rows have another number of cells than the heading: perhaps %s is the wrong separator%s",
			held, rows, delimiterNames[s.Dialect.Delimiter], s.runnerUp))
	}
}
