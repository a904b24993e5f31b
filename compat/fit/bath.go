package fit

import (
	"fmt"
	"math"
	"slices"

	"fitfill/catalog"
	"fitfill/catalog/units"
	"fitfill/compat"
)

const bathCheck = "water bath"

// workshop is what an inspection text asks of a thermostat of one stamp.
type workshop struct {
	at, liftAt units.Temperature
	lift       units.Length
	origin     compat.Evidence
}

func newWorkshops(ref catalog.Tables) (out []workshop, err error) {
	rows, err := ref.Table("fit_thermostat_ratings")
	if err != nil {
		return nil, err
	}
	for _, row := range rows {
		if row.Get("kind") != "workshop" || row.Get("lift_min_mm") == "" {
			continue
		}
		v, err := floats(row, "stamp_c", "lift_min_mm", "lift_at_c")
		if err != nil {
			return nil, err
		}
		out = append(out, workshop{units.Celsius(v[0]), units.Celsius(v[2]), units.Millimetres(v[1]), compat.Cite(row)})
	}
	return out, nil
}

// LiftTest returns at which temperature the lift of a thermostat is read, and
// the lift that most workshop texts ask for there; known is false where no text
// is on file for such a stamp.
func (t *Tables) LiftTest(stamp units.Temperature) (at units.Temperature, usual units.Length, known bool) {
	var lifts []units.Length
	for _, w := range t.workshops {
		if t.sameRating(w.at, stamp) {
			at = w.liftAt
			lifts = append(lifts, w.lift)
		}
	}
	if len(lifts) == 0 {
		return at, usual, false
	}
	slices.SortFunc(lifts, func(a, b units.Length) int { return a.Compare(b) })
	return at, lifts[len(lifts)/2], true
}

// OpensOnStamp reports whether a thermostat that starts to open at a temperature
// does so on its stamp: within the band of ±2 K around it.
func (t *Tables) OpensOnStamp(stamp, opens units.Temperature) bool {
	return opens.Sub(stamp).Abs().Kelvins() <= t.limits.of(stampHalfBand)
}

// WaterBoils returns where open water boils at a height above the sea: ISO 2533
// for the pressure, p0·(1 - L·h/T0)^n, and the saturation table. Above its range,
// some 4000 m, ok is false.
func (t *Tables) WaterBoils(height units.Length) (at units.Temperature, ok bool) {
	fall := t.limits.of(isaLapse) * height.Millimetres() / 1000 / t.limits.of(isaTemperature)
	c, ok := t.boilsUnder(t.limits.of(atmosphere) * math.Pow(1-fall, t.limits.of(isaExponent)))
	return units.Celsius(c), ok
}

// bath judges what a thermostat did in the water bath against its stamp: where
// it started to open, and how far at the temperature of full lift. What fails is
// faulty: it says nothing against the other pieces of that number.
func (t trial) bath() []result {
	b := t.q.Bath
	if !b.Opens.Known && !b.Lift.Known {
		return nil
	}
	stamps := t.openings()
	if len(stamps) == 0 {
		return []result{unchecked(bathCheck, "opening temperature of the part", "What is stamped on it is not on file: read the stamp.")}
	}
	stamp := stamps[0].at
	called := "stamped"
	if stamps[0].said.supplier != "" { // nobody has read the piece itself
		called = "listed as"
	}
	f := compat.Finding{Check: bathCheck, Outcome: compat.Yes, Grade: compat.Measured, Origin: cite(from(stamps[0].origin, b.Opens.Origin, b.Lift.Origin), t.limits.cite(stampHalfBand)...)}
	var out []result
	if b.Opens.Known {
		r := result{Finding: f}
		half := t.show.delta(units.Kelvins(t.limits.of(stampHalfBand)))
		r.Says = fmt.Sprintf("Opened at %s in the bath; %s %s, and %s either way is right.", t.show.temperature(b.Opens.Value), called, t.show.temperature(stamp), half)
		if !t.OpensOnStamp(stamp, b.Opens.Value) {
			r.role, r.Outcome = faulty, compat.No
			r.short = fmt.Sprintf("opened at %s, %s %s", t.show.temperature(b.Opens.Value), called, t.show.temperature(stamp))
			if called != "stamped" {
				r.ask, r.flag = askStamp, sizeFlag(stampName)
			}
		}
		out = append(out, r)
	}
	if b.Lift.Known {
		out = append(out, t.liftInBath(f, stamp, b.Lift))
	}
	return out
}

func (t trial) liftInBath(f compat.Finding, stamp units.Temperature, lift catalog.Stated[units.Length]) result {
	at, usual, known := t.LiftTest(stamp)
	boils, ok := t.WaterBoils(t.q.Altitude)
	switch {
	case !known:
		return unchecked(bathCheck, "lift that such a thermostat needs", "No workshop text on file says what lift a thermostat stamped "+t.show.temperature(stamp)+" needs.")
	case ok && boils.Compare(at) <= 0:
		return unchecked(bathCheck, "a bath hot enough", fmt.Sprintf("Its lift is read at %s, and open water boils at %s here: the test cannot be made.", t.show.temperature(at), t.show.temperature(boils)))
	}
	r := result{Finding: f}
	r.Origin = cite(r.Origin, t.workshops[0].origin)
	r.Says = fmt.Sprintf("Lifted %s; %s or more at %s is what most workshop texts ask.", t.show.length(lift.Value), t.show.length(usual), t.show.temperature(at))
	if lift.Value.Compare(usual) < 0 {
		r.role, r.Outcome, r.short = faulty, compat.No, fmt.Sprintf("lifts %s, needs %s", t.show.length(lift.Value), t.show.length(usual))
	}
	return r
}

// Bath is what a thermostat did in the water bath.
type Bath struct {
	Opens catalog.Stated[units.Temperature]
	Lift  catalog.Stated[units.Length]
}
