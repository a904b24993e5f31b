package web

import (
	"fmt"
	"net/http"
	"slices"
	"strings"
	"time"

	"fitfill/cmd/internal/app"
)

// officePage compares the suppliers.
type officePage struct {
	frame
	Rooms     []doorway
	Type      string
	Types     []choice
	AsOf      string
	Empty     *problemView
	Intervals *intervals
	Rows      []scoreRow
	Days      []int
	Curves    []curve
	Notes     []string
	Since     string
	Asked     bool // what changed was asked for
	Changed   []string
	Worsening []string
	Cost      *costView
	Labour    string // what an hour of it costs, as it was said here
	LabourSet string // and as the settings have it
	Rivals    []string
	NoRivals  *problemView // why two suppliers cannot be compared
	Names     []string
	CompareA  string
	CompareB  string
	Parts     []app.PartBack
	CSV       string
	Carried   []field
}

func (*officePage) template() string { return "office" }

// rooms are the pages of the Office.
var rooms = []struct{ name, path string }{
	{"Whose parts come back", "/office"}, {"Sheets", "/office/sheets"}, {"Held rows", "/office/held"}, {"Notes in lists", "/office/notes"}, {"What lists say wrong", "/office/audit"},
}

func roomsAt(path string) []doorway {
	var out []doorway
	for _, r := range rooms {
		out = append(out, doorway{r.name, r.path, r.path == path})
	}
	return out
}

// scoreRow is one supplier in the table.
type scoreRow struct {
	Supplier, Group, Words string
	Verdict                verdict
	Bought, Faulty         int
	Usual                  string
	Rate                   string
	Within                 []string
	Cost                   string
	Aside                  string
	Findings               []finding
}

// costView is what goes into a comeback.
type costView struct{ Says string }

// partsShown is how many parts stand in the list of those that come back most.
const partsShown = 12

// quarter is the stretch that what changed is told over, where no day is named.
const quarter = 92 * 24 * time.Hour

func askOffice(s *site, r *http.Request) (reply, error) {
	q := r.URL.Query()
	p := &officePage{frame: frame{Title: "Office", Door: "office"}, Rooms: roomsAt("/office"), Type: q.Get("type"), CompareA: q.Get("a"), CompareB: q.Get("b"), Carried: carried(q, "since", "a", "b", "labour"), Labour: q.Get("labour"), LabourSet: s.shop.Settings.LabourRate.Text}
	ask := app.SuppliersQuestion{Type: q.Get("type"), AsOf: q.Get("as_of"), Since: q.Get("since"), Curves: true}
	if p.CompareA != "" && p.CompareB != "" {
		ask.Compare = [2]string{p.CompareA, p.CompareB}
	}
	shop, err := s.shop.AtLabourRate(p.Labour)
	if err != nil {
		return reply{}, err
	}
	a, err := shop.Suppliers(r.Context(), ask)
	if err != nil && ask.Compare[0] != "" && !isTwin(r) && !nothingBought(err) {
		p.NoRivals = p.refused(err)
		ask.Compare = [2]string{}
		a, err = shop.Suppliers(r.Context(), ask)
	}
	if err != nil && nothingBought(err) && !isTwin(r) {
		p.Status = 0 // nothing was wrong with the question
		_, problem, hint := described(err)
		p.Empty = &problemView{Problem: problem, Hint: hint}
		return reply{a, p, ""}, nil
	}
	if err != nil {
		return reply{}, err
	}
	parts, err := shop.ComingBack(r.Context(), ask, partsShown)
	if err != nil {
		return reply{}, err
	}
	p.Parts, p.Types = parts.Parts, typesBought(r, parts.Types)
	p.fill(r, a)
	return reply{a, p, ""}, nil
}

