package importers

import (
	"bytes"
	"unicode/utf8"
)

// survey is what one look at all bytes of a text shows.
type survey struct {
	valid         bool // UTF-8 as a whole
	replacement   bool // U+FFFD stands somewhere
	controlLetter bool // U+0080 to U+009F, what a byte without a letter gives
	control       bool // a control character that no cell has, before the end-of-file characters
	quote         bool // a double quotation mark
	twice         bool // letters that an encoding taken twice makes

	rest []byte // of a letter that the last piece cut
	seam []byte // the end of the last piece
}

// seamBytes is more than any of the marks that are looked for has bytes, less one.
const seamBytes = 8

// survey looks at every byte of a text once. The last tail bytes are end-of-file
// characters.
func (t *text) survey(tail int) survey {
	v := survey{valid: true}
	off := 0
	t.pass(0, func(piece []byte) bool {
		v.validate(piece)
		v.marks(piece)
		v.control = v.control || holdsControl(piece[:max(0, min(len(piece), t.size-tail-off))])
		v.quote = v.quote || bytes.IndexByte(piece, '"') >= 0
		off += len(piece)
		return true
	})
	v.valid = v.valid && len(v.rest) == 0
	return v
}

// validate checks one more piece of UTF-8, whose first letter may have begun in the
// piece before.
func (v *survey) validate(piece []byte) {
	if !v.valid {
		return
	}
	for len(v.rest) > 0 && len(piece) > 0 && !utf8.FullRune(v.rest) {
		v.rest, piece = append(v.rest, piece[0]), piece[1:]
	}
	if len(v.rest) > 0 && utf8.FullRune(v.rest) {
		v.valid = utf8.Valid(v.rest)
		v.rest = v.rest[:0]
	}
	for k := 1; k < utf8.UTFMax && k <= len(piece); k++ {
		if from := len(piece) - k; utf8.RuneStart(piece[from]) {
			if !utf8.FullRune(piece[from:]) {
				v.rest, piece = append(v.rest, piece[from:]...), piece[:from]
			}
			break
		}
	}
	v.valid = v.valid && utf8.Valid(piece)
}

// marks looks for letters of several bytes, also where two pieces meet.
func (v *survey) marks(piece []byte) {
	v.seam = append(v.seam, piece[:min(len(piece), seamBytes)]...)
	for _, part := range [][]byte{v.seam, piece} {
		v.replacement = v.replacement || bytes.Contains(part, replacement)
		v.controlLetter = v.controlLetter || hasControlLetter(part)
		v.twice = v.twice || holdsTwiceMark(part)
	}
	if len(piece) > seamBytes {
		v.seam = append(v.seam[:0], piece[len(piece)-seamBytes:]...)
	}
	v.seam = v.seam[max(0, len(v.seam)-seamBytes):]
}

// endMarks counts the end-of-file characters 0x1A of old systems at the end.
func (t *text) endMarks() (n int) {
	for n < t.size {
		from := max(0, t.size-n-passBytes)
		piece := t.slice(from, t.size-n)
		kept := len(bytes.TrimRight(piece, "\x1a"))
		n += len(piece) - kept
		if kept > 0 {
			break
		}
	}
	return n
}
