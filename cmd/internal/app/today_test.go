package app

import (
	"testing"
	"time"
)

// A day is a day of the place where the garage stands, whatever day it is at
// Greenwich.
func TestTodayIsTheDayOfTheGarage(t *testing.T) {
	s := garage(t)
	for name, c := range map[string]struct {
		hours int
		now   string // at Greenwich
		today string
	}{
		"a morning in the east":  {12, "2026-03-04T20:00:00Z", "2026-03-05"},
		"an evening in the west": {-8, "2026-03-06T02:00:00Z", "2026-03-05"},
		"at Greenwich":           {0, "2026-03-05T12:00:00Z", "2026-03-05"},
	} {
		at, err := time.Parse(time.RFC3339, c.now)
		if err != nil {
			t.Fatal(err)
		}
		s.now = func() time.Time { return at.In(time.FixedZone("", c.hours*3600)) }
		if got := s.today().String(); got != c.today {
			t.Errorf("%s: today is %s, want %s", name, got, c.today)
		}
		if d, err := s.day("--date", c.today); err != nil || d != s.today() {
			t.Errorf("%s: the day itself is refused: %v", name, err)
		}
		if d, err := s.day("--date", ""); err != nil || d != s.today() {
			t.Errorf("%s: without a day it is %s (%v)", name, d, err)
		}
		if _, err := s.day("--date", "2026-03-06"); err == nil {
			t.Errorf("%s: tomorrow has come already", name)
		}
	}
}