func (p *officePage) fill(r *http.Request, a app.SuppliersAnswer) {
	q := r.URL.Query()
	p.AsOf, p.Notes, p.Changed, p.Worsening, p.Since = a.AsOf, slices.Concat(a.Gaps, a.Notes), a.Changed, a.Worsening, a.Since
	p.Asked = p.Since != ""
	if !p.Asked {
		if day, err := time.Parse(time.DateOnly, a.AsOf); err == nil {
			p.Since = day.Add(-quarter).Format(time.DateOnly)
		}
	}
	p.CSV = address("/office/suppliers.csv", with(q))
	p.Intervals = intervalsOf(a.Suppliers)
	for i, sup := range a.Suppliers {
		p.Names = append(p.Names, sup.Supplier)
		p.Rows = append(p.Rows, scoreRowOf(sup))
		if i == 0 {
			for _, w := range sup.Within {
				p.Days = append(p.Days, w.Days)
			}
		}
	}
	if p.CompareA == "" && len(p.Names) > 1 {
		p.CompareA, p.CompareB = p.Names[len(p.Names)-1], p.Names[0]
	}
	p.Curves = curvesOf(a.Suppliers)
	if c := a.Comeback; c != nil {
		p.Cost = &costView{fmt.Sprintf("A comeback of a %s: %.2g h at %.2f %s, %.2g L of coolant; the price of the new part aside.", c.Type, c.Hours, c.LabourRate, c.Currency, c.CoolantL)}
	} else if a.NoCost != "" {
		p.Cost = &costView{sentence(inPageWords(a.NoCost))}
	}
	if a.Compare != nil {
		for _, says := range a.Compare.Says {
			p.Rivals = append(p.Rivals, inPageWords(says))
		}
	}
}

// typesBought offers the part types that the figures can be narrowed to.
func typesBought(r *http.Request, types []string) []choice {
	q := with(r.URL.Query(), "a", "", "b", "")
	out := []choice{{Text: "all types", Href: address("/office", with(q, "type", ""))}}
	for _, t := range types {
		if t != "" {
			out = append(out, choice{Text: t, Href: address("/office", with(q, "type", t))})
		}
	}
	return out
}

func nothingBought(err error) bool { return strings.Contains(err.Error(), "no purchases are on file") }

func scoreRowOf(s app.SupplierScore) scoreRow {
	row := scoreRow{
		Supplier: s.Supplier, Group: s.Group, Words: s.Words, Bought: s.Sold, Faulty: s.Observed, Usual: fmt.Sprintf("%.1f", s.Expected), Rate: s.Unseen(),
		Findings: findingsOf(s.Findings),
	}
	if len(s.Findings) > 0 {
		row.Verdict = verdictOf(s.Findings[0].Outcome, s.Words)
	}
	if e := s.Rate(); e != nil {
		row.Rate = fmt.Sprintf("%.1f (%.1f–%.1f)", e.Est, e.Low, e.High)
	}
	for _, w := range s.Within {
		text := "–"
		if w.Est != nil {
			text = fmt.Sprintf("%.1f (%.1f–%.1f)", *w.Est, *w.Low, *w.High)
		}
		row.Within = append(row.Within, text)
	}
	if c := s.CostPerJob; c != nil {
		row.Cost = fmt.Sprintf("%.2f (%.2f–%.2f) %s", c.Est, c.Low, c.High, c.Currency)
	}
	var aside []string
	for _, n := range []struct {
		count int
		what  string
	}{{s.NotTheirFault, "not their fault"}, {s.NotConfirmed, "not confirmed in the bath"}, {s.SupplyErrors, "supplied or listed wrong"}, {s.Unknown, "for a reason not known"}, {s.Unmatched, "without a purchase on file"}} {
		if n.count > 0 {
			aside = append(aside, fmt.Sprintf("%d %s", n.count, n.what))
		}
	}
	row.Aside = strings.Join(aside, ", ")
	return row
}

// HasCost reports whether the cost of a fitted part is told.
func (p *officePage) HasCost() bool {
	return slices.ContainsFunc(p.Rows, func(r scoreRow) bool { return r.Cost != "" })
}
