package importers

import (
	"bytes"
	"errors"
	"fmt"
	"io"
	"strings"

	"fitfill/catalog/pattern"
)

// markupReader reads the XML of a workbook's part as it comes, element by element.
// It knows what such a part may be (ISO/IEC 29500-2: no document type) and takes
// names, attributes and texts as views of its buffer, so that a worksheet of any
// length costs no more than its longest element; the standard library's decoder
// makes several values of each.
type markupReader struct {
	from     io.Reader
	buf      []byte
	pos, end int
	eof      bool
	err      error

	name   []byte      // of the element that began, without its prefix; a view until the next step
	tag    []byte      // the beginning itself; a view until the next step
	attrs  []attribute // of the element that began
	opened bool        // the last step was the beginning of an element
	empty  bool        // it has no content: its end is due
	closed bool        // the outermost element has ended
	depth  int         // of the element that began; of the one around it after an end
	names  []byte      // of the open elements, one behind another, with their prefixes
	ends   []int       // where each of them ends in names
	text   []byte      // what content or attr made last
}

// attribute is where in the tag a name and its value stand.
type attribute struct {
	name, nameEnd, value, valueEnd int32
	refers                         bool // the value holds references
}

const (
	markupWindow = 64 << 10
	// longestMarkup bounds one tag or text, so that a part made to do harm cannot
	// take the memory of its whole size.
	longestMarkup = 16 << 20
	deepestMarkup = 256
)

var (
	errMarkupCut = errors.New("a part of it is cut off")
	errMarkupOdd = errors.New("the XML of a part of it is not well formed")
)

func newMarkup(r io.Reader) *markupReader {
	return &markupReader{from: r, buf: make([]byte, markupWindow)}
}

// child goes on to the next element that stands directly in the element of that
// depth; 0 is the part itself. It is false at the end of that element and on an
// error, which err then holds. What the elements between hold is passed over.
func (x *markupReader) child(depth int) bool {
	for x.step(-1) {
		switch {
		case x.opened && x.depth == depth+1:
			return true
		case !x.opened && x.depth < depth:
			return false
		}
	}
	return false
}

// content returns the text of the element that began, up to its end, without
// that of the elements in it. It is valid until the next call.
func (x *markupReader) content() []byte {
	x.text = x.text[:0]
	for depth := x.depth; x.step(depth); {
		if !x.opened && x.depth < depth {
			break
		}
	}
	return x.text
}

// only adds to dst the text of the element that began, if that text is all it
// holds between a beginning and an end such as "<v>" and "</v></c>", and ends the
// element. Nearly all cells are like that, and it spares the steps between.
func (x *markupReader) only(dst []byte, begin, end string) ([]byte, bool) {
	b := x.buf[x.pos:x.end]
	if x.empty || len(b) < len(begin) || string(b[:len(begin)]) != begin {
		return dst, false
	}
	b = b[len(begin):]
	n := bytes.IndexByte(b, '<')
	if n < 0 || len(b)-n < len(end) || string(b[n:n+len(end)]) != end {
		return dst, false
	}
	x.pos += len(begin) + n + len(end)
	dst = x.take(dst, b[:n], false)
	x.pop()
	return dst, true
}

// attr returns an attribute of the element that began, empty if it has none of
// that name. It is valid until the next step.
func (x *markupReader) attr(name string) []byte {
	for i := range x.attrs {
		a := &x.attrs[i]
		if int(a.nameEnd-a.name) != len(name) || x.tag[a.name] != name[0] || len(name) > 1 && string(x.tag[a.name:a.nameEnd]) != name {
			continue
		}
		value := x.tag[a.value:a.valueEnd]
		if a.refers {
			x.text = x.take(x.text[:0], value, false)
			value = x.text
		}
		return value
	}
	return nil
}

// step goes on to the next beginning or end of an element; false at the end of
// the part and on an error. Text on the way is taken where it stands directly in
// an element of that depth.
func (x *markupReader) step(taking int) bool {
	if x.empty && x.err == nil {
		x.empty = false
		x.pop()
		return true
	}
	for x.err == nil {
		i := 0
		if x.pos == x.end || x.buf[x.pos] != '<' { // tags mostly touch
			i = bytes.IndexByte(x.buf[x.pos:x.end], '<')
		}
		switch {
		case i < 0 && taking == x.depth: // the text is wanted whole
			x.find("<", 0)
			continue
		case i < 0:
			if x.pos = x.end; x.more() {
				continue
			}
			if !x.closed && x.err == nil {
				x.err = errMarkupCut
			}
			return false
		case taking == x.depth:
			x.text = x.take(x.text, x.buf[x.pos:x.pos+i], false)
		}
		x.pos += i
		switch x.peek(1) {
		case '/':
			return x.endTag()
		case '!', '?':
			x.aside(taking == x.depth)
		default:
			return x.startTag()
		}
	}
	return false
}

