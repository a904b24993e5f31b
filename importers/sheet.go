package importers

import (
	"io"
	"unicode/utf8"
)

// Sheet is one sheet as it was read: its bytes, wherever they lie, and where each
// record lies in them. A Sheet is not changed after Open, except for Supplier, which the
// caller may set so that every fact knows whose sheet it comes from.
type Sheet struct {
	Name       string
	SHA256     string // hex digest of the sheet's own bytes, unpacked (File)
	Supplier   string
	Packed     string // "gzip", "zip: NAME" or "workbook: WORKSHEET" where the sheet came out of one
	Encoding   string
	Dialect    Dialect
	Delimiter  rune     // first character of the separator
	Header     []string // headings as written, outer spaces taken off; rows of one heading joined; letters where there is none
	HeaderLine int      // physical line of the heading row, 1 is the first line, 0 where there is none
	Notes      []FileNote
	Proof      []Proof

	// Encodings and Readings show the lines that the question about the encoding
	// is about, side by side.
	Encodings []string
	Readings  []Reading

	records   recordTable
	raw       *text  // the sheet's own bytes, unpacked, in their own encoding
	text      *text  // the same behind the byte order mark, in UTF-8
	seen      survey // what all bytes of text showed
	mark      int    // bytes of the byte order mark
	damaged   bool   // somewhere bytes are no letters in this encoding
	tail      int    // bytes 0x1A at the end of the text
	sizes     sizeLimits
	profile   *profile // what the columns look like
	runnerUp  string   // the second best separator, as a hint
	questions []Question
	answers   Settings // what the questions suggest
	storage   storage
	scratch   []io.Closer
}

// FileNote is something about the whole sheet that a person should know.
type FileNote struct {
	Code string `json:"code"`
	Line int    `json:"line,omitempty"`
	Text string `json:"text"`
}

// Proof is something that was detected, with its evidence in words.
type Proof struct {
	What  string `json:"what"`
	Value string `json:"value"`
	Why   string `json:"why"`
}

// Text returns the text of record i in UTF-8 without its line end: as it stands
// in the file, but bytes that are no letters in its encoding are read as
// Windows-1252, and a line over the limit is cut.
func (s *Sheet) Text(i int) string {
	if s.records.fault(i) == LineTooLong {
		line := s.content(i)
		n := min(len(line), shownOfLongLine)
		for n > 0 && n < len(line) && !utf8.RuneStart(line[n]) {
			n--
		}
		return string(readable(line[:n]))
	}
	return string(s.readableContent(i))
}

// TextOn returns the text of the record that starts on a physical line, empty if
// none does.
func (s *Sheet) TextOn(line int) string {
	if i, ok := s.RecordOn(line); ok {
		return s.Text(i)
	}
	return ""
}

// shownOfLongLine is how much of a line over the limit is shown.
const shownOfLongLine = 4 << 10

// File returns the sheet's own bytes, unpacked, in their own encoding.
func (s *Sheet) File() File { return s.raw }

// Lines returns the text that lines are counted in, in UTF-8: the sheet's own
// bytes where they are that already.
func (s *Sheet) Lines() File {
	if s.Encoding == utf8Name {
		return s.raw
	}
	return s.text
}

// Cells returns the cells of record i, quotes taken off, in dst's memory where
// it suffices. A record with a damaged quote is cut at every separator, a line
// over the limit not at all.
func (s *Sheet) Cells(i int, dst []string) []string { return s.cellsOf(i, s.content(i), dst) }

// cellsOf is Cells of record i, whose text is line.
func (s *Sheet) cellsOf(i int, line []byte, dst []string) []string {
	fault := s.records.fault(i)
	if fault == BadEncoding || s.damaged {
		line = readable(line)
	}
	switch {
	case fault == LineTooLong:
		return append(dst[:0], s.Text(i))
	case s.Dialect.plain() && s.records.note(i)&QuoteSpaced == 0:
		return splitCells(view(line), byte(s.Delimiter), fault.literal(), dst[:0])
	case fault.literal():
		return s.Dialect.literal(view(line), dst[:0])
	}
	return s.Dialect.cut(view(line), dst[:0])
}

// cell returns one cell of record i, empty if the record is too short.
func (s *Sheet) cell(i, column int) string { return s.cellOf(i, s.content(i), column) }
