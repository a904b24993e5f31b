package coolant

import (
	"fmt"

	"fitfill/compat"
)

// mixing words what the chemistry says, with the pair that decides.
func (s *situation) mixing(c chemistry) {
	f := compat.Finding{Check: checkMixing, Outcome: c.outcome, Grade: s.fill.grade(s.add.grade(compat.CommonPractice))}
	f.Origin = append(s.fill.evidence(), s.add.evidence()...)
	if seen := s.t.colourOf(s.fill.fluid.ByColour); seen != nil && s.fill.how == byColour {
		f.Origin = append(f.Origin, compat.Cite(seen.row))
	}
	if s.condemned() {
		return // nothing goes on top, so it does not matter what it would do
	}
	if c.world != nil && c.world.spent {
		s.note(s.spentFinding(f, c))
		return
	}
	if c.link == nil {
		f.Says = "The bottle brings in nothing that is not in there already."
		s.note(f)
		return
	}
	r := &c.link.rule
	f.Says = s.pairWords(c)
	f.Origin = append(f.Origin, compat.Cite(r.pair.row))
	for _, why := range s.t.why(r) {
		f.Origin = append(f.Origin, compat.Cite(why.row))
	}
	if _, band := r.judge(c.pct, false); band >= 0 && r.forbid == "" {
		f.Origin = append(f.Origin, compat.Cite(r.pair.class.bands[band].row))
	}
	if s.labelDecides(c) || (r.same && s.bothApproved && !s.sameProduct) {
		f.Grade = s.fill.grade(compat.Label)
	}
	if r.forbid != "" {
		f.Grade = s.t.reasons[r.forbid].grade
	}
	f.Steps = s.shareSteps(c)
	s.note(f)
	s.glycols()
}

// labelDecides reports whether the outcome rests on a label's claim.
func (s *situation) labelDecides(c chemistry) bool {
	return c.link != nil && c.outcome == compat.Caution && (c.link.rule.cap || c.link.rule.lift && s.liftCounts(c))
}

func (s *situation) liftCounts(c chemistry) bool {
	plain := c.link.rule
	plain.lift = false
	out, _ := plain.judge(c.pct, false)
	return out == compat.No
}

func (s *situation) pairWords(c chemistry) string {
	r := &c.link.rule
	fill, top := s.t.families[r.a].name, s.t.families[r.b].name
	share := " (" + partly(c.pct) + " of the concentrate)"
	switch {
	case c.any:
		share = ""
	case !s.fill.exact || !s.add.exact:
		share = " (at most " + partly(c.pct) + " of the concentrate)"
	}
	because := s.pairReason(r, c.outcome)
	switch {
	case c.outcome == compat.CannotSay:
		return "Don't pour yet: " + s.mayBe(r.a, r.b) + ". " + because
	case c.outcome == compat.No:
		return upper(top) + " does not mix with " + fill + ". " + because
	case s.sameProduct:
		return "The same product as is in there."
	case r.same && s.fill.how == presumption:
		return "The first fill, presumed untouched, and what is in the bottle are approved to " + s.byNames + ", which the engine's maker asks for."
	case r.same:
		return "Both are approved to " + s.byNames + ", which the engine's maker asks for."
	case s.add.universal:
		return "Its label claims that it mixes and does not say what it is: take the shorter interval."
	case s.labelDecides(c) && r.cap:
		return "The label says not to mix it."
	case s.labelDecides(c):
		return "Only the label says that it mixes with " + fill + ". " + because
	case r.a == r.b:
		return upper(top) + " on " + fill + ": the same kind. " + because
	case s.t.families[r.b].id == waterID && r.harden:
		return "This water thins it and is too hard or too salty. " + because
	case s.t.families[r.b].id == waterID:
		return "Water thins it; nothing falls out."
	case c.outcome == compat.Caution && len(s.fill.may) > 1 && len(s.fill.mixed) == 0:
		return "At worst it is " + fill + ": " + top + " onto that" + share + " " + c.link.words(c.pct) + ". " + because
	case c.outcome == compat.Caution:
		return upper(top) + " onto " + fill + share + ": " + c.link.words(c.pct) + ". " + because
	}
	return upper(top) + " onto " + fill + share + ": too little to matter."
}

// pairReason is the reason that is told of a pair.
func (s *situation) pairReason(r *rule, o compat.Outcome) string {
	if o == compat.Caution {
		return s.lifeFirst(r)
	}
	return s.t.why(r)[0].says
}

// lifeFirst tells the shorter life before anything else, where that is among
// the reasons: it is what a caution means.
func (s *situation) lifeFirst(r *rule) string {
	for _, why := range s.t.why(r) {
		if why.kind == "life" {
			return why.says
		}
	}
	return s.t.why(r)[0].says
}

// shareSteps shows how the share of foreign concentrate comes about.
func (s *situation) shareSteps(c chemistry) []string {
	a, poured := s.poured()
	if !poured || c.link == nil {
		return nil
	}
	v := s.vol.before(a)
	return []string{
		fmt.Sprintf("in the engine: %.3g L at %g to %g %% holds %.3g to %.3g L of glycol", v, s.fill.low, s.fill.high, v*s.fill.low/100, v*s.fill.high/100),
		fmt.Sprintf("poured: %.3g L at %g to %g %% brings %.3g to %.3g L of glycol", a, s.add.low, s.add.high, a*s.add.low/100, a*s.add.high/100),
		fmt.Sprintf("the smaller part is at most %.1f %% of all glycol; class %s", c.pct, c.link.rule.pair.class.name),
	}
}

// glycols notes two kinds of glycol in one system, or that none is stated.
func (s *situation) glycols() {
	switch {
	case s.fill.glycol != "" && s.add.glycol != "" && s.fill.glycol != s.add.glycol:
		r := s.t.reasons["r11"]
		s.note(compat.Finding{Check: checkGlycol, Outcome: compat.Yes, Grade: r.grade, Says: r.says, Origin: []compat.Evidence{compat.Cite(r.row)}})
	case !s.glycolKnown() && !s.special():
		s.note(compat.NotChecked(checkGlycol, "which glycol it is", "The glycol is not stated: judged as ethylene glycol."))
	}
}

// partly is a share in per cent with as many digits as it is worth.
func partly(pct float64) string {
	if pct < 9.95 {
		return fmt.Sprintf("%.1f %%", pct)
	}
	return fmt.Sprintf("%.0f %%", pct)
}

func upper(text string) string {
	if text == "" || text[0] < 'a' || text[0] > 'z' {
		return text
	}
	return string(text[0]-'a'+'A') + text[1:]
}
