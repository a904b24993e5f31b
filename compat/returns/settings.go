package returns

import (
	"fmt"
	"math"
)

// Settings are the thresholds of the comparison. They come from a table that a
// garage may override.
type Settings struct {
	Confidence       float64 // of every interval, 0..1
	Horizons         []int   // days for which a share returned is shown
	ScoreHorizon     int     // days within which failures count in the comparison
	TauStep          float64 // grid of the spread between suppliers (log rate)
	TauMax           float64
	Spread           float64 // scale of the prior of the spread
	SpreadLow        float64 // the same, for the check whether the words hang on it
	SpreadHigh       float64
	CallAt           float64 // probability for "worse" and "better"
	LeanAt           float64 // probability for "leaning"
	MinFailures      float64 // quality failures in all below which nothing is ranked
	CommonGroundTau  float64 // spread at which common ground is measured
	BetterAfter      int     // days that pieces must have been watched before a supplier is called better
	MinCommonGround  float64 // share under which two suppliers are not comparable
	DesignEffectFrom float64 // above it, counts are divided by the design effect
	FewWatched       float64 // pieces still watched under which a share is thin
	FalseDiscovery   float64 // q up to which the second look flags
	ProvisionalAbove float64 // share of unmatched quality returns that makes a score provisional
	TypesDisagree    float64 // chance below which a supplier's part types disagree
	NeededRatio      float64 // how much worse a supplier is, for the pieces needed to tell
	NeededShare      float64 // of shops that would call it
	GapChance        float64 // chance of an empty month up to which it is a gap
	DateTolerance    int     // days a return may be dated before its sale
	CreditWindow     int     // days between a return and the credit note that pays it
	CreditShare      float64 // of the price of a failed part that its supplier pays back, 0..1
	PriceDays        int     // days before the as-of day whose purchases make the price of a part
}

// SettingsFrom reads the settings by name. A missing name, a value that makes
// no sense or one out of order with its neighbours is an error.
func SettingsFrom(get func(name string) (float64, bool)) (Settings, error) {
	r := settingReader{get: get}
	s := Settings{
		Confidence:       r.share("confidence"),
		Horizons:         []int{r.days("horizon_short"), r.days("horizon_middle"), r.days("horizon_long")},
		ScoreHorizon:     r.days("score_horizon"),
		TauStep:          r.positive("spread_grid_step"),
		TauMax:           r.positive("spread_grid_top"),
		Spread:           r.positive("spread_scale"),
		SpreadLow:        r.positive("spread_scale_low"),
		SpreadHigh:       r.positive("spread_scale_high"),
		CallAt:           r.share("call_at"),
		LeanAt:           r.share("lean_at"),
		MinFailures:      r.positive("min_failures"),
		CommonGroundTau:  r.positive("common_ground_spread"),
		BetterAfter:      r.days("better_after"),
		MinCommonGround:  r.share("min_common_ground"),
		DesignEffectFrom: r.positive("design_effect_from"),
		FewWatched:       r.positive("few_watched"),
		FalseDiscovery:   r.share("false_discovery"),
		ProvisionalAbove: r.share("provisional_above"),
		TypesDisagree:    r.share("types_disagree"),
		NeededRatio:      r.positive("needed_ratio"),
		NeededShare:      r.share("needed_share"),
		GapChance:        r.share("gap_chance"),
		DateTolerance:    r.days("date_tolerance"),
		CreditWindow:     r.days("credit_window"),
		CreditShare:      r.read("credit_share", "from 0 to 1", func(v float64) bool { return v >= 0 && v <= 1 }),
		PriceDays:        r.days("price_days"),
	}
	switch {
	case r.err != nil:
	case s.LeanAt <= 0.5 || s.CallAt < s.LeanAt:
		r.err = fmt.Errorf("returns settings: lean_at is %g and call_at %g: lean_at must lie above 0.5 and not above call_at", s.LeanAt, s.CallAt)
	case s.TauStep > s.TauMax:
		r.err = fmt.Errorf("returns settings: spread_grid_step is %g, more than spread_grid_top (%g): make the step smaller", s.TauStep, s.TauMax)
	case s.DesignEffectFrom < 1:
		r.err = fmt.Errorf("returns settings: design_effect_from is %g: it must be 1 or more", s.DesignEffectFrom)
	}
	if r.err != nil {
		return Settings{}, r.err
	}
	return s, nil
}

// settingReader keeps the first thing that is wrong.
type settingReader struct {
	get func(string) (float64, bool)
	err error
}

func (r *settingReader) read(name, want string, ok func(float64) bool) float64 {
	v, found := r.get(name)
	switch {
	case r.err != nil:
	case !found:
		r.err = fmt.Errorf("returns settings: %q is missing: add a row with that name to the table of returns settings", name)
	case !ok(v):
		r.err = fmt.Errorf("returns settings: %s is %g: it must be %s", name, v, want)
	}
	return v
}

func (r *settingReader) share(name string) float64 {
	return r.read(name, "between 0 and 1", func(v float64) bool { return v > 0 && v < 1 })
}

func (r *settingReader) positive(name string) float64 {
	return r.read(name, "a number above 0", func(v float64) bool { return v > 0 && !math.IsInf(v, 0) })
}

func (r *settingReader) days(name string) int {
	const most = math.MaxInt32 / 2 // keeps sums of days inside an int32 date
	return int(r.read(name, "a whole number of days from 0 up", func(v float64) bool {
		return v >= 0 && v <= most && v == math.Trunc(v)
	}))
}
