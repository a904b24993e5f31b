package returns

import (
	"math"
	"sort"
)

// Step is one day of a survival curve.
type Step struct {
	Day      int
	AtRisk   float64 // Y: pieces at risk on the day
	Failed   float64 // d: quality failures on it
	Left     float64 // pieces whose watch ends on it without a failure
	Survival float64 // S, share that has not failed by the end of the day
	SE       float64 // Greenwood's standard error of S; NaN once S is 0
	Hazard   float64 // Nelson-Aalen cumulative hazard
	HazardSE float64 // its standard error, √Σ d/Y²
}

// Curve returns the product-limit curve S(t) = Π(1 − d/Y) with one step for
// every day on which a piece leaves, rising. Failures come before censorings of
// the same day. Late entry and weights are taken as Unit says; units that were
// never watched are left out. Var S = S²·Σ d/(Y(Y − d)). Sources:
// "Nonparametric estimation from incomplete observations", 1958; "Nonparametric
// inference for a family of counting processes", 1978 (from memory).
func Curve(units []Unit) []Step {
	steps, _ := curve(units)
	return steps
}

// curve is Curve with the days of its steps as a calendar.
func curve(units []Unit) ([]Step, calendar) {
	cal := newCalendar(units, false, math.MaxInt)
	days := cal.days
	steps := make([]Step, len(days))
	change := make([]float64, len(days)+1)
	for i := range units {
		u := &units[i]
		if !u.seen() {
			continue
		}
		from, to := cal.span(u)
		change[from] += u.Weight
		change[to] -= u.Weight
		if u.Event {
			steps[to-1].Failed += u.Weight
		} else {
			steps[to-1].Left += u.Weight
		}
	}
	s, y, green, na, naVar := 1.0, 0.0, 0.0, 0.0, 0.0
	for i := range steps {
		y += change[i]
		d := steps[i].Failed
		s *= 1 - d/y
		green += d / (y * (y - d))
		na += d / y
		naVar += d / (y * y)
		steps[i].Day, steps[i].AtRisk, steps[i].Survival = days[i], y, s
		steps[i].SE = s * math.Sqrt(green)
		steps[i].Hazard, steps[i].HazardSE = na, math.Sqrt(naVar)
	}
	return steps, cal
}

// upTo returns the steps up to and including day.
func upTo(steps []Step, day int) []Step {
	return steps[:sort.Search(len(steps), func(i int) bool { return steps[i].Day > day })]
}
