package importers

import (
	"fmt"
	"strings"
)

// structure says what is wrong with the shape of a data record, if anything.
func (s *Sheet) structure(i int) *problem {
	if s.records.fault(i) == NoFault {
		return nil
	}
	return &problem{code: s.records.fault(i).Code(), why: s.faultReason(i)}
}

func (s *Sheet) faultReason(i int) string {
	r := s.records.at(i)
	switch r.Fault {
	case QuoteOpen:
		return "a quotation mark opens a cell and is never closed: take it out or close it"
	case QuoteStray:
		return "text stands right behind a closing quotation mark: double the marks inside the cell or take them out"
	case QuoteBlock:
		return fmt.Sprintf("a quotation mark on line %d is closed only on line %d, and the lines between look like rows of their own: close it where the cell ends", r.Line, r.LastLine())
	case LineTooLong:
		return fmt.Sprintf("the line is longer than %s; only its beginning is shown: look whether line ends are missing, or raise --set limit-line", sizeText(s.sizes.line))
	case BadEncoding:
		return s.encodingReason(i)
	case ControlChar:
		return "a cell holds a control character, which no text has: take it out, or export the sheet again"
	case FieldTooLong:
		return fmt.Sprintf("a cell is longer than %s: shorten it, or raise --set limit-field", sizeText(s.sizes.field))
	case TooManyCells:
		return fmt.Sprintf("the row has more than %d cells: look whether line ends are missing, or raise --set limit-columns", s.sizes.columns)
	case OtherTable:
		return "the row belongs to a second table with other columns: save that table as its own sheet and import it"
	case ShiftedCells:
		return s.shiftReason(i)
	case ExtraCell:
		return fmt.Sprintf("the row has %d cells where the heading has %d%s", r.Width, len(s.Header), s.extraHint(i))
	}
	return fmt.Sprintf("the row has %d cells where the heading has %d: add the missing separators", r.Width, len(s.Header))
}

// encodingReason shows what a line with bytes that are no letters may say.
func (s *Sheet) encodingReason(i int) string {
	if s.Encoding != utf8Name {
		return fmt.Sprintf("the line holds bytes that are no letter in %s: choose another encoding with --set encoding, or correct the line", s.Encoding)
	}
	line := s.content(i)
	if string(readable(line)) == string(line) {
		return "the line holds the sign for a letter that could not be read (U+FFFD): the letter is lost, ask for the row again"
	}
	return fmt.Sprintf("the line is not UTF-8 like the rest of the file; as windows-1252 it says %q, as windows-1250 %q: correct the line and save the sheet in UTF-8",
		shorten(string(readable(line)), 120), shorten(string(decodePage(line, "windows-1250")), 120))
}

func (s *Sheet) extraHint(i int) string {
	if s.Delimiter == ',' {
		cells := s.Cells(i, nil)
		for j := 1; j < len(cells); j++ {
			if digitAt(cells[j-1], len(cells[j-1])-1) && len(cells[j]) == 2 && digitAt(cells[j], 0) && digitAt(cells[j], 1) {
				return ": it looks like a decimal comma in a sheet separated by commas; put such cells in quotation marks or export with semicolons"
			}
			if thousandsCut(cells[j-1], cells[j]) {
				return ": it looks like a comma between thousands in a sheet separated by commas; put such cells in quotation marks or export with semicolons"
			}
		}
	}
	return ": put cells that contain the separator in quotation marks"
}

// thousandsCut reports whether two cells are a number cut at the comma between its
// thousands: "1" and "234.00".
func thousandsCut(a, b string) bool {
	whole, decimals, _ := strings.Cut(b, ".")
	return len(a) > 0 && len(a) < 4 && a[0] != '0' && onlyDigits(a) && len(whole) == 3 && onlyDigits(whole) && onlyDigits(decimals) && len(decimals) == 2
}
