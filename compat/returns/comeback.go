package returns

import (
	"fmt"

	"fitfill/catalog"
)

// Comeback is what a part that failed takes once more, besides the part.
type Comeback struct {
	Hours  float64 // of labour that nobody pays for
	Litres float64 // of coolant poured again
	Row    catalog.RefRow
}

// Comebacks is the table of comebacks by part type.
type Comebacks struct{ byType map[string]Comeback }

// anyType is the row for part types that have none of their own.
const anyType = "*"

// NewComebacks reads the table. A number that is missing or below zero, or no
// row for all other types, is an error that names the line.
func NewComebacks(rows []catalog.RefRow) (Comebacks, error) {
	c := Comebacks{byType: map[string]Comeback{}}
	for _, r := range rows {
		b := Comeback{Row: r}
		for column, slot := range map[string]*float64{"labour_hours": &b.Hours, "coolant_l": &b.Litres} {
			v, err := r.Float(column)
			if err != nil {
				return c, err
			}
			if v < 0 {
				return c, fmt.Errorf("table %s, line %d: %s is below zero", r.Table, r.Line, column)
			}
			*slot = v
		}
		name := r.Get("part_type")
		if name != anyType {
			name = catalog.Fold(name)
		}
		c.byType[name] = b
	}
	if _, ok := c.byType[anyType]; !ok {
		return c, fmt.Errorf("table of comebacks: a row with the part type %q is missing; it stands for all other types", anyType)
	}
	return c, nil
}

// Of returns the comeback of a part type.
func (c Comebacks) Of(partType string) Comeback {
	if b, ok := c.byType[catalog.Fold(partType)]; ok {
		return b
	}
	return c.byType[anyType]
}

// Rates are a garage's own prices, in one currency.
type Rates struct {
	Hour   float64 // of labour
	Litre  float64 // of coolant ready to pour
	Each   float64 // freight and handling
	Credit float64 // share of the part's price paid back, 0..1
}

// Cost returns what one failure of a part of that price costs:
// hours·hour + litres·litre + each + (1 − credit)·price. The price of the part
// fitted in its place is what the credit pays back.
func (b Comeback) Cost(r Rates, price float64) float64 {
	return b.Hours*r.Hour + b.Litres*r.Litre + r.Each + (1-r.Credit)*price
}
