package fit

import (
	"fmt"

	"fitfill/catalog"
	"fitfill/catalog/units"
	"fitfill/compat"
)

// ratingAmongLists compares the rating of a part with what the other lists give
// an engine whose own rating is not on file. A rating that no more lists share
// than contradict is a doubt; lists alone never make it a no.
func (t trial) ratingAmongLists() []result {
	nothing := unchecked(ratingCheck, "opening temperature of the engine", "The engine's opening temperature is not on file.")
	at, ok := t.opening(t.c.Part)
	if !ok {
		return []result{nothing}
	}
	with, agreeing := t.field.lists(func(r rated) bool { return !t.conflicting(r.at, at) })
	without, differing := t.field.lists(func(r rated) bool { return t.conflicting(r.at, at) })
	f := compat.Finding{
		Check: ratingCheck, Grade: compat.Listed,
		Origin: cite(from(append(append([]catalog.Origin{t.c.Part.OpeningTemp.Origin}, agreeing...), differing...)...), t.limits.cite(ratingConflict)...),
	}
	has := t.show.temperature(at)
	switch {
	case without == 0 && with <= 1:
		nothing.Says = fmt.Sprintf("Opens at %s; the engine's opening temperature is not on file and no other list states one.", has)
		return []result{nothing}
	case without == 0:
		f.Outcome, f.Says = compat.Yes, fmt.Sprintf("Opens at %s, as %s for this engine say; the engine's own is not on file.", has, counted(with, "list"))
		return []result{{Finding: f}}
	}
	others := t.show.temperature(t.field.mostListed(func(r rated) bool { return t.conflicting(r.at, at) }))
	if with > without {
		f.Outcome, f.Says = compat.Yes, fmt.Sprintf("Opens at %s, as %s say; %s gives this engine %s.", has, counted(with, "list"), counted(without, "list"), others)
		return []result{{Finding: f}}
	}
	f.Outcome = compat.Caution
	f.Says = fmt.Sprintf("Opens at %s, but %s for this engine give %s.", has, counted(without, "list"), others)
	return []result{{Finding: f, role: doubt, short: "lists disagree on the rating", ask: "What is stamped on the old thermostat?"}}
}

// mostListed returns the rating that the most independent lists give, the
// coldest of several.
func (f *field) mostListed(keep func(rated) bool) units.Temperature {
	var best units.Temperature
	most := 0
	for _, r := range f.ratings {
		if !keep(r) {
			continue
		}
		if n, _ := f.lists(func(o rated) bool { return keep(o) && o.at == r.at }); n > most {
			best, most = r.at, n
		}
	}
	return best
}
