package importers

import (
	"fmt"
	"iter"

	"fitfill/catalog"
	"fitfill/catalog/units"
)

// The decimal marks of a column.
const (
	Comma = "comma"
	Point = "point"
)

// Column is one column of a sheet with the field that it fills and how its
// values are to be read. What is empty was neither said nor shown by a value.
type Column struct {
	Heading     string     `json:"heading"` // as in questions: "Price#2" is the second column of that heading
	Index       int        `json:"index"`
	Field       string     `json:"field"`
	Unit        units.Unit `json:"unit,omitempty"`         // of bare numbers
	Stated      bool       `json:"stated,omitempty"`       // most cells state their unit, so a bare number lacks its own
	Currency    string     `json:"currency,omitempty"`     // of bare amounts
	Per         string     `json:"per,omitempty"`          // what a price is for: a number of pieces, litre, pack; each where a person said so
	Decimal     string     `json:"decimal,omitempty"`      // comma or point
	Mixed       bool       `json:"mixed,omitempty"`        // the other mark stands as a decimal mark too, and never for thousands
	Dates       string     `json:"dates,omitempty"`        // dmy, mdy or ymd
	Percent     string     `json:"percent,omitempty"`      // of bare shares: hundred or fraction
	Arrows      string     `json:"arrows,omitempty"`       // of years: timeline or compare
	Pairs       string     `json:"pairs,omitempty"`        // of years: month or years
	PointZero   string     `json:"point_zero,omitempty"`   // of part numbers: strip or keep a ".0" at the end
	Fractions   string     `json:"fractions,omitempty"`    // of pieces bought and returned: measure or hold
	Minus       string     `json:"minus,omitempty"`        // of pieces returned: back, undo or hold
	Engines     string     `json:"engines,omitempty"`      // cells such as "KV20, KV22": list or one
	CheckDigits bool       `json:"check_digits,omitempty"` // of barcodes: most have a right check digit, so the others are wrong
	FromText    bool       `json:"from_text,omitempty"`    // of part types: the words of a description say it
	Pad         int        `json:"pad,omitempty"`          // part numbers of digits are filled up to that length with zeros
}

// Mapping says which columns of a sheet fill which fields. The caller keeps it
// per supplier as JSON, each version beside the earlier ones, and hands the last
// to Propose with the supplier's next sheet. Who confirmed it, and when, is for
// the caller to keep.
type Mapping struct {
	Kind      catalog.SheetKind `json:"kind"`
	Version   int               `json:"version"`   // 1 for a first mapping, one more for every change
	Signature string            `json:"signature"` // digest of the headings in their order
	Columns   []Column          `json:"columns"`
	Ignored   []string          `json:"ignored,omitempty"`  // set aside by a person, or empty
	Empty     []string          `json:"empty,omitempty"`    // those of Ignored that held nothing
	Settings  Settings          `json:"settings,omitempty"` // what a person fixed for this supplier
	Measured  Measured          `json:"measured"`
}

// Measured is what the values of a sheet were like, to notice columns that
// change places under their headings.
type Measured struct {
	SHA256 string           `json:"sha256,omitempty"` // of the sheet that was measured
	Rows   int              `json:"rows,omitempty"`
	Known  int              `json:"known_percent,omitempty"` // of the part numbers, how many were on file
	Prices map[string]int64 `json:"prices,omitempty"`        // median by field, in ten-thousandths
}

// SameReading reports whether two mappings read a sheet the same way, whatever
// their versions and measures.
func (m Mapping) SameReading(o Mapping) bool { return m.reading() == o.reading() }

// Question is something that Propose will not guess.
type Question struct {
	Code     string   `json:"code"` // stable short name
	Question string   `json:"question"`
	Examples []string `json:"examples,omitempty"` // lines that show what it is about
	Choices  []string `json:"choices"`
	Command  string   `json:"command"` // the flag that answers it
}

// Options are what a person said about a sheet, and what is on file of its
// supplier.
type Options struct {
	Maps     map[string]string // field -> heading
	Ignore   []string          // headings to set aside
	Accept   []string          // codes of questions that are answered with "go on"
	Saved    *Mapping          // what was confirmed for the supplier's last sheet
	Settings Settings

	// Known reports whether a part number's key (catalog.Key) is on file as this
	// supplier's. KnownNumbers are those numbers as they are written. Both may be
	// nil. Known is called from several goroutines at once.
	Known        func(key string) bool
	KnownNumbers iter.Seq[string]

	Today catalog.Date // dates of what has happened may not lie further ahead; 0: not looked at

	Corrected map[int][]string // rows as a person corrected them (Corrected.Rows); used by ReadWith
}

// fits reports as an error why a mapping does not belong to a sheet.
func (m Mapping) fits(s *Sheet) error {
	k := specOf(m.Kind)
	if k == nil {
		return fmt.Errorf("there is no kind of sheet called %q", m.Kind)
	}
	seen := map[string]string{}
	for _, c := range m.Columns {
		switch {
		case c.Index == len(s.Header) && c.Heading == SectionHeading:
		case c.FromText && c.Index >= 0 && c.Index < len(s.Header):
		case c.Index < 0 || c.Index >= len(s.Header) || s.columnName(c.Index) != c.Heading:
			return fmt.Errorf("%s: the mapping names a column %q that is not there: map the sheet's headings again", s.Name, c.Heading)
		case seen[c.Field] != "":
			return fmt.Errorf("%s: the columns %q and %q are both mapped to %s: keep one", s.Name, seen[c.Field], c.Heading, c.Field)
		}
		if _, ok := k.field(c.Field); !ok {
			return fmt.Errorf("%s: %q is not a field of a %s sheet", s.Name, c.Field, m.Kind)
		}
		seen[c.Field] = c.Heading
	}
	return nil
}
