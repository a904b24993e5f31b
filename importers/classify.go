package importers

import "strings"

// classify gives every record but the heading its class.
func (s *Sheet) classify(voc *vocabulary, head int) {
	for i := range head {
		s.Records[i].Class = ClassTitle
	}
	s.Records[head].Class = ClassHeading
	heading := string(s.content(head))
	var cells []string
	for i := head + 1; i < len(s.Records); i++ {
		r := &s.Records[i]
		switch {
		case int(r.Length) <= len(s.Header)+8 && s.blank(i):
			r.Class = ClassBlank
		case int(r.Length) < len(heading)+8 && int(r.Length) > len(heading)-8:
			if cells = s.Cells(i, cells); sameHeadings(cells, s.Header) {
				r.Class = ClassRepeated
			}
		case int(r.Length) > len(s.Header)+8 && s.blank(i):
			r.Class = ClassBlank
		}
	}
	for i := len(s.Records) - 1; i > head; i-- {
		if s.Records[i].Class == ClassBlank {
			continue
		}
		if cells = s.Cells(i, cells); s.Records[i].Class != ClassData || !voc.isFooter(cells) {
			break
		}
		s.Records[i].Class = ClassFooter
	}
}

func (s *Sheet) blank(i int) bool {
	for _, b := range s.content(i) {
		if b != byte(s.Delimiter) && b != ' ' && b != '\t' && b != '"' && b != 0x1A && b != 0xC2 && b != 0xA0 {
			return false
		}
	}
	return countFilled(s.Cells(i, nil)) == 0
}

func sameHeadings(cells, header []string) bool {
	n := 0
	for i, c := range cells {
		c = trim(c)
		switch {
		case i >= len(header) && c != "", i < len(header) && c != header[i]:
			return false
		case c != "":
			n++
		}
	}
	return n > 0
}

// isFooter recognises a total line: its first filled cell is a word such as
// "Total", alone or in front of a colon.
func (v *vocabulary) isFooter(cells []string) bool {
	for _, c := range cells {
		if c = trim(c); c == "" {
			continue
		}
		word, _, _ := strings.Cut(c, ":")
		return len(v.words["footer"][fold(word)]) > 0
	}
	return false
}
