package importers

import (
	"strings"
	"unicode"
)

// readShape reads the code of a number format, of several sections the first:
// `000000`, `0.0`, `dd.mm.yyyy`, `# ?/?`, `#,##0.00 "EUR"`, `[$€-407] 0.00`.
func readShape(code string) shape {
	var f formatReader
	f.read([]rune(code))
	if f.frame.needed() {
		f.shape.frame = f.frame
	}
	return f.shape
}

// formatReader is the work of one readShape.
type formatReader struct {
	shape
	frame          frame
	digits, behind bool // a place of a digit was met, and the mark
}

// literal notes a text of the format's own; a quiet one is no unit.
func (f *formatReader) literal(text string, quiet bool) {
	f.frame = append(f.frame, framePart{text: text})
	switch {
	case quiet:
	case f.digits:
		f.unit += text
	default:
		f.sign += text
	}
}

// place notes the place of a digit.
func (f *formatReader) place(r byte) {
	f.digits = true
	f.frame = append(f.frame, framePart{place: r})
	if r != '0' {
		return
	}
	if f.behind {
		f.decimals++
	} else {
		f.zeros++
	}
}

// bracketed reads what stands in square brackets: a currency, or hours that run on;
// colours and conditions say nothing here.
func (f *formatReader) bracketed(text string) {
	if sign, ok := strings.CutPrefix(text, "$"); ok {
		sign, _, _ = strings.Cut(sign, "-")
		f.currency(sign)
	} else if text != "" && strings.Trim(strings.ToLower(text), "hms") == "" {
		f.date = true // such as [h]:mm
	}
}

func (f *formatReader) currency(sign string) {
	if f.digits {
		f.unit += sign
	} else {
		f.sign += sign
	}
}

func (f *formatReader) read(runes []rune) {
	for i := 0; i < len(runes); i++ {
		upTo := func(end rune) string { // the text up to a rune behind i, which becomes its place
			from := i + 1
			for i++; i < len(runes) && runes[i] != end; i++ {
			}
			return string(runes[from:min(i, len(runes))])
		}
		switch r := runes[i]; {
		case r == ';':
			return
		case r == '"':
			f.literal(upTo('"'), false)
		case r == '\\' || r == '_' || r == '*':
			if i++; i < len(runes) && r == '\\' {
				f.literal(string(runes[i]), false)
			}
		case r == '[':
			f.bracketed(upTo(']'))
		case r == '0' || r == '#' || r == '?':
			f.place(byte(r))
		case r == 'G' && strings.HasPrefix(string(runes[i:]), general):
			i += len(general) - 1
			f.place('g')
		case r == '.':
			f.behind = true
			f.frame = append(f.frame, framePart{place: '.'})
		case r == '/' && f.digits:
			f.fraction = true
		case r == '%':
			f.percent = true
		case strings.ContainsRune("yYdDmMhHsS", r) && !f.digits:
			f.date = true
		case r == 'E' || r == 'e':
			if i++; i < len(runes) && (runes[i] == '+' || runes[i] == '-') {
				*f = formatReader{} // the digits themselves say more
				return
			}
			i--
		case unicode.Is(unicode.Sc, r):
			f.currency(string(r))
		case r == '°':
			f.literal(string(r), false)
		case strings.ContainsRune(" -()+:", r):
			f.literal(string(r), true)
		}
	}
}

// general stands in a format for the number as it is.
const general = "General"
