package coolant

import (
	"slices"
	"strings"

	"fitfill/catalog"
	"fitfill/compat"
)

const checkFilter = "coolant filter"

// filterRow says what a filter with or without a charge does to some fills.
type filterRow struct {
	families    []int
	charge      string
	outcome     compat.Outcome
	first, says string
	row         catalog.RefRow
}

func (t *Tables) loadFilters(rows []catalog.RefRow) error {
	for _, r := range rows {
		f := filterRow{charge: r.Get("charge"), first: r.Get("first"), says: r.Get("says"), row: r}
		var err error
		if f.families, err = t.ids(r, "chemistries"); err != nil {
			return err
		}
		if err := f.outcome.UnmarshalText([]byte(r.Get("outcome"))); err != nil {
			return unreadable(r, "outcome", "is not an outcome")
		}
		t.filters = append(t.filters, f)
	}
	return nil
}

// Filter judges whether a coolant filter goes onto a fill: a charged one doses
// additives that some fills live on and that over-treat others. The worst of
// what the fill may be counts. Without a charge on its label nobody can say.
func (t *Tables) Filter(q Question, filter *catalog.Part) Answer {
	s := t.situation(&q)
	ans := Answer{Cautions: s.cautions(), Before: s.before(), Candidates: s.ids(s.fill.may), Poured: true}
	charge := filter.FilterCharge
	if s.ask != "" {
		return s.askFirst(ans)
	}
	if !charge.Known {
		ans.Outcome, ans.First = compat.CannotSay, "cannot say: charged or blank is not on its label"
		ans.Ask = "Is the filter charged or blank? Look at its label."
		return ans
	}
	ans.Outcome, ans.First = compat.CannotSay, "cannot say: nothing is on file of such filters"
	for n, i := range s.fill.may {
		row := slices.IndexFunc(t.filters, func(f filterRow) bool {
			return catalog.Fold(f.charge) == catalog.Fold(charge.Value) && slices.Contains(f.families, i)
		})
		if row < 0 {
			continue
		}
		f := &t.filters[row]
		if n > 0 && !f.outcome.Worse(ans.Outcome) && ans.Findings != nil {
			continue
		}
		says := f.says
		if len(s.fill.may) > 1 && f.outcome != compat.Yes {
			says = "At worst it is " + t.families[i].name + ". " + says
		}
		ans.Outcome, ans.First = f.outcome, f.first
		ans.Findings = []compat.Finding{{
			Check: checkFilter, Outcome: f.outcome, Grade: compat.CommonPractice, Says: strings.TrimSpace(says),
			Origin: append(cite(charge.Origin), compat.Cite(f.row)),
		}}
	}
	return ans
}
