package importers

import (
	"fmt"

	"fitfill/catalog"
	"fitfill/catalog/units"
)

// The decimal marks of a column.
const (
	Comma = "comma"
	Point = "point"
)

// Column is one column of a sheet with the field that it fills and how its
// values are to be read.
type Column struct {
	Heading  string     `json:"heading"` // as in questions: "Price#2" is the second column of that heading
	Index    int        `json:"index"`
	Field    string     `json:"field"`
	Unit     units.Unit `json:"unit,omitempty"`     // of bare numbers
	Currency string     `json:"currency,omitempty"` // of bare amounts
	Decimal  string     `json:"decimal,omitempty"`  // comma or point, empty where no value has a mark
	Dates    string     `json:"dates,omitempty"`    // dmy, mdy or ymd
}

// Mapping says which columns of a sheet fill which fields. The caller keeps it
// per supplier as JSON and hands it to Propose with the supplier's next sheet.
type Mapping struct {
	Kind     catalog.SheetKind `json:"kind"`
	Columns  []Column          `json:"columns"`
	Ignored  []string          `json:"ignored,omitempty"`  // set aside by a person, or empty
	Settings Settings          `json:"settings,omitempty"` // what a person fixed for this supplier
}

// Question is something that Propose will not guess.
type Question struct {
	Question string   `json:"question"`
	Choices  []string `json:"choices"`
	Command  string   `json:"command"` // the flag that answers it
}

// Options are what a person said about a sheet.
type Options struct {
	Maps     map[string]string // field -> heading
	Ignore   []string          // headings to set aside
	Saved    *Mapping          // what was confirmed for the supplier's last sheet
	Settings Settings
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
