package units

// YearRange is a half-open stretch [From, To) of model years, counted in half
// years from the year 0: 2004 is 4008, its second half ("2004.5") 4009. A zero
// From or To is an open end.
type YearRange struct{ From, To int32 }

// Year returns the range of the single model year y.
func Year(y int) YearRange { return YearRange{int32(2 * y), int32(2*y + 2)} }

// Years returns the range of the model years from to last, both included.
func Years(first, last int) YearRange { return YearRange{int32(2 * first), int32(2*last + 2)} }

// Overlaps reports whether the two ranges share any half year.
func (r YearRange) Overlaps(s YearRange) bool {
	return (r.To == 0 || s.From < r.To) && (s.To == 0 || r.From < s.To)
}

// Open reports whether the range states nothing at all.
func (r YearRange) Open() bool { return r.From == 0 && r.To == 0 }

// First returns the model year in which the range begins, 0 where that is open.
func (r YearRange) First() int { return int(r.From) / 2 }

// Last returns the last model year of the range, whole or in part, 0 where its
// end is open.
func (r YearRange) Last() int { return max(0, int(r.To)-1) / 2 }

// MonthRange is a half-open stretch [From, To) of calendar months of build,
// counted as 12·year + (month−1). A zero end is open. A build month is not a
// model year: neither is ever compared with the other.
type MonthRange struct{ From, To int32 }

// Open reports whether the range states nothing at all.
func (r MonthRange) Open() bool { return r.From == 0 && r.To == 0 }

// ModelYears is what a sheet says about years: model years (possibly with
// gaps, "92-94,96"), or months of build ("from 03/2004"). The zero value
// states nothing.
type ModelYears struct {
	Ranges []YearRange
	Built  MonthRange
}

// Stated reports whether anything was said about years.
func (m ModelYears) Stated() bool { return len(m.Ranges) > 0 || !m.Built.Open() }

// Covers reports whether the model year y lies in the statement wholly, and
// whether it lies in it only in part (a half year). A statement without model
// years covers neither.
func (m ModelYears) Covers(y int) (whole, part bool) {
	want := Year(y)
	for _, r := range m.Ranges {
		if !r.Overlaps(want) {
			continue
		}
		part = true
		if r.From <= want.From && (r.To == 0 || want.To <= r.To) {
			whole = true
		}
	}
	return whole, part
}
