package returns

// ShapeWord says when parts fail.
type ShapeWord string

// The words.
const (
	EarlyFailures ShapeWord = "early failures"
	WearsOut      ShapeWord = "wears out"
	NoPattern     ShapeWord = "no clear pattern"
	FewToShape    ShapeWord = "too few failures to tell"
)

// Shape is when pieces fail that were sound on arrival.
type Shape struct {
	Weibull Weibull // empty with FewToShape
	Failed  float64 // after day 0
	Word    ShapeWord
}

// WhenTheyFail fits a Weibull distribution to the pieces that were sound on
// arrival; a failure of day d counts at d − ½, since days are rounded up. Early
// failures are called only where the upper profile limit of the shape is below
// 1, wearing out only where the lower is above; fewer failures than
// set.MinFailures call neither. Mixed part types look like early failures
// although none has them: ask for one type. Late entry is left out, as the
// likelihood would need it truncated.
func WhenTheyFail(units []Unit, set Settings) Shape {
	var lives []Life
	s := Shape{Word: FewToShape}
	for _, u := range sorted(units) {
		if !u.seen() || u.Entry >= 0 || u.Exit == 0 {
			continue
		}
		life := Life{Time: float64(u.Exit), Failed: u.Event, Weight: u.Weight}
		if u.Event {
			life.Time -= 0.5
			s.Failed += u.Weight
		}
		lives = append(lives, life)
	}
	if s.Failed < set.MinFailures {
		return s
	}
	w, ok := FitWeibull(lives, set.Confidence)
	if !ok {
		return s
	}
	s.Weibull, s.Word = w, NoPattern
	switch {
	case w.Profile.High < 1:
		s.Word = EarlyFailures
	case w.Profile.Low > 1:
		s.Word = WearsOut
	}
	return s
}
