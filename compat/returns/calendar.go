package returns

import (
	"slices"
	"time"

	"fitfill/catalog"
)

// Month is one calendar month of a supplier.
type Month struct {
	First catalog.Date
	Stretch
}

// months returns the first day of every month from that of first to that of
// last, and the one after.
func months(first, last catalog.Date) []catalog.Date {
	t := time.Unix(int64(first)*86400, 0).UTC()
	t = time.Date(t.Year(), t.Month(), 1, 0, 0, 0, 0, time.UTC)
	var out []catalog.Date
	for {
		d := catalog.Date(t.Unix() / 86400)
		out = append(out, d)
		if d > last {
			return out
		}
		t = t.AddDate(0, 1, 0)
	}
}

// ByMonth spreads every compared supplier's failures, observed and expected,
// over the calendar: O counts failures returned in the month, E sums over its
// pieces the steps d/Y of the part type's pooled cumulative hazard that fall
// into it. Sums over the months are Observed and Expected of the standings. It
// is by supplier, then month; suppliers not compared have none.
func (c Comparison) ByMonth() [][]Month {
	out := make([][]Month, len(c.Standings))
	if len(c.units) == 0 {
		return out
	}
	first, last := c.units[0].Sold, c.units[0].Sold
	for _, u := range c.units {
		first, last = min(first, u.Sold), max(last, u.Sold+catalog.Date(u.Exit))
	}
	starts := months(first, last)
	for _, s := range c.Compared {
		for _, day := range starts[:len(starts)-1] {
			out[s] = append(out[s], Month{First: day})
		}
	}
	hazard, horizon := c.cumulative()
	at := func(g, day int) float64 { return hazard[g][min(max(day, -1), horizon)+1] }
	for _, u := range c.units {
		if !u.seen() || hazard[u.PartType] == nil {
			continue
		}
		list := out[c.Compared[u.Supplier]]
		end := min(u.Exit, horizon)
		m, _ := slices.BinarySearch(starts, u.Sold+1)
		for m = max(m-1, 0); m < len(list) && int(starts[m]-u.Sold) <= end; m++ {
			from := max(u.Entry, int(starts[m]-u.Sold)-1)
			to := min(end, int(starts[m+1]-u.Sold)-1)
			if to > from {
				list[m].Expected += u.Weight * (at(u.PartType, to) - at(u.PartType, from))
			}
			if u.Event && u.Exit <= horizon && u.Exit == to {
				list[m].Observed += u.Weight
			}
		}
	}
	return out
}

// cumulative returns the pooled cumulative hazard of each part type by day,
// shifted by one so that day −1 has a place, and the last day of the table.
func (c Comparison) cumulative() (byType map[int][]float64, horizon int) {
	for _, r := range c.Table.Rows {
		horizon = max(horizon, r.Day)
	}
	byType = map[int][]float64{}
	for _, r := range c.Table.Rows {
		if byType[r.PartType] == nil {
			byType[r.PartType] = make([]float64, horizon+2)
		}
		byType[r.PartType][r.Day+1] = r.Failed / r.total()
	}
	for _, h := range byType {
		for i := 1; i < len(h); i++ {
			h[i] += h[i-1]
		}
	}
	return byType, horizon
}

// Split sums months before day into one stretch and the rest into another.
func Split(list []Month, day catalog.Date) (before, after Stretch) {
	for _, m := range list {
		into := &after
		if m.First < day {
			into = &before
		}
		into.Observed += m.Observed
		into.Expected += m.Expected
	}
	return before, after
}
