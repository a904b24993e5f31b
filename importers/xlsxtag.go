package importers

import (
	"bytes"
	"strconv"
	"unicode/utf8"
)

// nameByte tells the bytes that a name of XML may hold.
var nameByte = func() (is [256]bool) {
	for b := range is {
		is[b] = b >= utf8.RuneSelf || b == '_' || b == ':' || b == '-' || b == '.' || b >= '0' && b <= '9' || b >= 'A' && b <= 'Z' || b >= 'a' && b <= 'z'
	}
	return is
}()

func isBlankByte(b byte) bool { return b == ' ' || b == '\t' || b == '\n' || b == '\r' }

// startTag reads the beginning of an element.
func (x *markupReader) startTag() bool {
	for {
		seen := x.end - x.pos
		name, used := x.cutTag(x.buf[x.pos:x.end])
		switch {
		case used > 0:
			x.pos += used
			return x.push(name)
		case used < 0:
			x.err = errMarkupOdd
			return false
		case !x.more():
			if x.err == nil {
				x.err = errMarkupCut
			}
			return false
		}
		for x.end-x.pos < 2*seen && x.more() { // a long tag is not begun anew for every byte
		}
	}
}

// cutTag cuts a beginning such as `<c r="A1" t="s">` into its name and its
// attributes and returns its length: 0 if b ends before it does, less if it is
// not well formed.
func (x *markupReader) cutTag(b []byte) (name []byte, used int) {
	const odd = -1
	x.tag, x.attrs, x.empty = b, x.attrs[:0], false
	i, colon := 1, 0
	for i < len(b) && nameByte[b[i]] {
		if b[i] == ':' && colon == 0 {
			colon = i
		}
		i++
	}
	if name = b[1:i]; len(name) == 0 && i < len(b) {
		return nil, odd
	}
	if x.name = name; colon > 1 && colon < i-1 {
		x.name = b[colon+1 : i]
	}
	for i < len(b) {
		switch c := b[i]; {
		case c == '>':
			return name, i + 1
		case c == '/':
			if i+1 == len(b) {
				return nil, 0
			}
			if x.empty = true; b[i+1] != '>' {
				return nil, odd
			}
			return name, i + 2
		case isBlankByte(c):
			i++
			continue
		}
		from := i
		for i < len(b) && nameByte[b[i]] {
			i++
		}
		a := attribute{name: int32(from), nameEnd: int32(i)}
		i = afterBlanks(b, i)
		if i == len(b) {
			return nil, 0
		}
		if b[i] != '=' || a.name == a.nameEnd {
			return nil, odd
		}
		i = afterBlanks(b, i+1)
		if i == len(b) {
			return nil, 0
		}
		quote := b[i]
		if quote != '"' && quote != '\'' {
			return nil, odd
		}
		i++
		from = i
		for i < len(b) && b[i] != quote && b[i] != '<' {
			a.refers = a.refers || b[i] == '&' || b[i] == '\r'
			i++
		}
		if i == len(b) {
			return nil, 0
		}
		if b[i] == '<' {
			return nil, odd
		}
		a.value, a.valueEnd = int32(from), int32(i)
		x.attrs = append(x.attrs, a)
		i++
	}
	return nil, 0
}

func afterBlanks(b []byte, i int) int {
	for i < len(b) && isBlankByte(b[i]) {
		i++
	}
	return i
}

// endTag reads the end of the innermost element.
func (x *markupReader) endTag() bool {
	if x.depth == 0 {
		x.err = errMarkupOdd
		return false
	}
	name := x.names[x.outer(x.depth-1):]
	length := 2 + len(name)
	for x.pos+length >= x.end {
		if !x.more() {
			if x.err == nil {
				x.err = errMarkupCut
			}
			return false
		}
	}
	if !bytes.Equal(x.buf[x.pos+2:x.pos+length], name) {
		x.err = errMarkupOdd
		return false
	}
	for isBlankByte(x.peek(length)) {
		length++
	}
	if x.peek(length) != '>' {
		x.err = errMarkupOdd
		return false
	}
	x.pos += length + 1
	x.pop()
	return true
}

// take adds text to dst as it is meant: references resolved unless it is marked
// as characters, line ends made one.
func (x *markupReader) take(dst, raw []byte, marked bool) []byte {
	for i := 0; i < len(raw); {
		from := i
		for i < len(raw) && raw[i] >= ' ' && raw[i] < utf8.RuneSelf && raw[i] != '&' {
			i++
		}
		dst = append(dst, raw[from:i]...)
		if i == len(raw) {
			return dst
		}
		r, size := rune(raw[i]), 1
		switch {
		case r == '&' && !marked:
			r, size = referred(raw[i:])
		case r == '\r':
			if r = '\n'; i+1 < len(raw) && raw[i+1] == '\n' {
				size = 2
			}
		case r >= utf8.RuneSelf:
			if r, size = utf8.DecodeRune(raw[i:]); r == utf8.RuneError && size == 1 {
				r = -1
			}
		}
		if !isMarkupRune(r) {
			x.err = errMarkupOdd
			return dst
		}
		dst = utf8.AppendRune(dst, r)
		i += size
	}
	return dst
}

// isMarkupRune tells the characters that XML 1.0 (section 2.2) allows.
func isMarkupRune(r rune) bool {
	return r == '\t' || r == '\n' || r == '\r' || r >= ' ' && r <= 0xD7FF || r >= 0xE000 && r <= 0xFFFD || r >= 0x10000 && r <= utf8.MaxRune
}

// referred reads a reference such as &amp; or &#xB0; at the beginning of raw; −1
// for what is none. Others than those of XML itself need a document type, which
// no part has.
func referred(raw []byte) (r rune, size int) {
	end := bytes.IndexByte(raw, ';')
	if end < 0 {
		return -1, 0
	}
	switch name := string(raw[1:end]); name {
	case "lt":
		return '<', end + 1
	case "gt":
		return '>', end + 1
	case "amp":
		return '&', end + 1
	case "apos":
		return '\'', end + 1
	case "quot":
		return '"', end + 1
	default:
		if len(name) < 2 || name[0] != '#' {
			return -1, 0
		}
		digits, base := name[1:], 10
		if digits[0] == 'x' {
			digits, base = digits[1:], 16
		}
		n, err := strconv.ParseUint(digits, base, 32)
		if err != nil || n > utf8.MaxRune {
			return -1, 0
		}
		return rune(n), end + 1
	}
}
