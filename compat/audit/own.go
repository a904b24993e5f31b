package audit

import (
	"fmt"
	"math"

	"fitfill/catalog"
	"fitfill/catalog/units"
	"fitfill/compat"
)

var _ = register(func() any { return own{} })

// Own is what the garage itself saw of a part for an engine: each finding names
// the lines of its own sheets.
type Own struct {
	Seen   []compat.Finding // fitted and stayed, or came back
	NoFit  int              // times it came back as not fitting
	Stayed bool             // in some vehicle of the engine
	Flange catalog.Stated[units.Length]
}

// own finds parts that came back as not fitting the engine they are listed for,
// and sizes that the garage measured otherwise than the list prints them. What a
// size or a rating has refuted already is not said twice; a part that stayed in
// another vehicle of the engine may have come back for want of skill.
type own struct{}

func (own) engine(s *settings, e *Engine) []Finding {
	var out []Finding
	for i := range e.Parts {
		l := &e.Parts[i]
		if len(l.Fitments) == 0 || l.Excluded {
			continue
		}
		if l.Own.NoFit > 0 && !l.Own.Stayed && len(l.Refuted) == 0 {
			f := s.about("came back: did not fit", e, l)
			f.Says, f.Grade = fmt.Sprintf("Lists it for this engine; it came back as not fitting %s.", times(l.Own.NoFit)), compat.Inferred
			out = append(out, f)
		}
		mine, measured := l.Part.FlangeDiameter, l.Own.Flange
		if !mine.Known || !measured.Known || math.Abs(mine.Value.Millimetres()-measured.Value.Millimetres()) <= s.flangeApart {
			continue
		}
		f := s.about("refuted: flange as measured", e, l)
		f.Says, f.Grade = fmt.Sprintf("Prints a flange of %s; one was measured as %s.", s.Show.FormatLength(mine.Value), s.Show.FormatLength(measured.Value)), compat.Measured
		f.Lines, f.Against = once([]compat.Evidence{compat.From(mine.Origin)}), once([]compat.Evidence{compat.From(measured.Origin)})
		out = append(out, f)
	}
	return out
}

func times(n int) string {
	if n == 1 {
		return "once"
	}
	return fmt.Sprintf("%d times", n)
}
