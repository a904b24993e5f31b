package coolant

import (
	"fmt"
	"math"

	"gonum.org/v1/gonum/stat/distuv"

	"fitfill/catalog"
	"fitfill/catalog/units"
	"fitfill/compat"
)

// Loss is what a system loses, by the log of its top-offs. PerYear, Low and
// High are litres a year with the limits of the table's confidence; they are
// nil while the log spans no time.
type Loss struct {
	Outcome    compat.Outcome
	Tops       int          // top-offs since it was last filled
	Poured     units.Volume // in all of them
	From, To   catalog.Date // first day it was known full, last top-off
	PerYear    *units.Volume
	Low, High  *units.Volume
	Sealed     bool // its expansion tank is under pressure, so it should lose nothing
	Says       string
	Confidence float64 // per cent
}

// topOff is one refilling to the mark, and what it says of the loss before it.
type topOff struct {
	days   float64 // since the system was last full
	litres float64 // lost in that time
}

// Loss computes what the log of one circuit, oldest entry first, says of a
// leak. The clock starts on the day of the last change of the fill, else on
// that of the first top-off, which only says that it was low. What a refill
// left open is taken off the top-offs that follow: that was air. The rate is
// litres over days; its limits join the spread between the top-offs (Student's
// t of the ratio's standard error, Cochran, Sampling Techniques, 6.3, from memory) with the
// error of reading the level at both ends. ok is false without a top-off. In a
// sealed system the second top-off is a finding; in one with an overflow bottle
// it is one where the whole interval lies above what may evaporate.
func (t *Tables) Loss(log []catalog.Fill, expansion string, show units.System) (l Loss, ok bool) {
	l = Loss{Outcome: compat.Yes, Sealed: catalog.Fold(expansion) == "pressurised tank", Confidence: t.limits[limitLeakConfidence].value}
	var tops []topOff
	open, full := 0.0, false
	var last catalog.Date
	for _, f := range log {
		if !f.Volume.Known {
			continue
		}
		v := f.Volume.Value.Litres()
		if f.Drained.Known && f.Drained.Value.Litres() > 0 {
			open = max(0, f.Drained.Value.Litres()-v)
			l.From, last, full = f.Date, f.Date, true
			l.Tops, l.Poured, tops = 0, units.Volume{}, nil
			continue
		}
		l.Tops++
		l.Poured, l.To = l.Poured.Add(f.Volume.Value), f.Date
		lost := max(0, v-open)
		open = max(0, open-v)
		if !full {
			l.From, last, full = f.Date, f.Date, true
			continue
		}
		tops = append(tops, topOff{float64(f.Date - last), lost})
		last = f.Date
	}
	if l.Tops == 0 {
		return l, false
	}
	t.rate(&l, tops)
	t.lossSays(&l, show)
	return l, true
}

// rate estimates litres a year from the top-offs.
func (t *Tables) rate(l *Loss, tops []topOff) {
	days, litresLost := 0.0, 0.0
	for _, x := range tops {
		days, litresLost = days+x.days, litresLost+x.litres
	}
	if days == 0 {
		return
	}
	year := t.limits[limitYear].value
	perDay := litresLost / days
	level := math.Sqrt2 * t.limits[limitLevel].value / days
	half := level
	if n := float64(len(tops)); n > 1 {
		sum := 0.0
		for _, x := range tops {
			d := x.litres - perDay*x.days
			sum += d * d
		}
		se := math.Sqrt(n/(n-1)*sum) / days
		q := distuv.StudentsT{Mu: 0, Sigma: 1, Nu: n - 1}.Quantile((1 + l.Confidence/100) / 2)
		half = math.Hypot(q*se, level)
	}
	put := func(v float64) *units.Volume {
		x := units.Litres(max(0, v) * year)
		return &x
	}
	l.PerYear, l.Low, l.High = put(perDay), put(perDay-half), put(perDay+half)
}

// lossSays judges the loss and words it.
func (t *Tables) lossSays(l *Loss, show units.System) {
	times := fmt.Sprintf("Topped up %d times since %s, %s in all", l.Tops, l.From, show.FormatVolume(l.Poured))
	if l.Tops == 1 {
		times = fmt.Sprintf("Topped up once since it was filled on %s, with %s", l.From, show.FormatVolume(l.Poured))
		if l.From == l.To {
			times = fmt.Sprintf("Topped up once, on %s, with %s", l.From, show.FormatVolume(l.Poured))
		}
	}
	rate := ""
	if l.PerYear != nil && l.PerYear.Nanolitres() > 0 {
		tenth := func(v units.Volume) string { return show.FormatVolume(units.Litres(math.Round(v.Litres()*10) / 10)) }
		rate = fmt.Sprintf(": loses about %s a year (%s to %s)", tenth(*l.PerYear), tenth(*l.Low), tenth(*l.High))
	}
	normal := units.Litres(t.limits[limitLeak].value)
	above := l.Low != nil && l.Low.Compare(normal) > 0
	switch {
	case above && l.Tops > 1:
		l.Outcome, l.Says = compat.No, times+rate+". Find where it goes."
	case l.Sealed && l.Tops > 1:
		l.Outcome, l.Says = compat.Caution, times+rate+". A sealed system that is low twice has a leak: find it."
	case above:
		l.Outcome, l.Says = compat.Caution, times+rate+". More than evaporates: look for the leak."
	case l.PerYear != nil && l.PerYear.Compare(normal) > 0:
		l.Outcome, l.Says = compat.Caution, times+rate+". That may be a leak: note the level and look again in a month."
	case rate != "" && !l.Sealed:
		l.Says = times + rate + ". An open overflow bottle may lose that much by evaporation."
	default:
		l.Says = times + rate + ". Note the level and look again in a month."
	}
}

// Refill says what the litres poured against the litres drained tell: less is
// air or spill, more was missing before. ok is false where they agree within
// the error of two readings or one of them is not known.
func (t *Tables) Refill(drained, poured catalog.Stated[units.Volume], show units.System) (o compat.Outcome, says string, ok bool) {
	if !drained.Known || !poured.Known || drained.Value.Nanolitres() <= 0 {
		return compat.Yes, "", false
	}
	off := drained.Value.Sub(poured.Value)
	switch limit := t.limits[limitLevel].value; {
	case off.Litres() > limit:
		return compat.Caution, "Went in " + show.FormatVolume(off) + " less than came out: air, or spilt. Bleed again and check the level cold before driving.", true
	case off.Litres() < -limit:
		return compat.Caution, "Went in " + show.FormatVolume(units.Volume{}.Sub(off)) + " more than came out: it was low before by that much, or not all was caught. Look for a leak.", true
	}
	return compat.Yes, "", false
}
