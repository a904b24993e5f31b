package importers

import (
	"bufio"
	"encoding/json"
	"io"
	"strings"
)

// WriteRows writes heading and accepted rows as CSV in UTF-8 in the form of RFC
// 4180, every cell exactly as read: nothing is mapped, trimmed or filled up. A
// sheet without a heading gets no heading line; a heading of several rows is
// joined into one. With held rows, their cells stand among the others in the
// order of the file.
func (in Inspection) WriteRows(w io.Writer, withHeld bool) error {
	out := bufio.NewWriterSize(w, 64<<10)
	if in.Sheet.HeaderLine > 0 {
		writeRecord(out, in.Sheet.headingCells())
	}
	for _, cells := range in.rows(withHeld) {
		writeRecord(out, cells)
	}
	return out.Flush()
}

// headingCells are the headings as they stand in the file, where they are one
// row.
func (s *Sheet) headingCells() []string {
	found := -1
	for i := range s.records.n {
		if s.records.class(i) != ClassHeading {
			continue
		}
		if found >= 0 {
			return s.Header
		}
		found = i
	}
	if found < 0 {
		return s.Header
	}
	return s.Cells(found, nil)
}

// writeRecord writes one record. A single empty cell is quoted, for an empty
// line is no record. Errors stay in the writer until it is flushed.
func writeRecord(w *bufio.Writer, cells []string) {
	for i, c := range cells {
		if i > 0 {
			w.WriteByte(',')
		}
		if !strings.ContainsAny(c, "\",\r\n") && (c != "" || len(cells) > 1) {
			w.WriteString(c)
			continue
		}
		w.WriteByte('"')
		w.WriteString(strings.ReplaceAll(c, `"`, `""`))
		w.WriteByte('"')
	}
	w.WriteString("\r\n")
}

// WriteLedger writes one JSON object a line for every span of the sheet.
func (in Inspection) WriteLedger(w io.Writer) error {
	return in.Sheet.WriteLedger(w, nil)
}

// WriteLedger writes the ledger as one JSON object a line, with the verdicts of
// a report, or those of the sheet's shape without one.
func (s *Sheet) WriteLedger(w io.Writer, report *Report) error {
	out := bufio.NewWriterSize(w, 64<<10)
	encoder := json.NewEncoder(out)
	encoder.SetEscapeHTML(false)
	for span := range s.Spans(report) {
		if err := encoder.Encode(span); err != nil {
			return err
		}
	}
	return out.Flush()
}
