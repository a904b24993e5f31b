package workbook

import (
	"bufio"
	"fmt"
	"unicode/utf8"
)

// escape writes a text so that it is read as it is: the marks of XML as entities,
// and what XML cannot hold, or would change, as the standard says of a text:
// _xHHHH_ with the code of the character (ISO/IEC 29500-1, 22.9.2.19 ST_Xstring).
// A text that happens to hold such a mark gets its underscore written as one. Bytes
// that are no UTF-8 become U+FFFD.
func escape(b *bufio.Writer, text string) {
	for i, r := range text {
		switch {
		case r == '&':
			b.WriteString("&amp;")
		case r == '<':
			b.WriteString("&lt;")
		case r == '>':
			b.WriteString("&gt;")
		case r == '_' && marked(text[i:]):
			b.WriteString("_x005F_")
		case r < ' ' && r != '\t' && r != '\n', r == '\uFFFE', r == '\uFFFF':
			fmt.Fprintf(b, "_x%04X_", r)
		case r == utf8.RuneError:
			b.WriteString("\uFFFD")
		default:
			b.WriteRune(r)
		}
	}
}

// marked reports whether a text begins with a mark such as _x000D_.
func marked(text string) bool {
	const length = len("_x000D_")
	if len(text) < length || text[1] != 'x' || text[length-1] != '_' {
		return false
	}
	for _, c := range []byte(text[2 : length-1]) {
		switch {
		case c >= '0' && c <= '9', c >= 'A' && c <= 'F', c >= 'a' && c <= 'f':
		default:
			return false
		}
	}
	return true
}
