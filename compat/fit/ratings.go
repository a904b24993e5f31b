package fit

import (
	"math"

	"fitfill/catalog"
	"fitfill/catalog/units"
	"fitfill/compat"
)

// stamp is one value that thermostats are stamped with.
type stamp struct {
	at     units.Temperature
	note   string
	origin compat.Evidence
}

func newStamps(ref catalog.Tables) ([]stamp, error) {
	rows, err := ref.Table("fit_thermostat_ratings")
	if err != nil {
		return nil, err
	}
	var out []stamp
	for _, row := range rows {
		if row.Get("kind") != "stamp" {
			continue
		}
		c, err := row.Float("stamp_c")
		if err != nil {
			return nil, err
		}
		out = append(out, stamp{units.Celsius(c), row.Get("note"), compat.Cite(row)})
	}
	return out, nil
}

// stampNear returns the stamp in use nearest to a temperature, where one lies
// within the band in which two ratings count as one.
func (t *Tables) stampNear(at units.Temperature) (best stamp, found bool) {
	off := t.limits.of(ratingSame)
	for _, s := range t.ratings {
		if d := math.Abs(s.at.Sub(at).Kelvins()); d <= off {
			best, found, off = s, true, d
		}
	}
	return best, found
}

// sameRating reports whether two ratings are one, whatever unit they were
// rounded in.
func (t *Tables) sameRating(a, b units.Temperature) bool {
	return a.Sub(b).Abs().Kelvins() <= t.limits.of(ratingSame)
}

// conflicting reports whether two ratings cannot stand in for each other.
func (t *Tables) conflicting(a, b units.Temperature) bool {
	return a.Sub(b).Abs().Kelvins() > t.limits.of(ratingConflict)
}

// MonitorThreshold returns the coolant temperature that the warm-up monitor
// asks for: the regulating temperature less 20 °F (13 CCR 1968.2 (e)(10)).
func (t *Tables) MonitorThreshold(rating units.Temperature) units.Temperature {
	return rating.Add(units.Kelvins(-t.limits.of(monitorMargin)))
}
