package returns

import (
	"errors"
	"slices"

	"fitfill/catalog"
)

// Supplier is everything said of one supplier.
type Supplier struct {
	Name          string
	Tally         Tally     // over all its part types
	Shares        []Share   // by the horizons of the settings
	SupplyErrors  *Interval // share of pieces sold; nil where none was
	DeadOnArrival *Interval // the same
	Standing      Standing
	// Upper is the standing if everything unknown and unmatched were a quality
	// failure; FaultyUpper is their number then.
	Upper       Standing
	FaultyUpper int
	// Claimed is the standing if what a test found sound were faulty after all.
	Claimed     Standing
	Provisional bool // too many of its quality returns found no sale
}

// Report is the answer to "whose parts come back".
type Report struct {
	AsOf        catalog.Date
	Suppliers   []Supplier // by name
	Headline    Comparison
	Upper       Comparison
	Claimed     Comparison // the headline where no test found anything sound
	Exclusive   []string   // part types only one supplier sold: they add nothing to the comparison
	OldestShare float64    // share of returns that only the oldest open sale was found for
}

// Judge turns a ledger into the report: shares returned with their limits,
// supply errors and dead on arrival as shares of pieces sold, and the comparison
// as known, once more with everything unknown counted against the supplier, and
// once with what a test did not confirm. A horizon beyond the supplier's warranty is marked not observable.
func Judge(l Ledger, set Settings) (Report, error) {
	rep := Report{AsOf: l.AsOf, Exclusive: l.Exclusive(), OldestShare: l.OldestShare}
	var err error
	suppliers := len(l.Suppliers)
	l.Units = sorted(l.Units)
	l.Unplaced = sorted(l.Unplaced)
	var upperUnits []Unit
	compared := make(chan error) // the upper bound takes as long as everything else together
	go func() {
		upperUnits = l.UpperUnits()
		var err error
		rep.Upper, err = compareInOrder(upperUnits, suppliers, set)
		compared <- err
	}()
	rep.Headline, err = compareInOrder(l.Units, suppliers, set)
	if rep.Claimed = rep.Headline; err == nil && slices.ContainsFunc(l.Units, func(u Unit) bool { return u.Claimed }) {
		rep.Claimed, err = Compare(l.ClaimedUnits(), suppliers, set)
	}
	if err == nil {
		rep.suppliers(l, set)
	}
	if err = errors.Join(err, <-compared); err != nil {
		return Report{}, err
	}
	upper := bySupplier(upperUnits, suppliers)
	for i := range rep.Suppliers {
		s := &rep.Suppliers[i]
		s.Upper = rep.Upper.Standings[i]
		for j := range upper[i] {
			if u := &upper[i][j]; u.Event {
				s.FaultyUpper += int(u.Weight)
			}
		}
	}
	return rep, nil
}

// suppliers says of every supplier what rests on the headline.
func (rep *Report) suppliers(l Ledger, set Settings) {
	design := 1.0
	if rep.Headline.Divided {
		design = rep.Headline.DesignEffect
	}
	units := bySupplier(l.Units, len(l.Suppliers))
	for i, name := range l.Suppliers {
		s := Supplier{Name: name, Tally: l.Total(i), Standing: rep.Headline.Standings[i], Claimed: rep.Claimed.Standings[i]}
		if sold := float64(s.Tally.Sold); sold > 0 {
			wrong := MidP(float64(s.Tally.SupplyErrors), sold, set.Confidence)
			dead := MidP(float64(s.Tally.DeadOnArrival), sold, set.Confidence)
			s.SupplyErrors, s.DeadOnArrival = &wrong, &dead
		}
		s.Provisional = s.Tally.Provisional(set.ProvisionalAbove)
		curve, late := Curve(units[i]), enteredLate(units[i])
		for _, day := range set.Horizons {
			watched := watchedPast(curve, day)
			if late {
				watched = StillWatched(units[i], day)
			}
			sh := shareReturned(curve, late, day, watched, design, set.Confidence)
			sh.Observable = l.Warranty[i] < 0 || day <= l.Warranty[i]
			sh.Thin = sh.Watched < set.FewWatched
			s.Shares = append(s.Shares, sh)
		}
		rep.Suppliers = append(rep.Suppliers, s)
	}
}
