package coolant

import (
	"slices"
	"strconv"

	"fitfill/catalog"
)

// Reading is what a strip, drops or a kit showed of a fill.
type Reading struct {
	Of    string                  // ph, reserve, nitrite, phosphate, silicate or molybdate
	Level catalog.Stated[float64] // pH, % of new for the reserve, mg/kg for the others
	Shows Sign                    // what was seen where no figure was read
}

// Sign is what a test without a figure showed.
type Sign byte

// The signs. The zero Sign is not seen.
const (
	NotSeen Sign = iota
	Seen         // it shows, or reads high
	None         // it shows none, or reads low
)

// Readings lists what can be read of a fill.
var Readings = []string{phID, reserveID, nitriteID, "phosphate", "silicate", "molybdate"}

const (
	phID      = "ph"
	reserveID = "reserve"
)

// readingLimit says what a reading means for some chemistries.
type readingLimit struct {
	reading              string
	families             []int
	noBelow, watchBelow  float64
	watchAbove           float64 // 0: there is none
	unit                 string
	getHome              bool // water may go on top to get home
	no, watch, watchHigh string
	row                  catalog.RefRow
}

func (t *Tables) loadReadings(rows []catalog.RefRow) error {
	for _, r := range rows {
		l := readingLimit{reading: r.Get("reading"), unit: r.Get("unit"), no: r.Get("says_no"), watch: r.Get("says_watch"), watchHigh: r.Get("says_above"), row: r}
		if !slices.Contains(Readings, l.reading) {
			return unreadable(r, "reading", "is nothing that is read of a fill")
		}
		var err error
		if l.families, err = t.ids(r, "chemistries"); err != nil {
			return err
		}
		if l.noBelow, err = r.Float("no_below"); err != nil {
			return err
		}
		if l.watchBelow, err = r.Float("watch_below"); err != nil {
			return err
		}
		if r.Get("watch_above") != "" {
			if l.watchAbove, err = r.Float("watch_above"); err != nil {
				return err
			}
		}
		if l.watchBelow < l.noBelow || l.watchAbove > 0 && l.watchAbove <= l.watchBelow {
			return unreadable(r, "watch_below", "must lie above no_below and below watch_above")
		}
		if l.getHome, err = yesNo(r, "get_home"); err != nil {
			return err
		}
		t.readings = append(t.readings, l)
	}
	return nil
}

// limitOf returns what a reading means for a family, nil where nothing is on
// file.
func (t *Tables) limitOf(reading string, family int) *readingLimit {
	for i := range t.readings {
		if l := &t.readings[i]; l.reading == reading && slices.Contains(l.families, family) {
			return l
		}
	}
	return nil
}

// testOf returns the test that reads a column, nil where there is none.
func (t *Tables) testOf(column string) *test {
	for i := range t.tests {
		if t.tests[i].column == column {
			return &t.tests[i]
		}
	}
	return nil
}

// sign says whether a reading is high or low, NotSeen where it is a trace that
// tells neither.
func (t *Tables) sign(r Reading) Sign {
	x := t.testOf(r.Of)
	switch {
	case !r.Level.Known:
		return r.Shows
	case x == nil || x.highFrom == 0:
		return NotSeen
	case r.Level.Value >= x.highFrom:
		return Seen
	case r.Of == phID || r.Level.Value == 0:
		return None
	}
	return NotSeen
}

// spent reports whether a reading says that a fill of that family is used up.
func (t *Tables) spent(r Reading, family int) bool {
	l := t.limitOf(r.Of, family)
	return l != nil && r.Level.Known && r.Level.Value < l.noBelow
}

// rulesOut returns the families of a fluid that a reading rules out. What shows
// rules out the kinds without it; what does not show rules out a kind only
// while the fill is within that kind's life, since inhibitors are used up. A pH
// is no proof of a kind and rules out nothing.
func (t *Tables) rulesOut(f *Fluid, r Reading, may []int) []int {
	if r.Of == phID {
		return nil
	}
	sign := t.sign(r)
	var out []int
	for _, i := range may {
		holds := t.families[i].holds[r.Of]
		if sign == Seen && holds == minus || sign == None && holds == plus && t.inDate(f, i) {
			out = append(out, i)
		}
	}
	return out
}

// inDate reports whether a fill of that family is inside its service interval.
// A family whose interval stands on the label only is held to the shortest.
func (t *Tables) inDate(f *Fluid, family int) bool {
	if f.InDate {
		return true
	}
	months := t.families[family].months
	if months == 0 {
		for _, x := range t.families {
			if x.months > 0 && (months == 0 || x.months < months) {
				months = x.months
			}
		}
	}
	return f.AgeMonths.Known && f.AgeMonths.Value >= 0 && f.AgeMonths.Value <= float64(months)
}

// figure is a number as it was read.
func figure(v float64) string { return strconv.FormatFloat(v, 'g', -1, 64) }
