package importers

import (
	"bytes"
	"fmt"
	"unicode/utf8"

	"golang.org/x/text/encoding/charmap"
)

// The letters that UTF-8 read as Windows-1252 and written as UTF-8 again begins
// with: Ã, Â and the â of typographic signs.
var twiceMarks = [][]byte{[]byte("Ã"), []byte("Â"), []byte("â€"), []byte("â‚")}

// findTwiceEncoded notes that the letters of a UTF-8 file were encoded twice.
// The text stays as it is: only the sender knows what else happened to it.
func (s *Sheet) findTwiceEncoded() {
	if s.Encoding != utf8Name || !holdsTwiceMark(s.text) {
		return
	}
	twice, honest, first, was, now := 0, 0, 0, "", ""
	s.eachLine(func(line int, text []byte) bool {
		if onlyASCII(text) || !utf8.Valid(text) {
			return true
		}
		once, ok := onceEncoded(text)
		if !ok {
			honest++
			return true
		}
		if twice++; first == 0 {
			first, was, now = line, shorten(string(text), 60), shorten(string(once), 60)
		}
		return true
	})
	if twice > honest {
		s.note("twice-encoded", first, fmt.Sprintf("letters were encoded twice in %d lines: line %d says %q where %q was meant; "+
			"nothing was changed: ask for a fresh export in UTF-8", twice, first, was, now))
	}
}

func holdsTwiceMark(text []byte) bool {
	for _, m := range twiceMarks {
		if bytes.Contains(text, m) {
			return true
		}
	}
	return false
}

// onceEncoded takes one encoding off a line, if all of its letters beyond ASCII
// make UTF-8 when they are written in Windows-1252.
func onceEncoded(line []byte) ([]byte, bool) {
	out := make([]byte, 0, len(line))
	for i := 0; i < len(line); {
		r, n := utf8.DecodeRune(line[i:])
		b, ok := charmap.Windows1252.EncodeRune(r)
		if !ok {
			if r < 0x80 || r > 0x9F {
				return nil, false
			}
			b = byte(r)
		}
		out = append(out, b)
		i += n
	}
	return out, utf8.Valid(out)
}
