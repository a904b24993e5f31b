package importers

import (
	"fmt"
	"iter"
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

// Len returns how many records the sheet has, whatever their class.
func (s *Sheet) Len() int { return s.records.n }

// Record returns record i; the first is 0.
func (s *Sheet) Record(i int) Record { return s.records.at(i) }

// RecordOn returns the record that starts on a physical line.
func (s *Sheet) RecordOn(line int) (i int, ok bool) { return s.records.on(line) }

// Records goes through all records of the sheet in order, whatever their class.
func (s *Sheet) Records() iter.Seq2[int, Record] {
	return func(yield func(int, Record) bool) {
		for i := range s.records.n {
			if !yield(i, s.records.at(i)) {
				return
			}
		}
	}
}

// Rows returns how many records there are besides title lines and heading.
func (s *Sheet) Rows() int {
	n := 0
	for i := range s.records.n {
		if c := s.records.class(i); c != ClassTitle && c != ClassHeading {
			n++
		}
	}
	return n
}

// content returns the text of record i without its line end, and without the
// end-of-file character 0x1A of old systems behind the last one.
func (s *Sheet) content(i int) []byte {
	off, n := s.records.place(i)
	return s.withoutEnd(i, s.text.slice(off, off+n))
}

func (s *Sheet) readableContent(i int) []byte {
	if s.records.fault(i) == BadEncoding || s.damaged {
		return readable(s.content(i))
	}
	return s.content(i)
}

// split cuts the text into records. The end-of-file characters behind it belong
// to the last one.
func (s *Sheet) split(width int) {
	parts := 1
	if s.text.size >= splitFrom {
		parts = processors()
	}
	s.records = s.splitParts(width, s.text.size-s.tail, parts)
	s.records.lengthen(s.tail)
	if s.tail > 0 {
		s.note("end-of-file", s.records.lastLine(s.records.n-1), "the file ends with the end-of-file character of old systems (0x1A), which is no text")
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
