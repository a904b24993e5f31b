package importers

import (
	"bytes"
	"fmt"
	"strings"
)

// Redact returns the text of a sheet in UTF-8 with the cells of some rows
// written anew, and the lines of the rows that changed. edit changes the cells
// of one row in place and reports whether it did; it must neither add nor take
// away line ends. All other rows stay as they are, byte for byte. The result
// reads as the same rows on the same lines, or an error says why not.
func Redact(s *Sheet, edit func(cells []string) bool) (text []byte, lines []int, err error) {
	var out bytes.Buffer
	if s.Encoding == utf8Name {
		out.Write(s.raw.head(s.mark))
	}
	before := out.Len()
	var cells []string
	for i := range s.records.n {
		r := s.records.at(i)
		whole := s.text.slice(int(r.Offset), int(r.Offset)+int(r.Length))
		cells = s.Cells(i, cells)
		if !edit(cells) {
			out.Write(whole)
			continue
		}
		lines = append(lines, int(r.Line))
		content := s.content(i)
		out.WriteString(s.joined(i, cells))
		out.Write(whole[len(content):])
	}
	return out.Bytes(), lines, s.sameRows(out.Bytes()[before:])
}

// joined writes cells as record i would hold them.
func (s *Sheet) joined(i int, cells []string) string {
	r := s.records.at(i)
	quote := s.Dialect.Quote
	if r.Fault == LineTooLong {
		return strings.Join(cells, "")
	}
	if r.Fault.literal() || quote == 0 {
		return strings.Join(cells, s.Dialect.Delimiter)
	}
	q := string(rune(quote))
	all := bytes.IndexByte(s.content(i), quote) >= 0
	doubled := q + q
	if s.Dialect.Backslash {
		doubled = `\` + q
	}
	quoted := make([]string, len(cells))
	for k, c := range cells {
		quoted[k] = c
		if all || strings.ContainsAny(c, s.Dialect.Delimiter+q+"\r\n") {
			quoted[k] = q + strings.ReplaceAll(c, q, doubled) + q
		}
	}
	return strings.Join(quoted, s.Dialect.Delimiter)
}

// sameRows reports, as an error, the first line on which a text is cut into
// other rows than the sheet.
func (s *Sheet) sameRows(text []byte) error {
	t := *s
	t.text = textOf(text)
	t.records = recordTable{}
	t.tail = 0
	width := len(s.Header)
	if len(text) > 0 {
		t.split(width)
	}
	if t.records.n != s.records.n {
		return fmt.Errorf("%s would be read as %d rows instead of %d", s.Name, t.records.n, s.records.n)
	}
	for i := range t.records.n {
		a, b := s.records.at(i), t.records.at(i)
		if a.Line != b.Line || a.Lines != b.Lines || a.Width != b.Width {
			return fmt.Errorf("%s would be read differently from line %d on", s.Name, a.Line)
		}
	}
	return nil
}
