package app

import (
	"fmt"
	"math/rand/v2"
	"slices"
	"strings"

	"fitfill/catalog"
	"fitfill/compat"
	"fitfill/compat/returns"
)

// SupplierRows are the rows behind one supplier's figures.
type SupplierRows struct {
	Supplier  string         `json:"supplier"`
	ByType    []TypeCount    `json:"by_type"`
	Disagree  *Disagreement  `json:"types_disagree"` // nil: one rate may fit all part types
	Purchases RowSum         `json:"purchases"`
	Returns   RowSum         `json:"returns"`
	Remarks   []Remark       `json:"remarks"`
	Back      []SupplierRow  `json:"back"`      // every row of a return
	SetAside  []SupplierRow  `json:"set_aside"` // purchases that do not count
	Counts    map[string]int `json:"counted_as"`
	Matching  *Matching      `json:"matching"` // of the returns of all suppliers
}

// TypeCount is one supplier's count of one part type.
type TypeCount struct {
	Type     string  `json:"type"`
	Sold     int     `json:"sold"`
	Observed int     `json:"observed_failures"`
	Expected float64 `json:"expected_failures"`

	Shape *TypeShape `json:"shape"` // when they fail; nil with too few failures
	Cost  *JobCost   `json:"cost_per_job"`
}

// TypeShape says when parts fail that were sound on arrival.
type TypeShape struct {
	Estimate        // of the Weibull shape; under 1 early, over 1 worn out
	Failed   int    `json:"failures_after_arrival"`
	Words    string `json:"words"`
}

// Disagreement says that a supplier's part types do not share one rate.
type Disagreement struct {
	ChiSquare float64 `json:"chi_square"`
	P         float64 `json:"p_by_chance"`
	Says      string  `json:"says"`
}

// RowSum says what became of rows: Read = Used + Flagged + SetAside.
type RowSum struct {
	Read     int `json:"rows_read"`
	Used     int `json:"rows_used"`
	Flagged  int `json:"rows_used_with_remark"`
	SetAside int `json:"rows_set_aside"`
}

// Remark is a remark with the number of rows that carry it.
type Remark struct {
	Code string `json:"code"`
	Rows int    `json:"rows"`
	Says string `json:"says"`
}

// SupplierRow is one row of the books.
type SupplierRow struct {
	At        compat.Evidence `json:"at"`
	Date      string          `json:"date"`
	Number    string          `json:"number"`
	Type      string          `json:"type"`
	Quantity  float64         `json:"quantity"`
	Reason    string          `json:"reason,omitempty"`
	Note      string          `json:"note,omitempty"`
	CountedAs string          `json:"counted_as"`
	Remarks   []Remark        `json:"remarks,omitempty"`
	From      []BoughtAt      `json:"bought,omitempty"`
}

// BoughtAt is the purchase that pieces of a return came from.
type BoughtAt struct {
	At     compat.Evidence `json:"at"`
	Date   string          `json:"date"`
	Pieces int             `json:"pieces"`
	Days   int             `json:"days"`
	By     string          `json:"found_by"`
}

// What a return counts as, in the order in which they are shown.
const (
	countedFaulty   = "faulty"
	countedLate     = "faulty, outside the time that counts"
	countedSound    = "not confirmed by a test"
	countedSupply   = "supplied or listed wrong"
	countedNeutral  = "not their fault"
	countedUnknown  = "for a reason not known"
	countedNoSale   = "without a purchase on file"
	countedSetAside = "set aside"
)

// CountedAs lists what a return can count as, in the order for showing.
var CountedAs = []string{countedFaulty, countedLate, countedSound, countedSupply, countedNeutral, countedUnknown, countedNoSale, countedSetAside}

func countedAs(f returns.ReturnFate, class returns.Class) string {
	switch {
	case f.Has(returns.CoreLine):
		return countedNeutral
	case f.Unmatched > 0 && len(f.Sales) == 0:
		return countedNoSale
	case f.Status == returns.SetAside:
		return countedSetAside
	case class == returns.SupplyError:
		return countedSupply
	case class == returns.NotConfirmed:
		return countedSound
	case class == returns.Neutral:
		return countedNeutral
	case class == returns.UnknownReason:
		return countedUnknown
	case f.Has(returns.OutOfWarranty) || f.Has(returns.BeforeRecording):
		return countedLate
	}
	return countedFaulty
}

