package importers

import (
	"fmt"
	"strconv"
)

// headingRows is how many filled records at the top may hold the heading row.
const headingRows = 50

// findHeading returns the record of the heading row: the one the setting
// "header" names, else the row with most known headings if it has two or more,
// they are at least a third of its filled cells and no cell is a number, else the first filled row,
// passing over title lines with a single filled cell where rows have several.
func (s *Sheet) findHeading(voc *vocabulary, width int, settings Settings) (int, error) {
	if text := settings["header"]; text != "" {
		want, _ := strconv.Atoi(text)
		for i, r := range s.Records {
			if int(r.Line) <= want && want <= r.LastLine() {
				return i, nil
			}
		}
		return 0, fmt.Errorf("%s has no line %d: say which line holds the headings with --set header=LINE", s.Name, want)
	}
	best, bestKnown, fallback, seen := -1, 1, -1, 0
	var cells []string
	for i := range s.Records {
		if s.Records[i].Class == ClassTitle {
			continue
		}
		cells = s.Cells(i, cells)
		filled := countFilled(cells)
		if filled == 0 {
			continue
		}
		if seen++; seen > headingRows {
			break
		}
		if fallback < 0 && (filled > 1 || width <= 1) {
			fallback = i
		}
		if known := voc.knownHeadings(cells); known > bestKnown && known*3 >= filled && !holdsNumber(cells) {
			best, bestKnown = i, known
		}
	}
	switch {
	case best >= 0:
		return best, nil
	case fallback >= 0:
		return fallback, nil
	}
	return s.firstFilled(), nil
}

func (s *Sheet) firstFilled() int {
	for i := range s.Records {
		if s.Records[i].Class != ClassTitle && countFilled(s.Cells(i, nil)) > 0 {
			return i
		}
	}
	return 0
}

// holdsNumber reports whether a cell is nothing but a number: data, no heading.
func holdsNumber(cells []string) bool {
	for _, c := range cells {
		if n, rest := nextNumber(trim(c)); n != "" && rest == "" && n == trim(c) {
			return true
		}
	}
	return false
}
