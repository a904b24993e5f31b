package fit

import (
	"fmt"

	"fitfill/catalog"
	"fitfill/catalog/units"
	"fitfill/compat"
)

const (
	capRatingCheck = "cap rating"
	capFormCheck   = "cap form"
)

// capRating compares the rating of a pressure cap with the engine's. A stronger
// cap by more than one step of the trade's ratings puts a pressure on hoses and
// radiator that they were not made for, and is a no whoever lists it; a weaker
// one goes on but the coolant boils earlier.
func (t trial) capRating() []result {
	need, has := t.q.Engine.CapPressure, t.c.Part.CapPressure
	switch {
	case !need.Known && t.q.Old.CapPressure.Known:
		return t.likeOldCap()
	case !need.Known:
		return []result{unchecked(capRatingCheck, "cap pressure of the engine", "The rating that the engine asks for is not on file.")}
	case !has.Known:
		return []result{unchecked(capRatingCheck, "cap pressure of the part", "The sheet does not state the rating of this cap.")}
	}
	over := has.Value.Kilopascals() - need.Value.Kilopascals()
	step := t.limits.of(capStep)
	show := func(p catalog.Stated[units.Pressure]) string { return units.System(t.show).FormatPressure(p.Value) }
	r := result{role: agrees, Finding: compat.Finding{
		Check: capRatingCheck, Outcome: compat.Yes, Grade: compat.Listed,
		Says:   fmt.Sprintf("Rated %s, as the engine asks (%s).", show(has), show(need)),
		Origin: cite(from(has.Origin, need.Origin), t.limits.cite(capStep)...),
		Steps:  []string{fmt.Sprintf("%s less %s = %.1f kPa; one step is %g kPa", show(has), show(need), over, step)},
	}}
	switch {
	case over > step:
		r.role, r.Outcome, r.short = against, compat.No, fmt.Sprintf("cap %s, engine %s", show(has), show(need))
		r.Says = fmt.Sprintf("Rated %s where the engine asks for %s: too strong for its hoses and radiator.", show(has), show(need))
	case over < -step:
		r.role, r.Outcome, r.short = doubt, compat.Caution, "weaker cap, boils earlier"
		lost, steps := t.boilingLost(has.Value, need.Value)
		r.Says = fmt.Sprintf("Rated %s where the engine asks for %s: goes on, but the coolant boils earlier%s.", show(has), show(need), lost)
		r.Steps, r.Origin = append(r.Steps, steps...), cite(r.Origin, t.saturated)
		r.ask = "What rating is stamped on the old cap, and what does the manual ask for?"
	}
	return []result{r}
}

// likeOldCap compares the rating with the stamp of the old cap, which may have
// been the wrong one: it raises a doubt and refuses nothing.
func (t trial) likeOldCap() []result {
	was, has := t.q.Old.CapPressure, t.c.Part.CapPressure
	if !has.Known {
		return []result{unchecked(capRatingCheck, "cap pressure of the part", "The sheet does not state the rating of this cap.")}
	}
	off := has.Value.Kilopascals() - was.Value.Kilopascals()
	show := func(p catalog.Stated[units.Pressure]) string { return units.System(t.show).FormatPressure(p.Value) }
	f := compat.Finding{
		Check: capRatingCheck, Outcome: compat.Yes, Grade: compat.Presumed, Origin: cite(from(has.Origin, was.Origin), t.limits.cite(capStep)...),
		Says:  fmt.Sprintf("Rated %s, the old cap's stamp reads %s: the same rating.", show(has), show(was)),
		Steps: []string{fmt.Sprintf("%s less %s = %.1f kPa; one step is %g kPa", show(has), show(was), off, t.limits.of(capStep))},
	}
	if abs(off) <= t.limits.of(capStep) {
		return []result{{Finding: f, like: true}}
	}
	f.Outcome, f.Says = compat.Caution, fmt.Sprintf("Rated %s, the old cap's stamp reads %s: not the same.", show(has), show(was))
	return []result{{Finding: f, role: doubt, unlike: true, short: fmt.Sprintf("cap %s, old one %s", show(has), show(was)), ask: "What does the manual ask for?"}}
}

// capForm compares how a cap is fixed with what the neck takes.
func (t trial) capForm() []result {
	need, has := t.q.Engine.CapForm, t.c.Part.CapForm
	switch {
	case !need.Known:
		return []result{unchecked(capFormCheck, "cap form of the engine", "How the cap is fixed on this engine is not on file.")}
	case !has.Known:
		return []result{unchecked(capFormCheck, "cap form of the part", "The sheet does not say how this cap is fixed.")}
	}
	r := result{role: agrees, check: "cap form", own: garage(need.Origin), Finding: compat.Finding{
		Check: capFormCheck, Outcome: compat.Yes, Grade: compat.Listed, Origin: from(has.Origin, need.Origin),
		Says: "Fixed by " + has.Value + ", as the neck takes it.",
	}}
	if catalog.Fold(need.Value) != catalog.Fold(has.Value) {
		r.role, r.Outcome, r.short = fails, compat.No, has.Value+" cap, "+need.Value+" neck"
		r.Says = "Fixed by " + has.Value + " where the neck takes a cap with " + need.Value + "."
		r.ask = "Compare the cap with the old one."
	}
	return []result{r}
}
