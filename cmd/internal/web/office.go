package web

import (
	"fmt"
	"math"
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
	Rivals    []string
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
	p := &officePage{frame: frame{Title: "Office", Door: "office"}, Rooms: roomsAt("/office"), Type: q.Get("type"), CompareA: q.Get("a"), CompareB: q.Get("b"), Carried: carried(q, "since", "a", "b")}
	ask := app.SuppliersQuestion{Type: q.Get("type"), AsOf: q.Get("as_of"), Since: q.Get("since"), Curves: true}
	if p.CompareA != "" && p.CompareB != "" {
		ask.Compare = [2]string{p.CompareA, p.CompareB}
	}
	a, err := s.shop.Suppliers(r.Context(), ask)
	if err != nil && len(q) == 0 && nothingBought(err) {
		_, problem, hint := described(err)
		p.Empty = &problemView{problem, hint}
		return reply{a, p, ""}, nil
	}
	if err != nil {
		return reply{}, err
	}
	parts, err := s.shop.ComingBack(r.Context(), ask, partsShown)
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
		p.Rivals = a.Compare.Says
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
		Supplier: s.Supplier, Group: s.Group, Words: s.Words, Bought: s.Sold, Faulty: s.Observed, Usual: fmt.Sprintf("%.1f", s.Expected), Rate: "too new to tell",
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

// intervals is the drawing of the shares with their limits.
type intervals struct {
	Height float64
	Ticks  []tick
	Rows   []intervalRow
}

type tick struct {
	X    float64
	Text string
}

// intervalRow is one supplier on the drawing.
type intervalRow struct {
	Y, TextY       float64
	X, From, Width float64
	Name, Says     string
	Drawn, Cut     bool // the upper limit lies beyond the drawing
}

// The drawing in its own units.
const (
	intervalLeft, intervalRight = 120.0, 590.0
	intervalTop, intervalStep   = 14.0, 30.0
	mostPercent                 = 100.0
)

func intervalsOf(list []app.SupplierScore) *intervals {
	most := 0.0
	for _, s := range list {
		if e := s.Rate(); e != nil {
			most = max(most, min(e.High, max(2*e.Est, 10)))
		}
	}
	if most == 0 {
		return nil
	}
	step := niceStep(most)
	most = min(mostPercent, math.Ceil(most/step)*step)
	x := func(pct float64) float64 { return tenth(intervalLeft + pct/most*(intervalRight-intervalLeft)) }
	v := &intervals{Height: intervalTop*2 + intervalStep*float64(len(list)) + 12}
	for pct := 0.0; pct <= most+1e-9; pct += step {
		v.Ticks = append(v.Ticks, tick{x(pct), fmt.Sprintf("%g", pct)})
	}
	for i, s := range list {
		y := intervalTop + intervalStep*(float64(i)+0.5)
		row := intervalRow{Y: y, TextY: y + 4, Name: s.Supplier, Says: s.Supplier + ": too new to tell"}
		if e := s.Rate(); e != nil {
			row.Drawn, row.X, row.From, row.Cut = true, x(e.Est), x(e.Low), e.High > most
			row.Width = x(min(e.High, most)) - row.From
			row.Says = fmt.Sprintf("%s: %.1f %%, between %.1f and %.1f", s.Supplier, e.Est, e.Low, e.High)
		}
		v.Rows = append(v.Rows, row)
	}
	return v
}

// niceStep is a step of 1, 2 or 5 that cuts a range into about five.
func niceStep(most float64) float64 {
	step := math.Pow(10, math.Floor(math.Log10(most)))
	for _, f := range []float64{0.2, 0.5, 1} {
		if most/(step*f) <= 6 {
			return step * f
		}
	}
	return step
}

func tenth(v float64) float64 { return math.Round(v*10) / 10 }

// curve is the share that came back over the days in service, one supplier's
// drawn heavy and the others' faint.
type curve struct {
	Name   string
	Line   string
	Others []string
	Says   string
	Top    string
}

// The drawing of one curve in its own units.
const curveWidth, curveHeight = 190.0, 86.0

func curvesOf(list []app.SupplierScore) []curve {
	most := 0.0
	for _, s := range list {
		for _, p := range s.Curve {
			most = max(most, p.Pct)
		}
	}
	if most == 0 {
		return nil
	}
	line := func(s app.SupplierScore) string {
		var b strings.Builder
		at := func(day int, pct float64) (x, y float64) {
			return tenth(float64(day) / app.RateDays * curveWidth), tenth(curveHeight - pct/most*curveHeight)
		}
		for i, p := range s.Curve {
			x, y := at(p.Day, p.Pct)
			if i == 0 {
				fmt.Fprintf(&b, "M%g %g", x, y)
			} else {
				fmt.Fprintf(&b, "H%gV%g", x, y)
			}
		}
		if len(s.Curve) > 0 {
			x, _ := at(s.CurveEnd, 0)
			fmt.Fprintf(&b, "H%g", x)
		}
		return b.String()
	}
	var out []curve
	for i, s := range list {
		if len(s.Curve) < 2 {
			continue
		}
		c := curve{Name: s.Supplier, Line: line(s), Top: fmt.Sprintf("%.0f %%", most)}
		last := s.Curve[len(s.Curve)-1]
		c.Says = fmt.Sprintf("%s: %.1f %% back after %d days; followed to day %d", s.Supplier, last.Pct, last.Day, s.CurveEnd)
		for j, other := range list {
			if j != i && len(other.Curve) > 1 {
				c.Others = append(c.Others, line(other))
			}
		}
		out = append(out, c)
	}
	return out
}

// AxisEnd is where the upright lines of the drawing end.
func (p *officePage) AxisEnd() float64 { return p.Intervals.Height - intervalTop - 8 }

// AxisText is the height of the figures under the drawing.
func (p *officePage) AxisText() float64 { return p.Intervals.Height - 6 }

// HasCost reports whether the cost of a fitted part is told.
func (p *officePage) HasCost() bool {
	return slices.ContainsFunc(p.Rows, func(r scoreRow) bool { return r.Cost != "" })
}

// MidY is the height of the mark.
func (r intervalRow) MidY() float64 { return r.Y + 1.5 }
