package importers

import (
	"strings"
	"unicode"
)

// frame is the layout of a number format that puts words or digits of its own
// around the digits of the number or between them, as `"TH-"0000` and `00"K"000`
// do. What such a cell shows is the part number, and not the number behind it.
type frame []framePart

// framePart is a text of the format's own, or the place of a digit.
type framePart struct {
	text  string
	place byte // 0, # or ?, a point for the mark, g for a number as it is; zero for a text
}

// places returns where the first and the last place of a digit stand, −1 where
// there is none.
func (f frame) places() (first, last int) {
	first, last = -1, -1
	for i, p := range f {
		if p.place != 0 {
			if last = i; first < 0 {
				first = i
			}
		}
	}
	return first, last
}

// needed reports whether the frame belongs to what the cell says: words or digits
// in front of the number or between its digits, dashes between digits that are
// always shown, words behind it that a mark ties to it. A unit behind a number and
// a currency are no frame.
func (f frame) needed() bool {
	first, last := f.places()
	zeros := true
	for _, p := range f {
		zeros = zeros && (p.place == 0 || p.place == '0')
	}
	for i, p := range f {
		switch {
		case first < 0:
			return false
		case p.place != 0:
		case i < last && hasWord(p.text), i > first && i < last && zeros && strings.Contains(p.text, "-"):
			return true
		case i == last+1 && hasWord(p.text) && strings.ContainsAny(p.text[:1], "-_./#+0123456789"):
			return true
		}
	}
	return false
}

func hasWord(text string) bool {
	return strings.ContainsFunc(text, func(r rune) bool { return unicode.IsLetter(r) || unicode.IsDigit(r) })
}

// shown writes a number without sign in its frame. Digits beyond the places stand
// before the first of them and decimals without a place behind the last, so that
// none is lost.
func (f frame) shown(number string) string {
	whole, rest, _ := strings.Cut(number, ".")
	places, first, last := 0, -1, -1 // of the digits in front of the mark
	for i, p := range f {
		if p.place == '.' {
			break
		}
		if p.place != 0 {
			if places, last = places+1, i; first < 0 {
				first = i
			}
		}
	}
	var b strings.Builder
	next := len(whole) - places // the digit that stands on the next place
	for i, p := range f {
		if p.place == 0 {
			b.WriteString(p.text)
			continue
		}
		if i >= first && i <= last {
			switch {
			case p.place == 'g':
				b.WriteString(whole)
				next = len(whole)
			case i == first && next >= 0:
				b.WriteString(whole[:next+1])
			case next >= 0:
				b.WriteByte(whole[next])
			case p.place == '0':
				b.WriteByte('0')
			}
			next++
		}
		if i == last || first < 0 && p.place == '.' {
			if first < 0 {
				b.WriteString(whole)
			}
			if rest != "" {
				b.WriteString("." + rest)
			}
		}
	}
	return strings.TrimSpace(b.String())
}
