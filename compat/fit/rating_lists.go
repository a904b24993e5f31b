package fit

import (
	"fmt"
	"slices"

	"fitfill/catalog"
	"fitfill/catalog/units"
	"fitfill/compat"
)

// ratingAmongLists compares the rating of a part with what the other lists give
// an engine whose own rating is not on file. Two lists that are independent of
// each other make a rating one of the engine's, even where more of them give
// another (an engine may take several; which is the usual one is said); one list
// against others is a doubt. The stamp of the old thermostat settles it. Lists
// alone never make it a no.
func (t trial) ratingAmongLists() []result {
	nothing := unchecked(ratingCheck, "opening temperature of the engine", "The engine's opening temperature is not on file.")
	at, ok := t.opening(t.c.Part)
	if !ok {
		return []result{nothing}
	}
	if t.q.Old.OpeningTemp.Known {
		return []result{t.likeOldStamp(at)}
	}
	n := t.count(at)
	f := compat.Finding{
		Check: ratingCheck, Outcome: compat.Yes, Grade: compat.Listed,
		Origin: cite(from(slices.Concat([]catalog.Origin{t.c.Part.OpeningTemp.Origin}, n.agreeing, n.opposing)...), t.limits.cite(ratingConflict)...),
	}
	has, others := t.show.temperature(at), t.show.temperature(n.usual)
	switch {
	case n.without == 0 && n.with <= 1:
		nothing.Says = fmt.Sprintf("Opens at %s; the engine's opening temperature is not on file and no other list states one.", has)
		return []result{nothing}
	case n.without == 0:
		f.Says = fmt.Sprintf("Opens at %s, as %s for this engine %s; the engine's own is not on file.", has, counted(n.with, "list"), verb(n.with, "says", "say"))
		return []result{{Finding: f}}
	case n.with > n.without:
		f.Says = fmt.Sprintf("Opens at %s, the usual rating by %s; %s %s this engine %s.", has, counted(n.with, "list"), counted(n.without, "list"), verb(n.without, "gives", "give"), others)
		return []result{{Finding: f}}
	case n.with > 1:
		f.Says = fmt.Sprintf("Opens at %s, by %s; the usual rating is %s by %s.", has, counted(n.with, "list"), others, counted(n.without, "list"))
		if n.with == n.without {
			f.Says = fmt.Sprintf("Opens at %s, by %s; %s this engine %s.", has, counted(n.with, "list"), verb(n.without, "another gives", "as many give"), others)
		}
		return []result{{Finding: f}}
	}
	f.Outcome = compat.Caution
	f.Says = fmt.Sprintf("Opens at %s, but %s for this engine %s %s.", has, counted(n.without, "list"), verb(n.without, "gives", "give"), others)
	return []result{{Finding: f, role: doubt, short: "lists disagree on the rating", ask: oldStamp, flag: sizeFlag("stamp")}}
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
