package app

import (
	"context"
	"fmt"

	"fitfill/catalog"
	"fitfill/catalog/sqlite"
	"fitfill/compat/returns"
)

// supplierStudy is one look at the books: the rows, what became of each and
// what they say of the suppliers.
type supplierStudy struct {
	q        SuppliersQuestion // with the part type as the catalogue writes it
	settings returns.Settings
	names    map[string]string // folded name of a supplier → the one on file
	bought   *sqlite.BoughtLines
	back     []catalog.Return
	books    returns.Books // Ref of a row is its place in bought or back
	ledger   returns.Ledger
	report   returns.Report          // of the type asked for
	overall  returns.Comparison      // over all part types
	unsorted map[string]catalog.Date // reasons that nobody has sorted → the first day on which they stand
}

// study reads the books and judges the suppliers.
func (s *Shop) study(ctx context.Context, v *sqlite.View, q SuppliersQuestion) (*supplierStudy, error) {
	for _, d := range q.Days {
		if d < 1 {
			return nil, &UsageError{Problem: fmt.Sprintf("--days %d is no stretch of days", d), Hint: "it is at least 1, such as --days 30"}
		}
	}
	st := &supplierStudy{q: q}
	settings, reasons, err := s.returnTables(q)
	if err != nil {
		return nil, err
	}
	st.settings = settings
	if st.q.Type, err = s.partType(ctx, v, q.Type); err != nil {
		return nil, err
	}
	if st.names, err = supplierNames(ctx, v); err != nil {
		return nil, err
	}
	if st.bought, err = v.BoughtLines(ctx); err != nil {
		return nil, err
	}
	if st.back, err = v.Returns(ctx); err != nil {
		return nil, err
	}
	if st.books, err = s.books(ctx, v, st, reasons); err != nil {
		return nil, err
	}
	if len(st.books.Sales) == 0 && st.bought.Len() > 0 {
		return nil, &UsageError{Problem: "nothing was bought from " + q.From + " on", Hint: "the last purchase on file is of " + st.bought.Day(st.bought.Len()-1).String()}
	}
	if len(st.books.Sales) == 0 {
		return nil, &UsageError{Problem: "no purchases are on file", Hint: "import them: fitfill import FILE --as purchases (columns: date, supplier, number, quantity)"}
	}
	if err := asOf(q, &st.books, st.back); err != nil {
		return nil, err
	}
	return st, st.judge()
}

// judge matches the rows and scores the suppliers.
func (st *supplierStudy) judge() (err error) {
	st.ledger = returns.Match(st.books, st.settings)
	if st.q.Type == "" {
		st.report, err = returns.Judge(st.ledger, st.settings)
		st.overall = st.report.Headline
		return err
	}
	if st.report, err = returns.Judge(st.scored(), st.settings); err != nil {
		return err
	}
	st.overall, err = returns.Compare(st.ledger.Units, len(st.ledger.Suppliers), st.settings)
	return err
}

// asked reports whether a row is of the part type asked for.
func (st *supplierStudy) asked(f returns.Fate) bool {
	return st.q.Type == "" || catalog.Fold(st.ledger.PartTypes[f.PartType]) == catalog.Fold(st.q.Type)
}

// scored is the ledger of the part type asked for.
func (st *supplierStudy) scored() returns.Ledger {
	if st.q.Type == "" {
		return st.ledger
	}
	return st.ledger.Only(st.q.Type)
}

// curve returns the survival curve of a supplier's pieces of the type asked for.
func (st *supplierStudy) curve(name string) []returns.Step {
	var own []returns.Unit
	for _, u := range st.scored().Units {
		if st.ledger.Suppliers[u.Supplier] == name {
			own = append(own, u)
		}
	}
	return returns.Curve(own)
}
