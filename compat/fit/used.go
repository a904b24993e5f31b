package fit

import (
	"fmt"
	"slices"
	"strings"

	"fitfill/catalog"
	"fitfill/catalog/units"
	"fitfill/compat"
)

// Used is one part that the garage put into a vehicle of the engine in
// question, or tried to.
type Used struct {
	Supplier string // empty: the record names none
	Key      string // of the part number
	Vehicle  string
	Day      catalog.Date
	Back     *Comeback // nil: it has not come back
	Measured *Measured // what was measured at that; nil: nothing
	Origin   catalog.Origin
}

// Comeback is how a part came back.
type Comeback struct {
	Day    catalog.Date
	Reason string // as written
	NoFit  bool   // because it did not fit
	Origin catalog.Origin
}

const usedCheck = "fitted before"

// NoFit reports whether a reason for which a part came back says that it did
// not fit.
func (t *Tables) NoFit(reason string) bool {
	_, _, ok := t.words.find("no_fit", strings.Fields(catalog.Fold(reason)))
	return ok
}

// of reports whether the record is about a part.
func (u *Used) of(p *catalog.Part) bool {
	return u.Key == partKey(p) && (u.Supplier == "" || catalog.Fold(u.Supplier) == catalog.Fold(p.Supplier))
}

// stayed reports whether the part has been in for the setting stayed_days and
// has not come back.
func (t *Tables) stayed(q *Question, u *Used) bool {
	return u.Back == nil && float64(q.Today-u.Day) >= t.limits.of(stayedDays)
}

// used reads the garage's own history of the part in this engine: it went in
// and stayed, or it came back. A part that came back because it did not fit is
// in doubt; one that failed did go in.
func (t trial) used() []result {
	var stayed, recent, noFit, failed []*Used
	for i := range t.q.Used {
		switch u := &t.q.Used[i]; {
		case !u.of(t.c.Part):
		case u.Back != nil && u.Back.NoFit:
			noFit = append(noFit, u)
		case u.Back != nil:
			failed = append(failed, u)
		case t.stayed(t.q, u):
			stayed = append(stayed, u)
		default:
			recent = append(recent, u)
		}
	}
	finding := func(list []*Used, outcome compat.Outcome, says string) compat.Finding {
		f := compat.Finding{Check: usedCheck, Outcome: outcome, Grade: compat.Inferred, Says: says}
		for _, u := range list {
			f.Origin = cite(f.Origin, from(u.Origin)...)
			if u.Back != nil {
				f.Origin = cite(f.Origin, from(u.Back.Origin)...)
			}
		}
		return f
	}
	var out []result
	if n := len(noFit); n > 0 {
		out = append(out, result{role: doubt, short: "came back as not fitting", ask: "What did not fit? Compare it with the old part.",
			Finding: finding(noFit, compat.Caution, fmt.Sprintf("Came back as %q from %s.", noFit[n-1].Back.Reason, vehicles(noFit, true)))})
	}
	if len(stayed) > 0 {
		out = append(out, result{role: stays, short: "not listed, but stayed in " + cars(stayed),
			Finding: finding(stayed, compat.Yes, "Fitted here to "+vehicles(stayed, false)+", and stayed.")})
	}
	if len(recent) > 0 {
		out = append(out, result{Finding: finding(recent, compat.Yes, "Fitted here to "+vehicles(recent, false)+"; nothing came back so far.")})
	}
	if n := len(failed); n > 0 {
		out = append(out, result{Finding: finding(failed, compat.Yes, fmt.Sprintf("Went in and came back as %q from %s: its quality, not its fit.", failed[n-1].Back.Reason, vehicles(failed, true)))})
	}
	return out
}

// TimesNoFit counts how often a part came back from the engine in question
// because it did not fit.
func TimesNoFit(q *Question, p *catalog.Part) (n int) {
	for i := range q.Used {
		if u := &q.Used[i]; u.of(p) && u.Back != nil && u.Back.NoFit {
			n++
		}
	}
	return n
}

// vehicles names up to mostNamed vehicles with the day on which the part was
// fitted, or came back.
func vehicles(list []*Used, back bool) string {
	var names []string
	for _, u := range list {
		day := u.Day
		if back {
			day = u.Back.Day
		}
		name := u.Vehicle
		if name == "" {
			name = "a vehicle"
		}
		names = addOnce(names, name+" ("+day.String()+")")
	}
	return inWords(names)
}

