package returns

import "slices"

// RiskRow is one day on which a part of one type failed: how many failed and
// who had how many at risk.
type RiskRow struct {
	PartType int
	Day      int
	Failed   float64
	AtRisk   []float64 // by supplier
	FailedOf []float64 // by supplier, sums to Failed
}

// total returns the pieces at risk over all suppliers.
func (r RiskRow) total() float64 {
	var y float64
	for _, v := range r.AtRisk {
		y += v
	}
	return y
}

// Table compares suppliers on the same part type at the same age.
type Table struct {
	Rows      []RiskRow // by part type, then day
	Suppliers int
}

// RiskTable collects every part type and day up to horizon on which a piece
// failed. Units of later days count as at risk; their failures do not. The
// order of units does not matter.
func RiskTable(units []Unit, suppliers, horizon int) Table {
	byType := map[int][]Unit{}
	var types []int
	for _, u := range units {
		if len(byType[u.PartType]) == 0 {
			types = append(types, u.PartType)
		}
		byType[u.PartType] = append(byType[u.PartType], u)
	}
	slices.Sort(types)
	t := Table{Suppliers: suppliers}
	for _, g := range types {
		t.Rows = append(t.Rows, stratum(byType[g], g, suppliers, horizon)...)
	}
	return t
}

func stratum(units []Unit, partType, suppliers, horizon int) []RiskRow {
	days := exitDays(units, true)
	end, _ := slices.BinarySearch(days, horizon+1)
	days = days[:end]
	rows := make([]RiskRow, len(days))
	for i, day := range days {
		rows[i] = RiskRow{PartType: partType, Day: day, AtRisk: make([]float64, suppliers), FailedOf: make([]float64, suppliers)}
	}
	for _, u := range units {
		if !u.seen() {
			continue
		}
		from, to := u.span(days)
		for i := from; i < to; i++ {
			rows[i].AtRisk[u.Supplier] += u.Weight
		}
		if u.Event && u.Exit <= horizon {
			rows[to-1].Failed += u.Weight
			rows[to-1].FailedOf[u.Supplier] += u.Weight
		}
	}
	return rows
}

// Divided returns the table with every count divided by design.
func (t Table) Divided(design float64) Table {
	out := Table{Suppliers: t.Suppliers, Rows: make([]RiskRow, len(t.Rows))}
	for i, r := range t.Rows {
		out.Rows[i] = RiskRow{PartType: r.PartType, Day: r.Day, Failed: r.Failed / design,
			AtRisk: divided(r.AtRisk, design), FailedOf: divided(r.FailedOf, design)}
	}
	return out
}

func divided(v []float64, by float64) []float64 {
	out := make([]float64, len(v))
	for i := range v {
		out[i] = v[i] / by
	}
	return out
}
