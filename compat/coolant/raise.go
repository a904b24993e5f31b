package coolant

import (
	"errors"
	"fmt"
	"math"

	"fitfill/catalog/units"
)

// ErrNotThatWay is returned where a strength cannot be reached with what is to
// be poured.
var ErrNotThatWay = errors.New("that strength cannot be reached with it")

// DrainToReach returns how much to drain from a full system and replace so
// that its strength goes from now to target, all in vol % as poured:
// d = V·(ct - c)/(cr - c), with what is refilled at cr. ErrNotThatWay where cr
// lies on the wrong side or not beyond the target.
func DrainToReach(system units.Volume, now, target, refill units.Percent) (units.Volume, error) {
	c, ct, cr := now.Percents(), target.Percents(), refill.Percents()
	if c == ct {
		return units.Volume{}, nil
	}
	part := (ct - c) / (cr - c)
	if math.IsNaN(part) || part < 0 || part > 1 {
		return units.Volume{}, ErrNotThatWay
	}
	return system.Scale(part), nil
}

// AddToReach returns how much to add without draining: a = V·(ct - c)/(cr - ct).
// ErrNotThatWay where what is added is not beyond the target.
func AddToReach(fill units.Volume, now, target, add units.Percent) (units.Volume, error) {
	c, ct, cr := now.Percents(), target.Percents(), add.Percents()
	if c == ct {
		return units.Volume{}, nil
	}
	part := (ct - c) / (cr - ct)
	if math.IsNaN(part) || math.IsInf(part, 0) || part < 0 {
		return units.Volume{}, ErrNotThatWay
	}
	return fill.Scale(part), nil
}

// mend says how to bring the system, after a litres are poured, to the
// strength that the coldest day asks for, or down from over-strength; "" where
// it is right or a fact is missing.
func (s *situation) mend(a float64) string {
	c, ok := s.charge(a)
	cold := s.cold(a)
	full := s.vol.before(a) + a
	if !ok || s.special() || s.vol.perLitre || s.condemned() || !cold.weak && !cold.over || full <= 0 {
		return ""
	}
	show, now := s.q.Show, s.t.Strength(c)
	with, what := units.Percents(s.t.lim.concentrate), "concentrate"
	var target units.Percent
	if cold.over {
		with, what = units.Percent{}, "water"
		target = units.Percents(s.t.limits["flush_strength"].value)
	} else {
		need, err := s.t.StrengthNeededAsPoured(s.t.GlycolOf(c), s.q.Coldest.Value.Add(units.Kelvins(-s.t.lim.freezeMargin)))
		if err != nil {
			return "No strength stands " + show.FormatTemperature(s.q.Coldest.Value) + " with " + show.FormatTempDelta(units.Kelvins(s.t.lim.freezeMargin)) + " to spare."
		}
		target = need
	}
	d, err := DrainToReach(litres(full), now, target, with)
	if err != nil {
		return ""
	}
	says := fmt.Sprintf("To make it right: %.0f %% is needed. Drain %s and fill up with %s.", math.Ceil(target.Percents()), show.FormatVolume(d), what)
	if l := s.loop; l != nil && l.DrainVolume.Known && d.Compare(l.DrainVolume.Value) > 0 {
		says += " One drain gives only " + show.FormatVolume(l.DrainVolume.Value) + ": do it in steps, run hot in between."
	}
	return says
}
