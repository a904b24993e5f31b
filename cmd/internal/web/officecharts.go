package web

import (
	"fmt"
	"math"
	"strings"

	"fitfill/cmd/internal/app"
)

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
	Unseen         string // why nothing is drawn
	Drawn, Cut     bool   // the upper limit lies beyond the drawing
}

// The drawing in its own units: as wide as a phone, where all of it is to be
// seen; a desk shows it larger, with smaller letters.
const (
	intervalLeft, intervalRight = 104.0, 374.0
	intervalTop, intervalStep   = 10.0, 22.0
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
		row := intervalRow{Y: y, TextY: y + 4, Name: s.Supplier, Says: s.Supplier + ": " + s.Unseen(), Unseen: s.Unseen()}
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

// MidY is the height of the mark.
func (r intervalRow) MidY() float64 { return r.Y + 1 }
