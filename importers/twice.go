package importers

import (
	"bytes"
	"fmt"
	"io"
	"iter"
	"unicode/utf8"

	"golang.org/x/text/encoding/charmap"
)

// The letters that UTF-8 read as Windows-1252 and written as UTF-8 again begins
// with: Ã, Â and the â of typographic signs.
var twiceMarks = [][]byte{[]byte("Ã"), []byte("Â"), []byte("â€"), []byte("â‚")}

// findTwiceEncoded notes that the letters of a UTF-8 file were encoded twice, and
// asks whether one encoding is to be taken off. Unasked, the text stays as it is:
// only the sender knows what else happened to it.
func (s *Sheet) findTwiceEncoded(ask bool) {
	if s.Encoding != utf8Name || !s.seen.twice {
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
	if twice <= honest {
		return
	}
	s.note("twice-encoded", first, fmt.Sprintf("letters were encoded twice in %d lines: line %d says %q where %q was meant; "+
		"nothing was changed", twice, first, was, now))
	if ask {
		s.ask("twice-encoded", "encoding", utf8Name, []string{twiceName, utf8Name}, fmt.Sprintf(
			"Letters were encoded twice in %d lines. Put them right, or leave them as they are?", twice))
		s.questions[len(s.questions)-1].Examples = []string{"as it is: " + was, "put right: " + now}
	}
}

// encodedOnce takes one encoding off every line that can be put right as a whole;
// line ends stay.
func encodedOnce(w io.Writer, t *text) {
	t.eachLine(0, func(line, ending []byte) bool {
		if !onlyASCII(line) {
			if once, ok := onceEncoded(line); ok {
				line = once
			}
		}
		_, err := w.Write(line)
		_, _ = w.Write(ending) // the writer keeps its error
		return err == nil
	})
}

// lineLengths goes through the physical lines of the file: the bytes of each, its
// line end included, without a byte order mark.
func (s *Sheet) lineLengths() iter.Seq[int64] {
	return func(yield func(int64) bool) {
		s.raw.eachLine(s.mark, func(line, ending []byte) bool { return yield(int64(len(line) + len(ending))) })
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
