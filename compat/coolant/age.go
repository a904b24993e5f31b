package coolant

import (
	"fmt"
	"math"

	"fitfill/compat"
)

// Due says whether a fill has to be changed already.
type Due string

const (
	NotDue   Due = ""        // not yet, or nobody knows how old it is
	MaybeDue Due = "perhaps" // the shortest life of what it may be is over
	DueNow   Due = "now"     // the longest life of everything that it may be is over
)

// age returns how long the fill has been in there, in months: as told, else by
// the log's last change, after which all of it is at least so old.
func (s *situation) age() (months float64, known bool) {
	f := s.fill.fluid
	if f.AgeMonths.Known {
		return f.AgeMonths.Value, f.AgeMonths.Value > 0
	}
	return f.ChangedMonths.Value, f.ChangedMonths.Known && f.ChangedMonths.Value > 0
}

// families are those that the fill may be or is made of.
func (s *situation) families() []int {
	var list []int
	for _, comp := range s.fill.mixed {
		list = append(list, comp.family)
	}
	if !s.fill.knownMix() {
		list = append(list, s.fill.may...)
	}
	return list
}

// shortest returns the shortest usual life of some families in months; 0 where
// their labels say it.
func (s *situation) shortest(list []int) int {
	shortest := 0
	for _, i := range list {
		if m := s.t.families[i].months; m > 0 && (shortest == 0 || m < shortest) {
			shortest = m
		}
	}
	return shortest
}

// life returns the longest that a fill may usually stay in, in months, and of
// which family that is: by a log that of its largest part, which no unknown rest
// prolongs; else the longest of everything that it may be, family -1 where that
// is several. Not known where a label says it.
func (s *situation) life() (months, family int, known bool) {
	list := s.fill.may
	if len(s.fill.mixed) > 0 {
		list = []int{mostOf(s.fill.mixed)}
	}
	for _, i := range list {
		m := s.t.families[i].monthsLong
		if m == 0 {
			return 0, -1, false
		}
		months = max(months, m)
	}
	if len(list) != 1 {
		return months, -1, len(list) > 0
	}
	return months, list[0], true
}

// toNextChange is the time to the next change: the shortest life of everything
// that the fill may be, less its age, because topping up makes no old coolant
// new; and where the bottle shortens it, no more than the bottle's own, counted
// from today. 0 and not due: the label says. Common practice of the trade.
func (s *situation) toNextChange(c chemistry) (months int, due Due) {
	months = s.shortest(append(s.families(), s.fill.may...))
	if age, known := s.age(); known && months > 0 {
		left := math.Floor(float64(months) - age + 1e-9)
		if months = max(0, int(left)); left <= 0 {
			due = MaybeDue
		}
		if s.overdue() {
			due = DueNow
		}
	}
	if c.outcome == compat.Caution || s.t.is(&s.fill, waterID) {
		if own := s.shortest(s.add.may); own > 0 && due == NotDue && (months == 0 || own < months) {
			months = own
		}
	}
	return months, due
}

// overdue reports whether the fill is older than its longest life.
func (s *situation) overdue() bool {
	age, known := s.age()
	life, _, sure := s.life()
	return known && sure && age > float64(life)
}

// overdueSays words a fill that should have been changed.
func (s *situation) overdueSays() string {
	age, _ := s.age()
	life, family, _ := s.life()
	what := "whatever it is, it is"
	if family >= 0 {
		what = s.t.families[family].name + " is"
	}
	return fmt.Sprintf("It is %s old: %s changed after %s at the latest. Change it.", months(age), what, months(float64(life)))
}

func months(m float64) string {
	if years := math.Floor(m) / monthsAYear; years > 1 && years == math.Floor(years) {
		return fmt.Sprintf("%.0f years", years)
	}
	return fmt.Sprintf("%.0f months", math.Floor(m))
}

const monthsAYear = 12
