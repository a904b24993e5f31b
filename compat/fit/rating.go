package fit

import (
	"fmt"

	"fitfill/catalog"
	"fitfill/catalog/units"
	"fitfill/compat"
)

const (
	ratingCheck = "opening temperature"
	askStamp    = "What is stamped on the thermostat in hand?"
)

// rating compares the opening temperature of a thermostat with the engine's.
// The sides are unequal: hotter by more than 5 K is no; colder by more than 5 K
// is no where the warm-up monitor would store a code, and a caution elsewhere;
// between 2 and 5 K is a question; within 2 K the ratings are one, however they
// were rounded (limits: table fit_limits).
func (t trial) rating() []result {
	e := t.q.Engine.OpeningTemp
	if !e.Known {
		return t.ratingAmongLists()
	}
	sheets := t.openings()
	if len(sheets) == 0 {
		return []result{unchecked(ratingCheck, "opening temperature of the part", "The sheet states no opening temperature; the engine's is "+t.show.temperature(e.Value)+".")}
	}
	out := t.rateAgainst(sheets[0].at, e)
	out.Origin = cite(cite(from(sheets[0].origin, e.Origin), t.limits.cite(ratingSame, ratingConflict)...), out.Origin...)
	out.Steps = append(out.Steps, fmt.Sprintf("limits: one rating up to %s apart, another one beyond %s", t.show.delta(units.Kelvins(t.limits.of(ratingSame))), t.show.delta(units.Kelvins(t.limits.of(ratingConflict)))))
	if _, usual := t.stampNear(sheets[0].at); !usual {
		out.Says += " No thermostat is commonly stamped so: check the unit of the sheet."
	}
	for _, s := range sheets[1:] {
		o := t.rateAgainst(s.at, e)
		if (o.role == against) == (out.role == against) && !t.conflicting(s.at, sheets[0].at) {
			continue
		}
		out = result{
			role: doubt, short: "check the stamp", ask: askStamp, flag: sizeFlag(stampName),
			Finding: compat.Finding{
				Check: ratingCheck, Outcome: compat.Caution, Grade: compat.Listed, Steps: out.Steps,
				Says: fmt.Sprintf("The sheets print different opening temperatures for this part, %s and %s; the engine wants %s.",
					t.show.temperature(sheets[0].at), t.show.temperature(s.at), t.show.temperature(e.Value)),
				Origin: cite(from(sheets[0].origin, s.origin, e.Origin), t.limits.cite(ratingConflict)...),
			},
		}
		break
	}
	return []result{out}
}

func (t trial) rateAgainst(part units.Temperature, engine catalog.Stated[units.Temperature]) result {
	d := part.Sub(engine.Value)
	has, wants := t.show.temperature(part), t.show.temperature(engine.Value)
	r := result{Finding: compat.Finding{
		Check: ratingCheck, Outcome: compat.Yes, Grade: compat.Listed,
		Steps: []string{fmt.Sprintf("part %s - engine %s = %s", has, wants, t.show.delta(d))},
	}}
	off := t.show.delta(d.Abs())
	switch {
	case t.sameRating(part, engine.Value):
		r.Says = fmt.Sprintf("Opens at %s, the rating of the engine (%s).", has, wants)
	case !t.conflicting(part, engine.Value):
		r.role, r.Outcome = doubt, compat.Caution
		r.Says = fmt.Sprintf("Opens at %s, the engine wants %s: %s apart.", has, wants, off)
		r.short, r.ask, r.flag = "check the stamp", oldStamp, sizeFlag("stamp")
	case d.Compare(units.TempDelta{}) > 0:
		r.role, r.Outcome = against, compat.No
		r.Says = fmt.Sprintf("Opens at %s, %s hotter than the engine's %s.", has, off, wants)
		r.short = fmt.Sprintf("opens at %s, engine %s", has, wants)
	default:
		t.runsCool(&r, part, engine.Value)
	}
	return r
}

// runsCool judges a thermostat that opens too early.
func (t trial) runsCool(r *result, part, engine units.Temperature) {
	has, wants := t.show.temperature(part), t.show.temperature(engine)
	off := t.show.delta(part.Sub(engine).Abs())
	r.short = fmt.Sprintf("opens at %s, engine %s", has, wants)
	threshold := t.MonitorThreshold(engine)
	r.Steps = append(r.Steps, fmt.Sprintf("warm-up monitor threshold: %s - %s = %s", wants, t.show.delta(units.Kelvins(t.limits.of(monitorMargin))), t.show.temperature(threshold)))
	r.Origin = t.limits.cite(monitorMargin)
	monitor := t.q.Engine.WarmUpMonitor
	if monitor.Known && monitor.Value {
		r.role, r.Outcome = against, compat.No
		r.Says = fmt.Sprintf("Opens at %s, %s colder than the engine's %s: the warm-up monitor will find it too cold.", has, off, wants)
		if part.Compare(threshold) < 0 {
			r.Says = fmt.Sprintf("Opens at %s, %s colder than the engine's %s and below the warm-up monitor's %s: it stores P0128 by itself.", has, off, wants, t.show.temperature(threshold))
		}
		return
	}
	r.role, r.Outcome, r.short = doubt, compat.Caution, "goes in, runs cool"
	r.Says = fmt.Sprintf("Goes in, runs cool: opens at %s, %s colder than the engine's %s.", has, off, wants)
	if !monitor.Known {
		r.ask = "Does the engine have a warm-up monitor (fault code P0128)? Then it does not fit."
	}
}
