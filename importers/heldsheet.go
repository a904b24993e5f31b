package importers

import (
	"bufio"
	"fmt"
	"hash/crc32"
	"io"
	"slices"
	"strings"

	"fitfill/catalog"
)

// The two headings that a sheet of held rows has in front of the supplier's own.
const (
	RefHeading     = "row ref"
	ProblemHeading = "problem"
)

// refDigest is how much of the file's digest stands in a reference.
const refDigest = 12

// rowRef names a record of a sheet so that a corrected row finds back to it:
// the start of the file's digest, the line, and a check of the row's own bytes.
func rowRef(s *Sheet, i int) string {
	return fmt.Sprintf("%s-%d-%08x", s.SHA256[:refDigest], s.records.lineOf(i), crc32.ChecksumIEEE(s.content(i)))
}

// WriteHeld writes held rows as a sheet to correct and send back: the supplier's
// own columns under their own names, a reference and the problem in front. It is
// comma-separated UTF-8 with every cell in quotation marks and every text guarded
// (Guard). Cells beyond the last heading get headings of their own. Where edit is
// not nil, it may change the cells of a row, and gets the sheet's headings to know
// them by. A held row that is not of this sheet is an error.
func WriteHeld(w io.Writer, s *Sheet, m Mapping, held []catalog.HeldRow, edit func(heading, cells []string) ([]string, error)) error {
	if err := m.fits(s); err != nil {
		return err
	}
	records, width := make([]int, len(held)), len(s.Header)
	for k, h := range held {
		i, ok := s.RecordOn(h.Line)
		if !ok || s.Text(i) != h.Raw {
			return fmt.Errorf("line %d of the held rows is not a row of %s: fetch the held rows of that sheet again", h.Line, s.Name)
		}
		records[k] = i
		width = max(width, len(s.Cells(i, nil)))
	}
	head := []string{RefHeading, ProblemHeading}
	for i := range s.Header {
		head = append(head, s.columnName(i))
	}
	heading := slices.Clone(head[2:])
	for i := len(s.Header); i < width; i++ {
		head = append(head, fmt.Sprintf("no heading %d", i+1))
	}
	out := bufio.NewWriter(w)
	writeQuoted(out, head)
	for k, i := range records {
		cells := s.Cells(i, nil)
		if edit != nil {
			var err error
			if cells, err = edit(heading, cells); err != nil {
				return err
			}
		}
		row := append([]string{rowRef(s, i), problemText(held[k])}, cells...)
		for len(row) < len(head) {
			row = append(row, "")
		}
		writeQuoted(out, row)
	}
	return out.Flush()
}

func problemText(h catalog.HeldRow) string {
	if h.Column == "" {
		return fmt.Sprintf("line %d: %s", h.Line, h.Reason)
	}
	return fmt.Sprintf("line %d, column %q: %s", h.Line, h.Column, h.Reason)
}

// writeQuoted writes one row. Flush reports the errors of the writer.
func writeQuoted(w *bufio.Writer, cells []string) {
	for i, c := range cells {
		if i > 0 {
			_ = w.WriteByte(',')
		}
		_, _ = w.WriteString(`"` + strings.ReplaceAll(Guard(c), `"`, `""`) + `"`)
	}
	_, _ = w.WriteString("\r\n")
}

// IsCorrection reports whether a sheet is one that WriteHeld wrote.
func IsCorrection(s *Sheet) bool {
	return len(s.Header) > 2 && s.Header[0] == RefHeading && s.Header[1] == ProblemHeading
}
