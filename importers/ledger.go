package importers

import (
	"fmt"
	"iter"
)

// Span is one record in the ledger: where it lies in the sheet's own bytes
// (Sheet.File), on which physical lines, what it is and what became of it.
type Span struct {
	Offset    int64  `json:"offset"`
	Length    int64  `json:"length"`
	FirstLine int    `json:"first_line"`
	LastLine  int    `json:"last_line"`
	Class     string `json:"class"`   // dialect-hint, preamble, header, repeated-header, section, blank, footer or data
	Verdict   string `json:"verdict"` // imported or held for data, set-aside for the rest
	Reason    string `json:"reason"`  // code of the problem, or of what was passed over
}

// The verdicts of a span.
const (
	VerdictImported = "imported"
	VerdictHeld     = "held"
	VerdictSetAside = "set-aside"
)

// Ledger returns the spans of the sheet, end to end. Without a report a data
// row counts as imported unless its shape holds it.
func (s *Sheet) Ledger(report *Report) []Span {
	spans := make([]Span, 0, s.records.n)
	for span := range s.Spans(report) {
		spans = append(spans, span)
	}
	return spans
}

// Spans goes through the ledger without keeping it. A byte order mark belongs
// to the first span.
func (s *Sheet) Spans(report *Report) iter.Seq[Span] {
	held := map[int]string{}
	if report != nil {
		for _, h := range report.Held {
			held[h.Line] = h.Code
		}
	}
	return func(yield func(Span) bool) {
		off := int64(0)
		var next func() (int64, bool)
		if s.Encoding == twiceName {
			var stop func()
			next, stop = iter.Pull(s.lineLengths())
			defer stop()
		}
		for i := range s.records.n {
			r := s.records.at(i)
			length := int64(r.Length)
			switch {
			case next != nil:
				length = 0
				for range r.Lines {
					n, _ := next()
					length += n
				}
			case s.Encoding != utf8Name:
				length = sourceLength(s.text.slice(int(r.Offset), int(r.Offset)+int(r.Length)), s.Encoding)
			}
			if i == 0 {
				length += int64(s.mark)
			}
			if i == s.records.n-1 {
				length = int64(s.raw.size) - off // an odd byte at the end of UTF-16 counts once
			}
			span := Span{Offset: off, Length: length, FirstLine: int(r.Line), LastLine: r.LastLine(), Class: s.className(i), Verdict: VerdictSetAside}
			if r.Class == ClassData {
				span.Verdict, span.Reason = VerdictImported, r.Note.Code()
				code, ok := held[int(r.Line)]
				if report == nil {
					code, ok = r.Fault.Code(), r.Fault != NoFault
				}
				if ok {
					span.Verdict, span.Reason = VerdictHeld, code
				}
			}
			if !yield(span) {
				return
			}
			off += length
		}
	}
}

var spanClasses = [...]string{"data", "preamble", "header", "blank", "repeated-header", "footer", "section"}

func (s *Sheet) className(i int) string {
	class := s.records.class(i)
	switch {
	case s.records.note(i)&SepHint != 0:
		return "dialect-hint"
	case class == ClassTitle && s.records.fault(i) == NoFault:
		if n, _ := s.filledUpToTwo(i, s.content(i)); n == 0 {
			return "blank"
		}
	}
	return spanClasses[class]
}

// Counts sums up a ledger.
type Counts struct {
	Lines    int            `json:"lines"` // spans
	Bytes    int64          `json:"bytes"`
	Classes  map[string]int `json:"classes"`
	Imported int            `json:"imported"`
	Held     int            `json:"held"`
}

// CheckLedger counts spans and returns an error unless they lie end to end in
// size bytes and on lines without a gap (I1), data rows are imported or held
// (I2, with a report in the numbers of the report) and every span has a class
// (I3).
func CheckLedger(spans iter.Seq[Span], size int64, report *Report) (Counts, error) {
	c := Counts{Classes: map[string]int{}}
	line := 1
	for span := range spans {
		if span.Offset != c.Bytes || span.Length < 1 || span.FirstLine != line || span.LastLine < line {
			return c, ledgerError("line %d starts at byte %d, but byte %d on line %d is next", span.FirstLine, span.Offset, c.Bytes, line)
		}
		c.Lines, c.Bytes, line = c.Lines+1, c.Bytes+span.Length, span.LastLine+1
		c.Classes[span.Class]++
		switch {
		case span.Class == "data" && span.Verdict == VerdictImported:
			c.Imported++
		case span.Class == "data" && span.Verdict == VerdictHeld && span.Reason != "":
			c.Held++
		case span.Class == "data" || span.Verdict != VerdictSetAside || span.Class == "":
			return c, ledgerError("line %d is %q, %q for %q", span.FirstLine, span.Class, span.Verdict, span.Reason)
		}
	}
	sum := 0
	for _, n := range c.Classes {
		sum += n
	}
	switch {
	case c.Bytes != size:
		return c, ledgerError("%d of %d bytes are accounted for", c.Bytes, size)
	case c.Classes["data"] != c.Imported+c.Held || sum != c.Lines:
		return c, ledgerError("%d rows are %d imported and %d held, %d of %d lines have a class", c.Classes["data"], c.Imported, c.Held, sum, c.Lines)
	case report != nil && (report.RowsTaken != c.Imported || report.RowsHeld != c.Held):
		return c, ledgerError("%d rows are imported and %d held, but the ledger has %d and %d", report.RowsTaken, report.RowsHeld, c.Imported, c.Held)
	}
	return c, nil
}

func ledgerError(format string, args ...any) error {
	return fmt.Errorf("the lines of the sheet do not add up: "+format+"; nothing may be stored: report this as a fault of the program", args...)
}
