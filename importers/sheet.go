package importers

import (
	"bytes"
	"crypto/sha256"
	"encoding/hex"
	"fmt"

	"fitfill/catalog"
)

// Sheet is one file as it was read: its bytes, and where each record lies in
// them. A Sheet is not changed after Open, except for Supplier, which the
// caller may set so that every fact knows whose sheet it comes from.
type Sheet struct {
	Name       string
	SHA256     string // hex digest of Raw
	Supplier   string
	Delimiter  rune
	Header     []string // headings as written, outer spaces taken off
	HeaderLine int      // physical line of the heading row, 1 is the first line
	Records    []Record // every record of the file in order, whatever its class
	Raw        []byte

	body int // where the text starts behind a byte order mark
}

// maxBytes keeps one sheet inside the memory of a small shop machine.
const maxBytes = 1 << 30

// Open reads a whole sheet. It refuses what is not text in UTF-8 (other text
// encodings, spreadsheets, archives, pages) with a sentence that says what the
// file looks like and what to do. The separator is the one that gives most rows
// the same width; the heading row is the one among the first rows whose cells
// are known headings, otherwise the first filled row. The settings "separator",
// "header" and "encoding" overrule this; unknown settings are an error.
func Open(ref catalog.Reference, name string, raw []byte, settings Settings) (*Sheet, error) {
	voc, err := newVocabulary(ref)
	if err != nil {
		return nil, err
	}
	if err := settings.check(); err != nil {
		return nil, err
	}
	body, err := textStart(name, raw)
	if err != nil {
		return nil, err
	}
	sum := sha256.Sum256(raw)
	s := &Sheet{Name: name, SHA256: hex.EncodeToString(sum[:]), Raw: raw, body: body}
	delim, width, hint := chooseDelimiter(voc, raw[body:], settings)
	s.Delimiter = rune(delim)
	s.Records = splitAll(raw, body, delim, width)
	if hint {
		s.Records[0].Class = ClassTitle
	}
	head, err := s.findHeading(voc, width, settings)
	if err != nil {
		return nil, err
	}
	s.Header = trimAll(s.Cells(head, nil))
	s.HeaderLine = int(s.Records[head].Line)
	s.classify(voc, head)
	return s, nil
}

// Text returns the text of record i as it stands in the file, without its line
// end.
func (s *Sheet) Text(i int) string { return string(s.content(i)) }

// Cells returns the cells of record i, quotes taken off, in dst's memory where
// it suffices. A record with a damaged quote is cut at every separator.
func (s *Sheet) Cells(i int, dst []string) []string {
	line := string(s.content(i))
	return splitCells(line, byte(s.Delimiter), s.Records[i].Fault != NoFault, dst[:0])
}

// cell returns one cell of record i, empty if the record is too short.
func (s *Sheet) cell(i, column int) string {
	line := s.content(i)
	if s.Records[i].Fault == NoFault && bytes.IndexByte(line, '"') >= 0 {
		cell, rest, more := cutCell(string(line), byte(s.Delimiter))
		for range column {
			if !more {
				return ""
			}
			cell, rest, more = cutCell(rest, byte(s.Delimiter))
		}
		return cell
	}
	for range column {
		k := bytes.IndexByte(line, byte(s.Delimiter))
		if k < 0 {
			return ""
		}
		line = line[k+1:]
	}
	if k := bytes.IndexByte(line, byte(s.Delimiter)); k >= 0 {
		line = line[:k]
	}
	return string(line)
}

// Rows returns how many records there are besides title lines and heading.
func (s *Sheet) Rows() int {
	n := 0
	for i := range s.Records {
		if c := s.Records[i].Class; c != ClassTitle && c != ClassHeading {
			n++
		}
	}
	return n
}

func (s *Sheet) content(i int) []byte {
	r := &s.Records[i]
	b := s.Raw[r.Offset : r.Offset+int64(r.Length)]
	for len(b) > 0 && (b[len(b)-1] == '\n' || b[len(b)-1] == '\r') {
		b = b[:len(b)-1]
	}
	return b
}

// columnName is how a column is called in questions, --map and --ignore: its
// heading, "Heading#2" for the second column of that heading, "column 3" where
// the heading is empty.
func (s *Sheet) columnName(i int) string {
	h := s.Header[i]
	if h == "" {
		return fmt.Sprintf("column %d", i+1)
	}
	nth := 1
	for _, earlier := range s.Header[:i] {
		if earlier == h {
			nth++
		}
	}
	if nth > 1 {
		return fmt.Sprintf("%s#%d", h, nth)
	}
	return h
}
