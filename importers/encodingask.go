package importers

import (
	"cmp"
	"fmt"
	"slices"
	"strings"
	"unicode"
	"unicode/utf8"
)

// maxShown is how many lines a question shows; maxJudged how many lines with
// letters beyond ASCII decide the order of the readings.
const (
	maxShown  = 8
	maxJudged = 2000
)

// Reading is one line of a sheet in several encodings.
type Reading struct {
	Line  int      `json:"line"`
	Texts []string `json:"texts"` // in the order of Encodings
}

// guessEncoding decides about a file that is not UTF-8 and that nobody decided
// about: where most lines with letters beyond ASCII are valid UTF-8, the others
// are damaged; else the preset is taken and asked.
func (s *Sheet) guessEncoding() {
	valid, invalid := 0, 0
	var lines [][]byte
	seen := map[string]bool{}
	s.eachLine(func(line int, text []byte) bool {
		if onlyASCII(text) {
			return true
		}
		if utf8.Valid(text) {
			valid++
			return true
		}
		if invalid++; len(lines) < maxJudged {
			lines = append(lines, text)
		}
		if len(s.Readings) < maxShown && !seen[string(text)] {
			seen[string(text)] = true
			s.Readings = append(s.Readings, Reading{Line: line})
		}
		return true
	})
	if valid > invalid {
		s.encoded(utf8Name, 0, fmt.Sprintf("%d lines with such letters are UTF-8 and %d are not", valid, invalid))
		s.Readings = nil
		return
	}
	s.encoded(presetName, 0, fmt.Sprintf("line %d is not UTF-8, and this is what older programs mostly wrote", s.Readings[0].Line))
	s.Encodings = byPlausibility(lines)
	s.fillReadings()
	s.askEncoding(valid)
}

func (s *Sheet) fillReadings() {
	k := 0
	s.eachLine(func(line int, text []byte) bool {
		if k < len(s.Readings) && s.Readings[k].Line == line {
			for _, page := range s.Encodings {
				s.Readings[k].Texts = append(s.Readings[k].Texts, shorten(string(decodePage(text, page)), 160))
			}
			k++
		}
		return k < len(s.Readings)
	})
}

func (s *Sheet) askEncoding(valid int) {
	var b strings.Builder
	fmt.Fprintf(&b, "The file is not UTF-8. In which encoding are its letters right? Read as %s for now.", presetName)
	switch {
	case valid == 1:
		b.WriteString(" One line is UTF-8 all the same.")
	case valid > 1:
		fmt.Fprintf(&b, " %d lines are UTF-8 all the same.", valid)
	}
	for _, r := range s.Readings {
		fmt.Fprintf(&b, "\nLine %d:", r.Line)
		for i, text := range r.Texts {
			fmt.Fprintf(&b, "\n  %-13s %s", s.Encodings[i], text)
		}
	}
	s.ask("encoding", "encoding", presetName, s.Encodings, b.String())
}

// eachLine hands on the lines of the raw file until told to stop.
func (s *Sheet) eachLine(do func(line int, text []byte) bool) {
	sp := &splitter{raw: s.Raw, nextLF: -1}
	for off, line := s.mark, 1; off < len(s.Raw); line++ {
		end, after := sp.lineEnd(off)
		if !do(line, s.Raw[off:end]) {
			return
		}
		off = after
	}
}

// byPlausibility orders the suggested encodings by how well the lines read in
// them, the preset first where they read alike.
func byPlausibility(lines [][]byte) []string {
	scores := map[string]int{}
	for _, page := range suggestedPages {
		for _, line := range lines {
			scores[page] += plausible([]rune(string(decodePage(line, page))))
		}
	}
	pages := slices.Clone(suggestedPages)
	slices.SortStableFunc(pages, func(a, b string) int { return cmp.Compare(scores[b], scores[a]) })
	return pages
}

// plausible counts what makes a reading of letters beyond ASCII likely: letters
// beside letters, a sign beside a digit. A sign beside letters, a capital
// inside a word and a control character speak against it.
func plausible(line []rune) int {
	n := 0
	at := func(i int) rune {
		if i < 0 || i >= len(line) {
			return ' '
		}
		return line[i]
	}
	for i, r := range line {
		before, after := at(i-1), at(i+1)
		switch {
		case r < utf8.RuneSelf || r == '\u00a0':
		case r < 0xA0 || unicode.IsControl(r):
			n -= 10
		case unicode.IsUpper(r) && unicode.IsLower(before):
			n--
		case unicode.IsLetter(r) && (unicode.IsLetter(before) || unicode.IsLetter(after)):
			n++
		case strings.ContainsRune("°Ø½¼¾€£±²³µ", r):
			if unicode.IsDigit(before) || unicode.IsDigit(after) || unicode.IsSpace(before) {
				n++
			}
		case unicode.IsLetter(before) || unicode.IsLetter(after):
			n -= 2
		}
	}
	return n
}

func onlyASCII(text []byte) bool {
	for _, b := range text {
		if b >= utf8.RuneSelf {
			return false
		}
	}
	return true
}

// shorten keeps the first runes of a text.
func shorten(text string, runes int) string {
	for i := range text {
		if runes == 0 {
			return text[:i] + "…"
		}
		runes--
	}
	return text
}