// peek returns the byte so far behind the present place, 0 at the end of the part.
func (x *markupReader) peek(n int) byte {
	for x.pos+n >= x.end {
		if !x.more() {
			return 0
		}
	}
	return x.buf[x.pos+n]
}

// more reads on. What was not yet passed stays whole in the buffer.
func (x *markupReader) more() bool {
	if x.err != nil || x.eof {
		return false
	}
	if x.pos > 0 {
		x.end = copy(x.buf, x.buf[x.pos:x.end])
		x.pos = 0
	}
	if x.end == len(x.buf) {
		if len(x.buf) >= longestMarkup {
			x.err = fmt.Errorf("one of its texts is longer than %s", sizeText(longestMarkup))
			return false
		}
		x.buf = append(x.buf, make([]byte, len(x.buf))...)
	}
	n, err := io.ReadAtLeast(x.from, x.buf[x.end:], 1)
	x.end += n
	if err != nil {
		x.eof = true
		if !errors.Is(err, io.EOF) {
			x.err = err
		}
	}
	return n > 0
}

// find returns how far ahead a mark stands, from a place behind the present one on.
func (x *markupReader) find(mark string, from int) int {
	for {
		if x.pos+from <= x.end {
			if i := bytes.Index(x.buf[x.pos+from:x.end], []byte(mark)); i >= 0 {
				return from + i
			}
		}
		seen := x.end - x.pos
		if !x.more() {
			if x.err == nil {
				x.err = errMarkupCut
			}
			return 0
		}
		from = max(from, seen-len(mark)+1)
	}
}

// aside passes over a comment, an instruction, or characters marked as such,
// which may be wanted.
func (x *markupReader) aside(taking bool) {
	for _, a := range []struct{ begin, end string }{{"<!--", "-->"}, {"<![CDATA[", "]]>"}, {"<?", "?>"}} {
		is := true
		for i := range len(a.begin) {
			is = is && x.peek(i) == a.begin[i]
		}
		if !is {
			continue
		}
		n := x.find(a.end, len(a.begin))
		if x.err != nil {
			return
		}
		switch inner := x.buf[x.pos+len(a.begin) : x.pos+n]; {
		case a.begin == "<?":
			x.instruction(string(inner))
		case taking && a.end == "]]>":
			x.text = x.take(x.text, inner, true)
		}
		x.pos += n + len(a.end)
		return
	}
	if x.err == nil {
		x.err = errMarkupOdd // a document type, or what is none of them
	}
}

// declaredLetters is the declaration of a part that says in which letters it is written
// (XML 1.0, productions 23, 77 and 80).
var declaredLetters = pattern.New(`^xml(?:[ \t\r\n]+version[ \t\r\n]*=[ \t\r\n]*(?:"1\.[0-9]+"|'1\.[0-9]+'))?[ \t\r\n]+encoding[ \t\r\n]*=[ \t\r\n]*(?:"([A-Za-z][A-Za-z0-9._-]*)"|'([A-Za-z][A-Za-z0-9._-]*)')`)

// instruction reads in which letters the part is written. A declaration that says
// so in no way that is a rule says nothing; bytes that are no UTF-8 end the reading
// in any case.
func (x *markupReader) instruction(text string) {
	if m := declaredLetters.FindStringSubmatch(text); m != nil && !strings.EqualFold(m[1]+m[2], "utf-8") {
		x.err = fmt.Errorf("a part of it is written in %s", m[1]+m[2])
	}
}

// outer returns where the name of the open element of that depth ends.
func (x *markupReader) outer(depth int) int {
	if depth <= 0 {
		return 0
	}
	return x.ends[depth-1]
}

// push begins an element.
func (x *markupReader) push(name []byte) bool {
	switch {
	case x.closed:
		x.err = errMarkupOdd // a second outermost element
	case x.depth == deepestMarkup:
		x.err = fmt.Errorf("elements of it are nested more than %d deep", deepestMarkup)
	}
	x.opened = true
	x.depth++
	x.names = append(x.names, name...)
	x.ends = append(x.ends, len(x.names))
	return x.err == nil
}

// pop ends the innermost element.
func (x *markupReader) pop() {
	x.opened = false
	x.depth--
	x.ends = x.ends[:x.depth]
	x.names = x.names[:x.outer(x.depth)]
	x.closed = x.depth == 0
}
