package fit

import (
	"fmt"

	"fitfill/catalog/units"
	"fitfill/compat"
)

const (
	oldCheck = "old part"
	oldStamp = "What is stamped on the old thermostat?"
)

// likeOldStamp compares a rating with the stamp of the thermostat that came
// out, where the engine's own rating is not on file. What was in there may have
// been the wrong one: it settles which of several listed ratings to hand over,
// and never refuses a part.
func (t trial) likeOldStamp(at units.Temperature) result {
	old := t.q.Old.OpeningTemp
	f := compat.Finding{
		Check: ratingCheck, Outcome: compat.Yes, Grade: compat.Presumed,
		Origin: cite(from(t.c.Part.OpeningTemp.Origin, old.Origin), t.limits.cite(ratingSame, ratingConflict)...),
		Steps:  []string{fmt.Sprintf("part %s - old part %s = %s", t.show.temperature(at), t.show.temperature(old.Value), t.show.delta(at.Sub(old.Value)))},
	}
	has, was := t.show.temperature(at), t.show.temperature(old.Value)
	if t.sameRating(at, old.Value) {
		f.Says = fmt.Sprintf("Opens at %s, as the old one is stamped (%s).", has, was)
		return result{Finding: f, like: true}
	}
	f.Outcome = compat.Caution
	f.Says = fmt.Sprintf("Opens at %s, and the old one is stamped %s: not the same rating.", has, was)
	return result{Finding: f, role: doubt, unlike: true, short: fmt.Sprintf("opens at %s, old one %s", has, was)}
}

// oldPart compares the flange with that of the part that came out. A bore on
// file says more; then the old part moves nothing.
func (t trial) oldPart() []result {
	p, old := t.c.Part.FlangeDiameter, t.q.Old.FlangeDiameter
	if !p.Known || !old.Known {
		return nil
	}
	a, b := t.printed(p).span(), t.printed(old).span()
	apart := max(a.lo-b.hi, b.lo-a.hi, 0)
	has, was := t.show.length(p.Value), t.show.length(old.Value)
	f := compat.Finding{
		Check: oldCheck, Outcome: compat.Yes, Grade: compat.Measured,
		Origin: cite(from(p.Origin, old.Origin), t.limits.cite(poisonFlange)...),
		Steps:  []string{fmt.Sprintf("flange %s, old one %s: at least %s %s apart", has, was, t.show.fine(apart), t.show.lengthUnit())},
	}
	if apart <= t.limits.of(poisonFlange) {
		f.Says = fmt.Sprintf("Flange %s, the old one's is %s: the same part by that.", has, was)
		return []result{{Finding: f, like: true}}
	}
	f.Outcome = compat.Caution
	f.Says = fmt.Sprintf("Flange %s, the old one's is %s: not the same part.", has, was)
	r := result{Finding: f, role: doubt, unlike: true, short: fmt.Sprintf("flange %s, old one %s", has, was), ask: "Was the old part the right one?"}
	if t.q.Engine.HousingBore.Known {
		r.role, r.Says = note, r.Says+" The bore decides."
	}
	return []result{r}
}
