package importers

import (
	"bytes"
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
			lines = append(lines, bytes.Clone(text))
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
	text := fmt.Sprintf("The file is not UTF-8. In which encoding are its letters right? Read as %s for now.", presetName)
	switch {
	case valid == 1:
		text += " One line is UTF-8 all the same."
	case valid > 1:
		text += fmt.Sprintf(" %d lines are UTF-8 all the same.", valid)
	}
	s.ask("encoding", "encoding", presetName, s.Encodings, text)
	s.questions[len(s.questions)-1].Examples = s.readingsInShort()
}

// shownWords is how many words with letters beyond ASCII a question shows.
const shownWords = 3

// readingsInShort shows the first words that the encodings read differently, those
// that read them alike on one line.
func (s *Sheet) readingsInShort() []string {
	words := make([][]string, len(s.Encodings))
	s.eachLine(func(_ int, text []byte) bool {
		for _, w := range bytes.FieldsFunc(text, func(r rune) bool { return r < utf8.RuneSelf && (r <= ' ' || strings.ContainsRune(`,;|"`, r)) }) {
			if onlyASCII(w) || len(w) > maxWord || len(words[0]) == shownWords || slices.Contains(words[0], string(decodePage(w, s.Encodings[0]))) {
				continue
			}
			for k, page := range s.Encodings {
				words[k] = append(words[k], string(decodePage(w, page)))
			}
		}
		return len(words[0]) < shownWords
	})
	var shown []string
	for k := range words {
		text := strings.Join(words[k], "  ")
		if slices.ContainsFunc(words[:k], func(w []string) bool { return slices.Equal(w, words[k]) }) {
			continue
		}
		var same []string
		for o := k; o < len(words); o++ {
			if slices.Equal(words[o], words[k]) {
				same = append(same, s.Encodings[o])
			}
		}
		shown = append(shown, strings.Join(same, ", ")+": "+text)
	}
	return shown
}

// eachLine hands on the lines of the raw file until told to stop; a line is only good
// during the call.
func (s *Sheet) eachLine(do func(line int, text []byte) bool) {
	n := 0
	s.raw.eachLine(s.mark, func(line, _ []byte) bool {
		n++
		return do(n, line)
	})
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
