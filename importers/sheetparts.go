package importers

import (
	"fmt"
	"strings"
)

// Questions are what the reading of the sheet could not decide for certain,
// with the setting that decides. Until then the sheet is read as suggested, but
// rows that a question would let in are held.
func (s *Sheet) Questions() []Question { return s.questions }

// ask opens a question that a setting answers. Inspect takes the suggestion.
func (s *Sheet) ask(code, setting, suggestion string, choices []string, text string) {
	s.answers[setting] = suggestion
	flags := make([]string, len(choices))
	for i, c := range choices {
		flags[i] = fmt.Sprintf("--set %s=%s", setting, shellWord(c))
	}
	s.questions = append(s.questions, Question{Code: code, Question: text, Choices: choices, Command: strings.Join(flags, " or ")})
}

// shellWord puts a value between quotes where a shell would cut or change it.
func shellWord(value string) string {
	if strings.ContainsAny(value, " \t$`\"'\\&;|<>()*?#") {
		return quoted(value)
	}
	return value
}

func (s *Sheet) note(code string, line int, text string) {
	s.Notes = append(s.Notes, FileNote{Code: code, Line: line, Text: text})
}

func (s *Sheet) prove(what, value, why string) { s.Proof = append(s.Proof, Proof{what, value, why}) }

// Rows returns how many records there are besides title lines and heading.
func (s *Sheet) Rows() int {
	n := 0
	for i := range s.Records {
		if c := s.Records[i].Class; c != ClassTitle && c != ClassHeading {
			n++
		}
	}
	return n
}

// content returns the text of record i without its line end, and without the
// end-of-file character 0x1A of old systems behind the last one.
func (s *Sheet) content(i int) []byte {
	r := &s.Records[i]
	b := s.text[r.Offset : r.Offset+int64(r.Length)]
	if i == len(s.Records)-1 {
		b = b[:len(b)-s.tail]
	}
	for len(b) > 0 && (b[len(b)-1] == '\n' || b[len(b)-1] == '\r') {
		b = b[:len(b)-1]
	}
	return b
}

func (s *Sheet) readableContent(i int) []byte {
	if s.Records[i].Fault == BadEncoding || s.damaged {
		return readable(s.content(i))
	}
	return s.content(i)
}

// split cuts the text into records. The end-of-file characters behind it belong
// to the last one.
func (s *Sheet) split(width int) {
	for s.tail < len(s.text) && s.text[len(s.text)-1-s.tail] == 0x1A {
		s.tail++
	}
	s.Records = newSplitter(s.text[:len(s.text)-s.tail], s.Dialect, width, s.sizes).all()
	last := &s.Records[len(s.Records)-1]
	last.Length += uint32(s.tail)
	if s.tail > 0 {
		s.note("end-of-file", last.LastLine(), "the file ends with the end-of-file character of old systems (0x1A), which is no text")
	}
}

// columnName is how a column is called in questions, --map and --ignore: its
// heading, "Heading#2" for the second column of that heading, "column 3" where
// the heading is empty.
func (s *Sheet) columnName(i int) string {
	h := s.Header[i]
	if h == "" {
		return fmt.Sprintf("column %d", i+1)
	}
	nth := 1
	for _, earlier := range s.Header[:i] {
		if earlier == h {
			nth++
		}
	}
	if nth > 1 {
		return fmt.Sprintf("%s#%d", h, nth)
	}
	return h
}
