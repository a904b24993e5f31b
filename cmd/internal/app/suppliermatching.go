package app

import (
	"fmt"
	"strings"

	"fitfill/compat/returns"
)

// Matching says how much hangs on the guess which purchase a return is of,
// where neither a document nor a day of purchase names one.
type Matching struct {
	GuessedPct float64      `json:"guessed_pct"` // pieces back that were taken from the oldest open purchase
	Changes    []OtherGroup `json:"changes"`     // suppliers that would stand elsewhere, taken from the newest
}

// OtherGroup is where a supplier would stand if returns came from the newest
// purchase that they can be of.
type OtherGroup struct {
	Supplier    string `json:"supplier"`
	Group       string `json:"group"`
	Words       string `json:"words"`
	GroupNewest string `json:"group_newest"`
	WordsNewest string `json:"words_newest"`
}

// matching judges once more with the newest purchase in place of the oldest.
func (st *supplierStudy) matching() (*Matching, error) {
	m := &Matching{GuessedPct: round(100*st.ledger.OldestShare, 1), Changes: []OtherGroup{}}
	if st.ledger.OldestShare == 0 {
		return m, nil
	}
	other := *st
	other.books.LastInFirstOut = true
	other.ledger = returns.Match(other.books, other.settings)
	report, err := returns.Judge(other.scored(), other.settings)
	if err != nil {
		return nil, err
	}
	for i, s := range st.report.Suppliers {
		now, newest := s.Standing, report.Suppliers[i].Standing
		if now.Group != newest.Group || now.Word != newest.Word {
			m.Changes = append(m.Changes, OtherGroup{s.Name, now.Group, string(now.Word), newest.Group, string(newest.Word)})
		}
	}
	return m, nil
}

// Says words the changes; empty where there are none.
func (m *Matching) Says() string {
	var parts []string
	for _, c := range m.Changes {
		parts = append(parts, fmt.Sprintf("%s %s (now %s)", c.Supplier, grouped(c.GroupNewest, c.WordsNewest), grouped(c.Group, c.Words)))
	}
	if len(parts) == 0 {
		return ""
	}
	return fmt.Sprintf("No paper says which purchase %.0f in 100 of the pieces back are of: they were taken from the oldest. Taken from the newest: %s.",
		m.GuessedPct, strings.Join(parts, "; "))
}

func grouped(group, words string) string { return strings.TrimPrefix(group+": ", ": ") + words }
