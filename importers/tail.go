package importers

import "fmt"

// judgeShort decides about rows that end before the last heading. Where no row
// ends with an empty cell and a tenth of the rows or more is short, whoever
// wrote the sheet probably cut the empty cells off at the end; a person says
// so, once. Even then a row stays held whose cells do not look like those of
// their columns.
func (s *Sheet) judgeShort(settings Settings, short, first int, closed bool) {
	if short == 0 {
		return
	}
	if settings["tail"] == "trimmed" {
		s.acceptShort()
		return
	}
	rows := 0
	for i := range s.records.n {
		if s.records.class(i) == ClassData && s.records.fault(i) != OtherTable {
			rows++
		}
	}
	if settings["tail"] != "" || closed || short < 2 || short*10 < rows {
		return
	}
	s.ask("tail", "tail", "trimmed", []string{"trimmed", "hold"}, fmt.Sprintf(
		"%d of %d rows end before the last heading, the first on line %d (%q), and no row ends with an empty cell. Were only the empty cells at the end cut off?",
		short, rows, s.records.lineOf(first), shorten(s.Text(first), 60)))
}

// acceptShort lets short rows in whose cells look like those of their columns.
func (s *Sheet) acceptShort() {
	numbers, texts := s.columnTypes()
	var cells []string
	for i := range s.records.n {
		if s.records.class(i) != ClassData || s.records.fault(i) != MissingCell {
			continue
		}
		cells = s.Cells(i, cells)
		fits := true
		for j, c := range cells {
			if c = trim(c); c == "" {
				continue
			}
			others := numbers[j] + texts[j] - 1
			fits = fits && !(others > 1 && (isNumber(c) && texts[j]*10 >= others*9 || isText(c) && numbers[j]*10 >= others*9))
		}
		if fits {
			s.records.setFault(i, NoFault)
			s.records.addNote(i, TailTrimmed)
		}
	}
}

// columnTypes counts how many cells of each column are numbers and how many are
// something else.
func (s *Sheet) columnTypes() (numbers, texts []int) {
	numbers, texts = make([]int, len(s.Header)), make([]int, len(s.Header))
	var cells []string
	for i := range s.records.n {
		if fault := s.records.fault(i); s.records.class(i) != ClassData || fault != NoFault && fault != MissingCell {
			continue
		}
		cells = s.Cells(i, cells)
		for j, c := range cells[:min(len(cells), len(s.Header))] {
			switch c = trim(c); {
			case c == "":
			case isNumber(c):
				numbers[j]++
			default:
				texts[j]++
			}
		}
	}
	return numbers, texts
}
