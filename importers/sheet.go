package importers

import (
	"bytes"
	"crypto/sha256"
	"encoding/hex"
	"fmt"
	"maps"
	"slices"
	"strings"
	"unicode/utf8"

	"fitfill/catalog"
)

// Sheet is one sheet as it was read: its bytes, and where each record lies in
// them. A Sheet is not changed after Open, except for Supplier, which the
// caller may set so that every fact knows whose sheet it comes from.
type Sheet struct {
	Name       string
	SHA256     string // hex digest of Raw
	Supplier   string
	Packed     string // "gzip", "zip: NAME" or "workbook: WORKSHEET" where Raw came out of one
	Encoding   string
	Dialect    Dialect
	Delimiter  rune     // first character of the separator
	Header     []string // headings as written, outer spaces taken off; rows of one heading joined; letters where there is none
	HeaderLine int      // physical line of the heading row, 1 is the first line, 0 where there is none
	Raw        []byte   // the sheet's own bytes, unpacked, in their own encoding
	Notes      []FileNote
	Proof      []Proof

	// Encodings and Readings show the lines that the question about the encoding
	// is about, side by side.
	Encodings []string
	Readings  []Reading

	records   recordTable
	text      []byte // Raw behind the byte order mark, in UTF-8
	mark      int    // bytes of the byte order mark
	damaged   bool   // somewhere bytes are no letters in this encoding
	tail      int    // bytes 0x1A at the end of the text
	sizes     sizeLimits
	profile   *profile // what the columns look like
	runnerUp  string   // the second best separator, as a hint
	questions []Question
	answers   Settings // what the questions suggest
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

// Open reads a whole sheet, out of a gzip or zip archive too. It refuses what
// is no text sheet with a sentence that says what the file looks like and what
// to do. Encoding, separator, quotes and heading are found from the bytes, with
// evidence (Proof); what is not certain is taken for now and asked (Questions).
// The settings overrule; unknown settings are an error. Every record has its
// class, and every data record its fault, when Open returns. A zip archive with
// several sheets gives a *SheetChoice. Nobody may change raw afterwards: cells are
// views of it.
func Open(ref catalog.Reference, name string, raw []byte, settings Settings) (*Sheet, error) {
	voc, err := vocabularyOf(ref)
	if err != nil {
		return nil, err
	}
	if err := settings.check(); err != nil {
		return nil, err
	}
	return openSheet(voc, name, raw, settings)
}

func openSheet(voc *vocabulary, name string, raw []byte, settings Settings) (*Sheet, error) {
	s := &Sheet{Name: name, sizes: settings.limits(), answers: Settings{}}
	var err error
	if s.Raw, s.Packed, err = s.unpacked(voc, name, raw, settings); err != nil {
		return nil, err
	}
	if packed, besides, two := strings.Cut(s.Packed, besidesSheet); two {
		s.Packed = packed
		s.note("archive", 0, "the archive holds besides, not read: "+besides)
	}
	if err := refuseOther(name, s.Raw); err != nil {
		return nil, err
	}
	sum := sha256.Sum256(s.Raw)
	s.SHA256 = hex.EncodeToString(sum[:])
	if err := s.readText(settings); err != nil {
		return nil, err
	}
	if err := refuseText(name, s.text); err != nil {
		return nil, err
	}
	width, hint := s.chooseDialect(voc, settings)
	s.split(width)
	if int64(s.records.n) > s.sizes.rows {
		return nil, fmt.Errorf("%s has %d lines, more than %d: split the sheet and import its parts, or raise --set limit-rows", name, s.records.n, s.sizes.rows)
	}
	if hint {
		s.records.setClass(0, ClassTitle)
		s.records.addNote(0, SepHint)
	}
	head, err := s.findHeading(voc, width, settings)
	if err != nil {
		return nil, err
	}
	if err := s.refuseProse(voc, settings); err != nil {
		return nil, err
	}
	if int64(len(s.Header)) > s.sizes.columns {
		return nil, fmt.Errorf("%s: the heading on line %d has %d cells, more than %d: is %s the separator? Choose with --set separator, or raise --set limit-columns",
			name, s.HeaderLine, len(s.Header), s.sizes.columns, delimiterNames[s.Dialect.Delimiter])
	}
	if err := s.classify(voc, head); err != nil {
		return nil, err
	}
	if err := s.takeAsRows(settings); err != nil {
		return nil, err
	}
	s.noteSections(settings)
	s.judge(settings)
	if err := s.judgeShifted(voc, settings); err != nil {
		return nil, err
	}
	s.recount()
	if strings.Contains(s.Packed, workbookPacked) { // what parts its text is our own doing
		s.Proof = slices.DeleteFunc(s.Proof, func(p Proof) bool { return p.What == "encoding" || p.What == "separator" || p.What == "quotes" })
	}
	return s, nil
}

// unpacked returns the bytes of the sheet itself: out of an archive, and of a
// workbook the text that says the same.
func (s *Sheet) unpacked(voc *vocabulary, name string, raw []byte, settings Settings) (sheet []byte, packed string, err error) {
	if int64(len(raw)) > s.sizes.file {
		return nil, "", fmt.Errorf("%s is larger than %s: split the sheet and import its parts, or raise --set limit-file", name, sizeText(s.sizes.file))
	}
	if !isWorkbook(raw) {
		if raw, packed, err = unpack(name, raw, settings, s.sizes); err != nil || !isWorkbook(raw) {
			return raw, packed, err
		}
		settings = maps.Clone(settings)
		delete(settings, "sheet") // it chose the file in the archive
		packed += ", "
	}
	text, worksheet, err := s.readWorkbook(voc, name, raw, settings)
	return text, packed + worksheet, err
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

// Lines returns the text that lines are counted in, in UTF-8: the sheet's own
// bytes where they are that already.
func (s *Sheet) Lines() []byte {
	if s.Encoding == utf8Name {
		return s.Raw
	}
	return s.text
}

// Cells returns the cells of record i, quotes taken off, in dst's memory where
// it suffices. A record with a damaged quote is cut at every separator, a line
// over the limit not at all.
func (s *Sheet) Cells(i int, dst []string) []string {
	fault := s.records.fault(i)
	switch {
	case fault == LineTooLong:
		return append(dst[:0], s.Text(i))
	case s.Dialect.plain() && s.records.note(i)&QuoteSpaced == 0:
		return splitCells(view(s.readableContent(i)), byte(s.Delimiter), fault.literal(), dst[:0])
	case fault.literal():
		return s.Dialect.literal(view(s.readableContent(i)), dst[:0])
	}
	return s.Dialect.cut(view(s.readableContent(i)), dst[:0])
}

// cell returns one cell of record i, empty if the record is too short.
func (s *Sheet) cell(i, column int) string {
	line := s.content(i)
	if !s.Dialect.plain() || s.records.note(i)&QuoteSpaced != 0 || s.records.fault(i) != NoFault {
		if cells := s.Cells(i, nil); column < len(cells) {
			return cells[column]
		}
		return ""
	}
	if bytes.IndexByte(line, '"') >= 0 {
		cell, rest, more := cutCell(view(line), byte(s.Delimiter))
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
	return view(line)
}
