package importers

import (
	"fmt"
	"strings"

	"fitfill/catalog"
)

// structure says what is wrong with the shape of a data record, if anything.
func (s *Sheet) structure(i int) *problem {
	rec := &s.Records[i]
	switch rec.Fault {
	case QuoteOpen:
		return &problem{code: "quote-open", why: "a quotation mark opens a cell and is never closed: take it out or close it"}
	case QuoteStray:
		return &problem{code: "quote-stray", why: "text stands right behind a closing quotation mark: double the marks inside the cell or take them out"}
	case QuoteBlock:
		return &problem{code: "quote-block", why: fmt.Sprintf("a quotation mark on line %d is closed only on line %d, and the lines between look like rows of their own: close it where the cell ends", rec.Line, rec.LastLine())}
	}
	want := len(s.Header)
	switch width := int(rec.Width); {
	case width == want:
	case width > want:
		if countFilled(s.Cells(i, nil)[want:]) > 0 {
			return &problem{code: "extra-cell", why: fmt.Sprintf("the row has %d cells where the heading has %d%s", width, want, s.extraHint(i))}
		}
	case width < s.needed():
		return &problem{code: "missing-cell", why: fmt.Sprintf("the row has %d cells where the heading has %d: add the missing separators", width, want)}
	}
	return nil
}

func (s *Sheet) extraHint(i int) string {
	if s.Delimiter == ',' {
		cells := s.Cells(i, nil)
		for j := 1; j < len(cells); j++ {
			if digitAt(cells[j-1], len(cells[j-1])-1) && len(cells[j]) == 2 && digitAt(cells[j], 0) && digitAt(cells[j], 1) {
				return ": it looks like a decimal comma in a sheet separated by commas; put such cells in quotation marks or export with semicolons"
			}
		}
	}
	return ": put cells that contain the separator in quotation marks"
}

// needed is the number of cells up to the last filled heading.
func (s *Sheet) needed() int {
	n := len(s.Header)
	for n > 0 && s.Header[n-1] == "" {
		n--
	}
	return n
}

// hold sets a record aside with its first problem and the count of others.
func (r *reading) hold(i int, p *problem, count int, number string) {
	rec := &r.sheet.Records[i]
	raw := r.sheet.Text(i)
	h := catalog.HeldRow{Line: int(rec.Line), Code: p.code, Reason: p.why, Raw: raw, Text: raw, Number: strings.Clone(number)}
	if p.field != "" {
		h.Column = r.plan.heading(p.field)
		h.Text = p.text
		if h.Text == "" {
			h.Text = r.cellOf(i, p.field)
		}
	}
	switch {
	case count == 2:
		h.Reason += " (one more problem in this row)"
	case count > 2:
		h.Reason += fmt.Sprintf(" (%d more problems in this row)", count-1)
	}
	r.report.Held = append(r.report.Held, h)
}

// cellOf returns the cell of record i that fills a field.
func (r *reading) cellOf(i int, field string) string {
	cells := r.sheet.Cells(i, nil)
	for _, c := range r.plan.columns {
		if c.field.name == field && c.Index < len(cells) {
			return trim(cells[c.Index])
		}
	}
	return ""
}