// explain collects the rows of one supplier, known by any of its names.
func (st *supplierStudy) explain(name string, money pricing) (*SupplierRows, error) {
	at, err := st.supplierNamed(name)
	if err != nil {
		return nil, err
	}
	out := &SupplierRows{Supplier: st.ledger.Suppliers[at], Remarks: []Remark{}, Back: []SupplierRow{}, SetAside: []SupplierRow{}, Counts: map[string]int{}}
	codes := map[returns.Code]int{}
	count := func(sum *RowSum, f returns.Fate) {
		sum.Read++
		switch f.Status {
		case returns.Used:
			sum.Used++
		case returns.Flagged:
			sum.Flagged++
		default:
			sum.SetAside++
		}
		for _, c := range f.Codes.List() {
			codes[c]++
		}
	}
	for i, f := range st.ledger.Sales {
		if int(f.Supplier) != at || !st.asked(f) {
			continue
		}
		count(&out.Purchases, f)
		if f.Status == returns.SetAside {
			p := st.bought.At(st.books.Sales[i].Ref)
			out.SetAside = append(out.SetAside, SupplierRow{
				At: compat.From(p.Origin), Date: p.Date.String(), Number: p.Number, Type: st.ledger.PartTypes[f.PartType],
				Quantity: p.Quantity.Float(), CountedAs: countedSetAside, Remarks: remarks(f.Codes),
			})
		}
	}
	for i, f := range st.ledger.Returns {
		if int(f.Supplier) != at || !st.asked(f.Fate) {
			continue
		}
		count(&out.Returns, f.Fate)
		row := st.returnRow(i)
		out.Counts[row.CountedAs]++
		out.Back = append(out.Back, row)
	}
	for _, c := range st.ledger.Counts() {
		if codes[c.Code] > 0 {
			out.Remarks = append(out.Remarks, Remark{c.Code.String(), codes[c.Code], c.Code.Says()})
		}
	}
	out.ByType = st.byType(at, money)
	out.Disagree = st.disagree(out.ByType)
	out.Matching, err = st.matching()
	return out, err
}

func (st *supplierStudy) returnRow(i int) SupplierRow {
	f, b := st.ledger.Returns[i], st.books.Returns[i]
	r := st.back[b.Ref]
	row := SupplierRow{
		At: compat.From(r.Origin), Date: r.Date.String(), Number: r.Number, Type: st.ledger.PartTypes[f.PartType],
		Quantity: r.Quantity.Float(), Reason: r.Reason, Note: r.Note, CountedAs: countedAs(f, b.Class), Remarks: remarks(f.Codes),
	}
	for _, s := range f.Sales {
		p := st.bought.At(st.books.Sales[s.Sale].Ref)
		row.From = append(row.From, BoughtAt{At: compat.From(p.Origin), Date: p.Date.String(), Pieces: s.Pieces, Days: s.Days, By: string(s.Rule)})
	}
	return row
}

func remarks(codes returns.Codes) []Remark {
	var out []Remark
	for _, c := range codes.List() {
		out = append(out, Remark{c.String(), 1, c.Says()})
	}
	return out
}

// byType sets observed beside expected failures for every part type of one
// supplier, most pieces first.
func (st *supplierStudy) byType(supplier int, money pricing) []TypeCount {
	out := []TypeCount{}
	units := map[int][]returns.Unit{}
	for _, u := range st.ledger.Units {
		if u.Supplier == supplier {
			units[u.PartType] = append(units[u.PartType], u)
		}
	}
	c := st.report.Headline
	column := slices.Index(c.Compared, supplier)
	for _, t := range st.ledger.Tallies {
		name := st.ledger.PartTypes[t.PartType]
		if t.Supplier != supplier || st.q.Type != "" && catalog.Fold(name) != catalog.Fold(st.q.Type) {
			continue
		}
		n := TypeCount{Type: name, Sold: t.Sold, Cost: money.jobCost(st, supplier, t.PartType)}
		if shape := returns.WhenTheyFail(units[t.PartType], st.settings); shape.Word != returns.FewToShape {
			n.Shape = &TypeShape{estimate(shape.Weibull.Profile, 2), int(shape.Failed), string(shape.Word)}
		}
		if column >= 0 {
			observed, expected := c.Table.ByType(column, t.PartType)
			n.Observed, n.Expected = int(observed), round(expected, 2)
		}
		out = append(out, n)
	}
	slices.SortStableFunc(out, func(a, b TypeCount) int { return b.Sold - a.Sold })
	return out
}

// disagreeSeed begins the draws of the test of part types; it is fixed so that
// the same books have the same answer.
const disagreeSeed = 20260101

// disagree tests whether one relative rate fits all part types of a supplier.
func (st *supplierStudy) disagree(types []TypeCount) *Disagreement {
	var observed, expected []float64
	var worst string
	var over float64
	for _, t := range types {
		observed, expected = append(observed, float64(t.Observed)), append(expected, t.Expected)
		if more := float64(t.Observed) - t.Expected; more > over {
			worst, over = fmt.Sprintf("most of all %s, %d faulty where %.1f were usual", t.Type, t.Observed, t.Expected), more
		}
	}
	x, p := returns.TypesDisagree(observed, expected, rand.New(rand.NewPCG(disagreeSeed, 0)).Float64)
	if p >= st.settings.TypesDisagree {
		return nil
	}
	return &Disagreement{round(x, 2), round(p, 4), "Its part types fail unlike each other, " + worst + ": ask for one type."}
}

// supplierNamed returns the place in the ledger of a supplier known by any of
// its names. A name that is in no purchase or return is a UsageError.
func (st *supplierStudy) supplierNamed(name string) (int, error) {
	folded := catalog.Fold(name)
	if on, ok := st.names[folded]; ok {
		folded = catalog.Fold(on)
	}
	for i, n := range st.ledger.Suppliers {
		if catalog.Fold(n) == folded {
			return i, nil
		}
	}
	return 0, &UsageError{
		Problem: "nothing was bought from a supplier called " + name,
		Hint:    nearestHint(name, st.ledger.Suppliers, "known are: "+strings.Join(st.ledger.Suppliers, ", ")),
	}
}
