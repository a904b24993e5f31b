package importers

// Class says what a record of a sheet is.
type Class uint8

// The classes of a record. Only data rows are read; the others are counted.
const (
	ClassData     Class = iota
	ClassTitle          // a line in front of the heading row
	ClassHeading        // the heading row
	ClassBlank          // no cell is filled
	ClassRepeated       // the heading row again
	ClassFooter         // a total at the end of the sheet
)

var classNames = [...]string{"data", "title", "heading", "blank", "repeated heading", "footer"}

// String returns the class in plain words.
func (c Class) String() string { return classNames[c] }

// Fault says what is wrong with the quotes of a record.
type Fault uint8

// The faults of a record.
const (
	NoFault    Fault = iota
	QuoteOpen        // a cell starts with a quote that is never closed on this row
	QuoteStray       // text stands between a closing quote and the separator
	QuoteBlock       // a quoted cell of several lines which look like rows themselves
)

// Record is one record of a sheet: where it lies in the bytes, line end
// included, and on which physical lines. The records of a sheet lie end to end
// and cover all of its text. One record takes 24 bytes.
type Record struct {
	Offset int64
	Length uint32
	Line   uint32 // first physical line, 1 is the first of the file
	Width  uint16 // number of cells
	Lines  uint16 // number of physical lines
	Class  Class
	Fault  Fault
}

// LastLine returns the last physical line of the record.
func (r Record) LastLine() int { return int(r.Line) + int(r.Lines) - 1 }
