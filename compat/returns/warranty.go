package returns

import (
	"fmt"
	"strconv"

	"fitfill/catalog"
)

// Warranty is how many days a supplier takes pieces back. An empty PartType
// covers all types that have no row of their own, an empty Supplier all suppliers
// that have none. Days below 0 say that there is no limit, as does no row at all.
type Warranty struct {
	Supplier string
	PartType string
	Days     int
	Row      catalog.RefRow // where it is stated
}

// How the table of warranties writes every supplier and no limit.
const (
	anySupplier = "any"
	noLimit     = "none"
)

// NewWarranties reads the table: supplier, part type and days in each row. A
// missing supplier, days that are neither a whole number from 1 on nor "none", or
// a second row for the same is an error that names the line.
func NewWarranties(rows []catalog.RefRow) ([]Warranty, error) {
	var out []Warranty
	stated := map[[2]string]bool{}
	for _, row := range rows {
		w := Warranty{Supplier: row.Get("supplier"), PartType: row.Get("part_type"), Days: -1, Row: row}
		same := [2]string{catalog.Fold(w.Supplier), catalog.Fold(w.PartType)}
		days, err := strconv.Atoi(row.Get("days"))
		switch said := catalog.Fold(row.Get("days")); {
		case same[0] == "":
			return nil, fmt.Errorf("table %s, line %d: the supplier is missing; %q stands for all that have no row of their own", row.Table, row.Line, anySupplier)
		case said != noLimit && (err != nil || days < 1):
			return nil, fmt.Errorf("table %s, line %d: %q is no number of days: write whole days such as 365, or %q", row.Table, row.Line, row.Get("days"), noLimit)
		case stated[same]:
			return nil, fmt.Errorf("table %s, line %d: the warranty of %s is stated twice", row.Table, row.Line, w.Supplier)
		case said != noLimit:
			w.Days = days
		}
		stated[same] = true
		if same[0] == anySupplier {
			w.Supplier = ""
		}
		out = append(out, w)
	}
	return out, nil
}

// warranty returns the days within which the supplier takes a part type back,
// −1 if there is no limit: by the row of both, else of the supplier, else of the
// type at any supplier, else of any.
func (m *matcher) warranty(supplier, partType int) int {
	days, closest := -1, -1
	for _, w := range m.books.Warranties {
		close := 0
		if w.Supplier != "" {
			if catalog.Fold(w.Supplier) != catalog.Fold(m.ledger.Suppliers[supplier]) {
				continue
			}
			close += 2
		}
		if w.PartType != "" {
			if catalog.Fold(w.PartType) != catalog.Fold(m.ledger.PartTypes[partType]) {
				continue
			}
			close++
		}
		if close >= closest {
			days, closest = w.Days, close
		}
	}
	return days
}
