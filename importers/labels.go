package importers

import (
	"fmt"
	"strings"
)

// labelNotes lists what is odd about the headings: columns without one, and
// headings that stand twice.
func (s *Sheet) labelNotes() (notes []FileNote) {
	odd := map[int]int{} // column without heading, or again with it -> the first of that heading, −1 for none
	first := map[string]int{}
	for j, h := range s.Header {
		k, twice := first[h]
		switch {
		case h == "":
			odd[j] = -1
		case twice:
			odd[j] = k
		default:
			first[h] = j
		}
	}
	if len(odd) == 0 {
		return nil
	}
	filled, differ := s.compareColumns(odd)
	for j := range s.Header {
		k, is := odd[j]
		var code, text string
		switch {
		case !is:
			continue
		case k < 0 && filled[j] == 0:
			code, text = "blank-column", fmt.Sprintf("column %d has neither heading nor values and is passed over", j+1)
		case k < 0:
			code, text = "blank-label", fmt.Sprintf("column %d has %d values and no heading: an import asks what it is", j+1, filled[j])
		case filled[j] == 0:
			code, text = "duplicate-label", fmt.Sprintf("%s stands twice, and the second one (column %d) is empty", s.Header[j], j+1)
		case differ[j] == 0:
			code, text = "duplicate-label", fmt.Sprintf("%s stands twice with the same values (column %d)", s.Header[j], j+1)
		default:
			code, text = "duplicate-label", fmt.Sprintf("%s stands twice and %d values differ (column %d): an import asks which one counts", s.Header[j], differ[j], j+1)
		}
		notes = append(notes, FileNote{Code: code, Line: s.HeaderLine, Text: text})
	}
	return notes
}

func (s *Sheet) compareColumns(odd map[int]int) (filled, differ map[int]int) {
	filled, differ = map[int]int{}, map[int]int{}
	var cells []string
	for i := range s.records.n {
		if !s.records.isRow(i) {
			continue
		}
		cells = s.Cells(i, cells)
		for j, k := range odd {
			if j >= len(cells) {
				continue
			}
			if strings.TrimSpace(cells[j]) != "" {
				filled[j]++
			}
			if k >= 0 && trim(cells[j]) != trim(cells[k]) {
				differ[j]++
			}
		}
	}
	return filled, differ
}
