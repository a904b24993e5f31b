package importers

// Class says what a record of a sheet is.
type Class uint8

// The classes of a record. Only data rows are read; the others are counted.
const (
	ClassData     Class = iota
	ClassTitle          // a line in front of the heading row
	ClassHeading        // the heading row, or one of its rows
	ClassBlank          // no cell is filled
	ClassRepeated       // the heading row again
	ClassFooter         // a total at the end of the sheet
	ClassSection        // one text alone between the rows: "Cooling – seals"
)

var classNames = [...]string{"data", "title", "heading", "blank", "repeated heading", "footer", "section"}

// String returns the class in plain words.
func (c Class) String() string { return classNames[c] }

// Fault says what is wrong with the shape of a record, so that it is held.
type Fault uint8

// The faults of a record.
const (
	NoFault      Fault = iota
	QuoteOpen          // a cell starts with a quote that is never closed on this row
	QuoteStray         // text stands between a closing quote and the separator
	QuoteBlock         // a quoted cell of several lines which look like rows themselves
	LineTooLong        // a physical line over the limit "limit-line"
	BadEncoding        // bytes that are no text in the encoding of the file
	ControlChar        // a control character inside a cell
	FieldTooLong       // a cell over the limit "limit-field"
	TooManyCells       // more cells than the limit "limit-columns"
	OtherTable         // the row belongs to a second table of other columns
	ExtraCell          // filled cells beyond the last heading
	MissingCell        // the row ends before the last heading
	ShiftedCells       // cells look like values of the columns beside their own
)

var faultCodes = [...]string{"", "quote-open", "quote-stray", "quote-block", "line-too-long", "encoding-error",
	"control-char", "field-too-long", "too-many-cells", "other-table", "extra-cell", "missing-cell", "cells-shifted"}

// Code returns the short name of the fault, as it stands in the ledger.
func (f Fault) Code() string { return faultCodes[f] }

// literal reports whether the quotes of the record are plain characters.
func (f Fault) literal() bool { return f == QuoteOpen || f == QuoteStray || f == QuoteBlock }

// Note says what was passed over in a record that is not held for it; several
// may be set at once.
type Note uint8

// The notes of a record.
const (
	ExtraEmpty  Note = 1 << iota // empty cells beyond the last heading
	TailTrimmed                  // the empty cells at the end were cut off, as was confirmed
	QuoteSpaced                  // blanks stand between a closing quote and the separator
	SepHint                      // the line "sep=;" that tells a spreadsheet the separator
	NoNote      Note = 0
)

// Code returns the short name of the first note, as it stands in the ledger.
func (n Note) Code() string {
	switch {
	case n&ExtraEmpty != 0:
		return "extra-empty"
	case n&TailTrimmed != 0:
		return "tail-trimmed"
	case n&QuoteSpaced != 0:
		return "quote-spaced"
	}
	return ""
}

// Record is one record of a sheet: where it lies in the sheet's text, line end
// included, and on which physical lines. The records of a sheet lie end to end
// and cover all of its text, which is its bytes behind a byte order mark, in
// UTF-8. Where a record lies in the bytes of the file is told by Spans.
type Record struct {
	Offset int64
	Length uint32
	Line   uint32 // first physical line, 1 is the first of the file
	Width  uint16 // number of cells
	Lines  uint16 // number of physical lines
	Class  Class
	Fault  Fault
	Note   Note
}

// LastLine returns the last physical line of the record.
func (r Record) LastLine() int { return int(r.Line) + int(r.Lines) - 1 }
