package returns

// Share is the share of sold pieces that came back as quality failures within
// Day days, as if every piece had been watched that long.
type Share struct {
	Day        int
	Failed     float64  // quality failures by Day
	Watched    float64  // pieces still watched past Day
	MidP       Interval // share 0..1, shown
	Guaranteed Interval // share 0..1, never covers less often than stated
	LateEntry  bool     // returns were recorded only from some day on: limits not proven
	Observable bool     // false: the supplier's warranty ends before Day
	Thin       bool     // fewer pieces still watched than the setting asks for
}

// ShareReturned returns the product-limit share 1 − S(day) with its
// beta-product limits; design divides every count as in BetaProduct. Build the
// units without cutting them at day, or nobody is left who was watched past it.
// Observable is set; ask the warranty before you believe it. Thin is left to
// the caller, who knows the setting.
func ShareReturned(units []Unit, day int, design, conf float64) Share {
	return shareReturned(Curve(units), enteredLate(units), day, StillWatched(units, day), design, conf)
}

// enteredLate reports whether a unit was watched from a later day than its first.
func enteredLate(units []Unit) bool {
	for i := range units {
		if u := &units[i]; u.Entry >= 0 && u.seen() {
			return true
		}
	}
	return false
}

// watchedPast is StillWatched of units of which none entered late, by their
// curve.
func watchedPast(curve []Step, day int) (n float64) {
	for i := len(curve) - 1; i >= 0 && curve[i].Day >= day; i-- {
		n += curve[i].Left
		if curve[i].Day > day {
			n += curve[i].Failed
		}
	}
	return n
}

// shareReturned is ShareReturned with the curve of the units at hand.
func shareReturned(curve []Step, late bool, day int, watched, design, conf float64) Share {
	sh := Share{Day: day, Watched: watched, Observable: true, LateEntry: late}
	steps := upTo(curve, day)
	for _, st := range steps {
		sh.Failed += st.Failed
	}
	mid, guaranteed := BetaProduct(steps, sh.Watched, design, conf)
	sh.MidP, sh.Guaranteed = returned(mid), returned(guaranteed)
	return sh
}

// returned turns a surviving share into a returned one.
func returned(s Interval) Interval { return Interval{1 - s.Est, 1 - s.High, 1 - s.Low} }
