package importers

import (
	"fmt"
	"strings"
)

// Dialect is how the cells of a sheet are told apart.
type Dialect struct {
	Delimiter string // one of , ; | tab, or comma and space
	Quote     byte   // " or ', 0 where no character quotes
	Backslash bool   // a quote inside a quoted cell follows a backslash
}

var delimiterNames = map[string]string{",": "comma", ";": "semicolon", "\t": "tab", "|": "pipe", ", ": "comma-space"}

var quoteNames = map[byte]string{'"': "double", '\'': "single", 0: "none"}

// String describes the dialect as the settings that choose it.
func (d Dialect) String() string {
	text := fmt.Sprintf("separator=%s quote=%s", delimiterNames[d.Delimiter], quoteNames[d.Quote])
	if d.Backslash {
		text += " escape=backslash"
	}
	return text
}

// plain reports whether the dialect is that of RFC 4180 (section 2) with one
// character as its separator, which splitCells reads.
func (d Dialect) plain() bool { return d.Quote == '"' && !d.Backslash && len(d.Delimiter) == 1 }

// literal cuts a line at every separator; quotes are plain characters.
func (d Dialect) literal(line string, cells []string) []string {
	for {
		i, n := d.find(line)
		if n == 0 {
			return append(cells, line)
		}
		cells = append(cells, line[:i])
		line = line[i+n:]
	}
}

// find returns where the next separator starts and how long it is, 0 if there
// is none. Comma and space lose their space at the end of a line.
func (d Dialect) find(line string) (at, length int) {
	if i := strings.Index(line, d.Delimiter); i >= 0 {
		return i, len(d.Delimiter)
	}
	if len(d.Delimiter) == 2 && strings.HasSuffix(line, d.Delimiter[:1]) {
		return len(line) - 1, 1
	}
	return 0, 0
}

// cut cuts the text of one record without fault into cells.
func (d Dialect) cut(line string, cells []string) []string {
	if d.Quote == 0 || strings.IndexByte(line, d.Quote) < 0 {
		return d.literal(line, cells)
	}
	for {
		cell, rest, more := d.next(line)
		cells = append(cells, cell)
		if !more {
			return cells
		}
		line = rest
	}
}

// next takes the first cell off a line. Blanks behind a closing quote belong to
// the cell.
func (d Dialect) next(line string) (cell, rest string, more bool) {
	if line == "" || line[0] != d.Quote {
		return d.upToDelimiter(line)
	}
	var b strings.Builder
	for i := 1; i < len(line); i++ {
		switch c := line[i]; {
		case c == '\\' && d.Backslash && i+1 < len(line) && (line[i+1] == d.Quote || line[i+1] == '\\'):
			i++
			b.WriteByte(line[i])
		case c == d.Quote && i+1 < len(line) && line[i+1] == d.Quote:
			i++
			b.WriteByte(c)
		case c == d.Quote:
			tail, rest, more := d.upToDelimiter(line[i+1:])
			return b.String() + tail, rest, more
		default:
			b.WriteByte(c)
		}
	}
	return b.String(), "", false
}

func (d Dialect) upToDelimiter(line string) (cell, rest string, more bool) {
	i, n := d.find(line)
	if n == 0 {
		return line, "", false
	}
	return line[:i], line[i+n:], true
}
