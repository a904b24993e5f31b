package app

import (
	"context"

	"fitfill/catalog/sqlite"
	"fitfill/catalog/units"
)

// yearsOnFile returns the first and the last model year that a list or a sheet of
// the garage names; none is 0, 0. An open end names no year.
func yearsOnFile(ctx context.Context, v *sqlite.View) (from, to int, err error) {
	years, err := sqlite.Keep(v, "years on file", func() (years [2]int, err error) {
		all, err := v.ModelYears(ctx)
		if err != nil {
			return years, err
		}
		families, err := v.Families(ctx)
		for _, f := range families {
			all = append(all, f.Years.Value)
		}
		first, last := span(all)
		return [2]int{first, last}, err
	})
	return years[0], years[1], err
}

// span returns the first and the last year of all ranges.
func span(all []units.ModelYears) (first, last int) {
	for _, m := range all {
		for _, r := range m.Ranges {
			for _, year := range []int{r.First(), r.Last()} {
				if year > 0 && (first == 0 || year < first) {
					first = year
				}
				last = max(last, year)
			}
		}
	}
	return first, last
}
