package fit

import (
	"fmt"
	"strings"

	"fitfill/catalog"
	"fitfill/compat"
)

const (
	capSeatCheck   = "cap seat"
	capVacuumCheck = "vacuum valve"
)

// capSeat compares how deep the seal of a cap sits with the neck. Too short a
// cap does not seal, too long a one does not go on.
func (t trial) capSeat() []result {
	need, has := t.q.Engine.CapSeatDepth, t.c.Part.CapSeatDepth
	switch {
	case !need.Known && !has.Known:
		return nil
	case !need.Known:
		return []result{unchecked(capSeatCheck, "depth of the neck's seat", "How deep the seat of the neck lies is not on file; this cap reaches "+t.show.length(has.Value)+".")}
	case !has.Known:
		return []result{unchecked(capSeatCheck, "seat depth of the cap", "The sheet does not state how deep this cap reaches; the seat lies "+t.show.length(need.Value)+" deep.")}
	}
	a, b := t.printed(has).span(), t.printed(need).span()
	apart := max(a.lo-b.hi, b.lo-a.hi, 0)
	reach, deep := t.show.length(has.Value), t.show.length(need.Value)
	r := result{role: agrees, check: "depth of the cap", own: garage(need.Origin), Finding: compat.Finding{
		Check: capSeatCheck, Outcome: compat.Yes, Grade: compat.Measured, Origin: cite(from(has.Origin, need.Origin), t.limits.cite(capSeatSame)...),
		Says:  fmt.Sprintf("Reaches %s deep, as the seat of the neck lies (%s).", reach, deep),
		Steps: []string{fmt.Sprintf("cap %s, seat %s: at least %s %s apart", reach, deep, t.show.fine(apart), t.show.lengthUnit())},
	}}
	if apart > t.limits.of(capSeatSame) {
		way := "it does not go on"
		if a.hi < b.lo {
			way = "it does not seal"
		}
		r.fail(fmt.Sprintf("Reaches %s deep, and the seat of the neck lies at %s: %s.", reach, deep, way))
		r.short, r.ask, r.flag = fmt.Sprintf("cap %s deep, neck %s", reach, deep), "Compare the depth of the cap with the old one.", ""
	}
	return []result{r}
}

// capVacuum asks for a vacuum valve where an overflow bottle gives back what
// the hot engine pushed out: without one the hoses are sucked flat.
func (t trial) capVacuum() []result {
	need, has := t.q.Engine.Expansion, t.c.Part.VacuumValve
	bottle := need.Known && strings.Contains(catalog.Fold(need.Value), "overflow")
	switch {
	case !bottle:
		return nil
	case !has.Known:
		return []result{unchecked(capVacuumCheck, "vacuum valve of the cap", "With an overflow bottle the cap needs a vacuum valve; the sheet does not say whether this one has it.")}
	}
	f := compat.Finding{Check: capVacuumCheck, Outcome: compat.Yes, Grade: compat.CommonPractice, Origin: from(has.Origin, need.Origin)}
	if has.Value {
		f.Says = "Has the vacuum valve that draws coolant back from the overflow bottle."
		return []result{{Finding: f}}
	}
	f.Outcome, f.Says = compat.Caution, "No vacuum valve, and the engine has an overflow bottle: nothing is drawn back, and the hoses are sucked flat."
	return []result{{Finding: f, role: doubt, short: "no vacuum valve for the bottle", ask: "Has the old cap a small valve in the middle of its plate?"}}
}
