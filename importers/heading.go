package importers

import (
	"fmt"
	"strings"
)

// headingRows is how many filled records at the top may hold the heading row;
// maxHeadingRows how many rows one heading may have.
const (
	headingRows    = 50
	maxHeadingRows = 3
)

// findHeading sets the headings and returns the records of the heading rows:
// what the setting "header" names, else the row with most known headings if it
// has two or more, they are at least a third of its filled cells and no cell is
// a number, else the first filled row, passing over title lines with a single
// filled cell where rows have several. A row above or below that belongs to the
// heading, and a first row that looks like data, are asked about.
func (s *Sheet) findHeading(voc *vocabulary, width int, settings Settings) (rows [2]int, err error) {
	switch text := settings["header"]; text {
	case "":
		return s.guessHeading(voc, width), nil
	case "none":
		s.prove("heading", "none", "it was chosen")
		return s.noHeading(s.firstRow(width), width), nil
	default:
		first, last, _ := headerLines(text)
		a, b := s.recordAt(first), s.recordAt(last)
		if a < 0 || b < 0 {
			return rows, fmt.Errorf("%s has no line %d: say which line holds the headings with --set header=LINE", s.Name, last)
		}
		s.setHeading(a, b+1)
		s.prove("heading", "line "+text, "it was chosen")
		return [2]int{a, b + 1}, nil
	}
}

func (s *Sheet) recordAt(line int) int {
	for i, r := range s.Records() {
		if int(r.Line) <= line && line <= r.LastLine() {
			return i
		}
	}
	return -1
}

func (s *Sheet) guessHeading(voc *vocabulary, width int) [2]int {
	best, known := s.bestHeading(voc, width)
	if known < 2 {
		if why := s.looksLikeData(best, known); why != "" {
			none := s.noHeading(best, width)
			s.prove("heading", "none", why)
			s.ask("no-heading", "header", "none", []string{"none", fmt.Sprint(s.records.lineOf(best))}, fmt.Sprintf(
				"The sheet seems to have no heading row: %s. Line %d is taken as data and the columns are called by letters (A, B, C). Is that right, or which line holds the headings (--set header=LINE)?",
				why, s.records.lineOf(best)))
			return none
		}
	}
	from, to := s.headingBlock(voc, best)
	s.setHeading(from, to)
	first, last := s.records.lineOf(from), s.records.lastLine(to-1)
	switch {
	case to-from > 1:
		lines := fmt.Sprintf("%d-%d", first, last)
		s.prove("heading", "lines "+lines, "the rows complete each other")
		s.ask("heading-rows", "header", lines, []string{lines, fmt.Sprint(s.records.lineOf(best))}, fmt.Sprintf(
			"Lines %d to %d look like one heading in %d rows: %s. Is that right?", first, last, to-from, strings.Join(s.Header, " | ")))
	case known > 1:
		s.prove("heading", fmt.Sprintf("line %d", first), fmt.Sprintf("%d of its %d cells are known headings", known, countFilled(s.Header)))
	default:
		s.prove("heading", fmt.Sprintf("line %d", first), "it is the first row with several cells, and none of them is a value")
	}
	return [2]int{from, to}
}

// bestHeading returns the row that is most likely the heading, and how many of
// its cells are known headings.
func (s *Sheet) bestHeading(voc *vocabulary, width int) (best, bestKnown int) {
	fallback, fallbackKnown, first, seen := -1, 0, -1, 0
	best = -1
	var cells []string
	for i := range s.records.n {
		if s.records.class(i) == ClassTitle || s.records.fault(i) == LineTooLong {
			continue
		}
		cells = s.Cells(i, cells)
		filled := countFilled(cells)
		if filled == 0 {
			continue
		}
		if first < 0 {
			first = i
		}
		if seen++; seen > headingRows {
			break
		}
		known := voc.knownHeadings(cells)
		if fallback < 0 && (filled > 1 || width <= 1) {
			fallback, fallbackKnown = i, known
		}
		if known > max(bestKnown, 1) && known*3 >= filled && !holdsNumber(cells) {
			best, bestKnown = i, known
		}
	}
	switch {
	case best >= 0:
		return best, bestKnown
	case fallback >= 0:
		return fallback, fallbackKnown
	}
	return max(first, 0), 0
}

// looksLikeData says why the first row of a sheet is data and no heading, empty
// if it is none.
func (s *Sheet) looksLikeData(i, known int) string {
	cells := s.Cells(i, nil)
	if known > 0 && !holdsNumber(cells) {
		return ""
	}
	for j, c := range cells {
		if isNumber(c) {
			return fmt.Sprintf("line %d holds the number %s", s.records.lineOf(i), trim(c))
		}
		if isCode(c) && s.columnOfCodes(i+1, j) {
			return fmt.Sprintf("%s on line %d looks like the part numbers below it", trim(c), s.records.lineOf(i))
		}
	}
	return ""
}

// columnOfCodes reports whether most cells of a column look like part numbers.
func (s *Sheet) columnOfCodes(from, column int) bool {
	codes, filled := 0, 0
	for i := from; i < min(s.records.n, from+20); i++ {
		if s.records.fault(i) != NoFault {
			continue
		}
		if c := s.Cells(i, nil); column < len(c) && trim(c[column]) != "" {
			filled++
			if isCode(c[column]) {
				codes++
			}
		}
	}
	return codes*2 > filled
}

// holdsNumber reports whether a cell is nothing but a number: data, no heading.
func holdsNumber(cells []string) bool {
	for _, c := range cells {
		if isNumber(c) {
			return true
		}
	}
	return false
}
