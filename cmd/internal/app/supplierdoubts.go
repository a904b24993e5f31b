package app

import (
	"fmt"
	"strings"

	"fitfill/catalog"
	"fitfill/compat/returns"
)

// fillDoubts says what the comparison hangs on: how much is missing to tell a
// supplier apart, what other assumptions would say, months that are missing and
// reasons that nobody sorted.
func (s *Shop) fillDoubts(a *SuppliersAnswer, st *supplierStudy) error {
	rows, err := s.ref.Table("returns_power")
	if err != nil {
		return err
	}
	power, err := returns.NewPowers(rows)
	if err != nil {
		return err
	}
	c, set := st.report.Headline, st.settings
	byName := map[string]returns.Standing{}
	for _, sup := range st.report.Suppliers {
		byName[sup.Name] = sup.Standing
	}
	for i := range a.Suppliers {
		sup := &a.Suppliers[i]
		standing := byName[sup.Supplier]
		sup.TooNew = standing.TooNew
		if standing.DependsOnSpread {
			sup.Spread = &OtherSpread{string(standing.WordNarrow), string(standing.WordWide)}
		}
		if standing.Word != returns.NotTold {
			continue
		}
		if n, ok := returns.PiecesNeeded(power, len(c.Compared), set.NeededRatio, set.NeededShare, standing.Expected, sup.Sold); ok && n.Pieces > sup.Sold {
			sup.Needs = &Needs{n.Ratio, round(n.Usual, 1), n.Pieces}
		}
	}
	gaps := returns.MissingMonths(st.books, set.GapChance)
	for _, g := range []struct {
		what string
		list []catalog.Date
	}{{"purchases", gaps.Sales}, {"returns", gaps.Returns}} {
		if len(g.list) > 0 {
			a.Gaps = append(a.Gaps, fmt.Sprintf("No %s are on file for %s: is a sheet missing? Until it is there the figures lean on what is.", g.what, monthsText(g.list)))
		}
	}
	if len(a.Unmapped) > 0 {
		a.SortReasons = howToSort()
	}
	return nil
}

// howToSort says how the garage sorts reasons of returns that nobody has sorted.
func howToSort() string {
	return "Sort them with a sheet of your own: the columns phrase and class (" + strings.Join(returns.ClassNames(), ", ") +
		"), one line a reason; then: fitfill import FILE --as table --table returns_reasons"
}

func monthsText(list []catalog.Date) string {
	const most = 6
	var parts []string
	for _, d := range list[:min(most, len(list))] {
		parts = append(parts, d.String()[:len("2006-01")])
	}
	if more := len(list) - most; more > 0 {
		parts = append(parts, fmt.Sprintf("and %d more months", more))
	}
	return strings.Join(parts, ", ")
}
