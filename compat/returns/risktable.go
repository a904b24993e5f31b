package returns

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
	t := Table{Suppliers: suppliers}
	var fails [][]bool
	for i := range units {
		u := &units[i]
		if u.PartType >= len(fails) {
			fails = append(fails, make([][]bool, u.PartType+1-len(fails))...)
		}
		if u.Event && u.Exit <= horizon && u.seen() {
			if fails[u.PartType] == nil {
				fails[u.PartType] = make([]bool, horizon+1)
			}
			fails[u.PartType][u.Exit] = true
		}
	}
	strata := make([]*stratum, len(fails))
	for g, days := range fails {
		if days != nil {
			strata[g] = newStratum(days, suppliers)
		}
	}
	for i := range units {
		if u := &units[i]; strata[u.PartType] != nil && u.seen() {
			strata[u.PartType].add(u, horizon)
		}
	}
	for g, st := range strata {
		if st != nil {
			t.Rows = append(t.Rows, st.rows(g)...)
		}
	}
	return t
}

// stratum gathers the rows of one part type. Pieces at risk are kept as changes
// from day to day and summed up once.
type stratum struct {
	cal       calendar
	suppliers int
	change    []float64 // by day of the calendar, then supplier
	failed    []float64
}

func newStratum(fails []bool, suppliers int) *stratum {
	st := &stratum{suppliers: suppliers}
	st.cal.from = make([]int32, 0, len(fails))
	for day, yes := range fails {
		st.cal.from = append(st.cal.from, int32(len(st.cal.days)))
		if yes {
			st.cal.days = append(st.cal.days, day)
		}
	}
	n := (len(st.cal.days) + 1) * suppliers
	st.change, st.failed = make([]float64, n), make([]float64, n)
	return st
}

func (st *stratum) add(u *Unit, horizon int) {
	from, to := st.cal.span(u)
	if from == to {
		return
	}
	st.change[from*st.suppliers+u.Supplier] += u.Weight
	st.change[to*st.suppliers+u.Supplier] -= u.Weight
	if u.Event && u.Exit <= horizon {
		st.failed[(to-1)*st.suppliers+u.Supplier] += u.Weight
	}
}

func (st *stratum) rows(partType int) []RiskRow {
	rows := make([]RiskRow, len(st.cal.days))
	at := st.change
	for i := range rows {
		own := at[i*st.suppliers : (i+1)*st.suppliers]
		if i > 0 {
			for s := range own {
				own[s] += at[(i-1)*st.suppliers+s]
			}
		}
		r := RiskRow{PartType: partType, Day: st.cal.days[i], AtRisk: own, FailedOf: st.failed[i*st.suppliers : (i+1)*st.suppliers]}
		for _, f := range r.FailedOf {
			r.Failed += f
		}
		rows[i] = r
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