// cars counts the vehicles.
func cars(list []*Used) string {
	marks := map[string]bool{}
	for _, u := range list {
		marks[catalog.Key(u.Vehicle)] = true
	}
	return counted(len(marks), "vehicle")
}

// Learn returns the question with those sizes of the engine that are not on
// file and that were measured when parts were fitted, where all that was
// measured agrees. What is on file stays.
func (t *Tables) Learn(q Question) Question {
	for _, of := range engineSizes {
		slot := of(&q.Engine)
		if slot.Known {
			continue
		}
		var found []catalog.Stated[units.Length]
		for i := range q.Used {
			if m := q.Used[i].Measured; m != nil && of(&m.Engine).Known {
				found = append(found, *of(&m.Engine))
			}
		}
		agree := len(found) > 0
		for i := range found {
			agree = agree && t.printed(found[i]).span().overlaps(t.printed(found[0]).span())
		}
		if agree {
			*slot = found[len(found)-1]
		}
	}
	return q
}

// MeasuredParts returns the sizes that the garage measured on a part when it
// fitted it, the newest first.
func MeasuredParts(q *Question, p *catalog.Part) (out []*catalog.Part) {
	for i := range q.Used {
		if u := &q.Used[len(q.Used)-1-i]; u.Measured != nil && u.of(p) && u.Measured.Part.FlangeDiameter.Known {
			out = append(out, &catalog.Part{Number: p.Number, FlangeDiameter: u.Measured.Part.FlangeDiameter})
		}
	}
	return out
}

// likeStayed compares the flange, where no bore is on file, with those of parts
// that were fitted and stayed. What is inferred from them raises a question and
// nothing more: it never refuses a part, and never makes one fit.
func (t trial) likeStayed() []result {
	mine := t.c.Part.FlangeDiameter
	if !mine.Known || len(t.field.stayed) == 0 || slices.ContainsFunc(t.field.stayed, func(s stayedFlange) bool { return s.key == partKey(t.c.Part) }) {
		return nil
	}
	a := t.printed(mine).span()
	nearest, apart := t.field.stayed[0], 0.0
	for i, s := range t.field.stayed {
		b := t.printed(s.flange).span()
		if d := max(a.lo-b.hi, b.lo-a.hi, 0); i == 0 || d < apart {
			nearest, apart = s, d
		}
	}
	has, was := t.show.length(mine.Value), t.show.length(nearest.flange.Value)
	f := compat.Finding{
		Check: flangeCheck, Outcome: compat.Yes, Grade: compat.Inferred,
		Origin: cite(from(mine.Origin, nearest.flange.Origin, nearest.used), t.limits.cite(poisonFlange)...),
		Steps:  []string{fmt.Sprintf("flange %s, that of %s, which stayed: %s: at least %s %s apart", has, nearest.number, was, t.show.fine(apart), t.show.lengthUnit())},
	}
	if apart <= t.limits.of(poisonFlange) {
		f.Says = fmt.Sprintf("Flange %s, as that of %s, which was fitted here and stayed.", has, nearest.number)
		return []result{{Finding: f}}
	}
	f.Outcome = compat.Caution
	f.Says = fmt.Sprintf("Flange %s; %s, which was fitted here and stayed, has %s: measure the bore.", has, nearest.number, was)
	return []result{{Finding: f, role: doubt, short: "measure the bore, others stayed", ask: "Measure the bore of the housing.", flag: sizeFlag("bore")}}
}

// stayedFlange is the flange of a part that was fitted to this engine and
// stayed.
type stayedFlange struct {
	key, number string
	flange      catalog.Stated[units.Length]
	used        catalog.Origin
}

// stay notes the flange of a candidate that was fitted to this engine and
// stayed.
func (f *field) stay(t *Tables, q *Question, p *catalog.Part) {
	for i := range q.Used {
		if u := &q.Used[i]; p.FlangeDiameter.Known && u.of(p) && t.stayed(q, u) {
			f.stayed = append(f.stayed, stayedFlange{partKey(p), p.Number, p.FlangeDiameter, u.Origin})
			return
		}
	}
}
