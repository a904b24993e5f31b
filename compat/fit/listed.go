package fit

import (
	"cmp"
	"fmt"
	"slices"
	"strconv"
	"strings"

	"fitfill/catalog"
	"fitfill/compat"
)

// tally is what the lists come to once copies are counted as one.
type tally struct {
	met     int  // independent lists whose conditions are met
	open    int  // independent lists under a condition nobody has settled
	foreign bool // a list that is not the part's own supplier's speaks for it
}

// row is one listing as read for the vehicle in question.
type row struct {
	*catalog.Fitment
	reading
	group    int // origin; copies of one list share it
	supplier string
}

// listed reads the direct listings of this engine: years, VIN and notes.
// Copies of one list count once; a list that is narrower than another's is a
// contradiction, a supplier's own narrower row is not.
func (t trial) listed() ([]result, tally) {
	rows := make([]row, len(t.c.Listings))
	sayings := make([]statement, 0, len(rows)+1)
	sayings = append(sayings, t.said(catalog.Origin{}, t.c.Part.Supplier))
	for i := range t.c.Listings {
		f := &t.c.Listings[i]
		rows[i] = row{Fitment: f, reading: t.listing(f), supplier: t.lister(f)}
		sayings = append(sayings, t.said(f.Origin, rows[i].supplier))
	}
	groups, _ := origins(sayings)
	best := map[int]state{}
	for i := range rows {
		rows[i].group = groups[i+1]
		if s, ok := best[rows[i].group]; !ok || rows[i].state < s {
			best[rows[i].group] = rows[i].state
		}
	}
	var sum tally
	for g, s := range best {
		switch s {
		case met:
			sum.met++
		case open:
			sum.open++
		}
		sum.foreign = sum.foreign || s <= open && g != groups[0]
	}
	slices.SortStableFunc(rows, func(a, b row) int { // by what is said, not by whose list comes first
		return cmp.Or(cmp.Compare(a.state, b.state), cmp.Compare(a.on, b.on), byOrigin(a.Origin, b.Origin))
	})
	var out []result
	copies := copied(rows)
	for len(rows) > 0 {
		n := alike(rows)
		out = merge(out, t.rowResult(rows[:n], best[rows[0].group], sum))
		rows = rows[n:]
	}
	if copies != "" {
		out = append(out, result{Finding: compat.Finding{Check: "listed", Outcome: compat.Yes, Grade: compat.Listed, Says: copies}})
	}
	return out, sum
}

// listing reads one row. A row for other years or another VIN says nothing
// about this vehicle, so what its note excludes does not matter either.
func (t trial) listing(f *catalog.Fitment) reading {
	r := t.years(f).worse(t.vin(f)).worse(t.resolved(f))
	if r.state == other {
		return r
	}
	for _, text := range []string{f.Make, f.Model, f.Engine} {
		r = r.worse(t.excludedByName(text))
	}
	return r.worse(t.condition(f))
}

// excludedByName reads what the name of an engine excludes: "3.4 V6 exc. HD".
func (t trial) excludedByName(text string) reading {
	r, ok := t.field.names[text]
	if ok {
		return r
	}
	if _, _, ok := t.words.find("exclusion", strings.Fields(catalog.Fold(text))); ok {
		if n := t.note(afterExclusion(t.words, text)); n.state == excepted || n.state == open {
			r = n
		}
	}
	t.field.names[text] = r
	return r
}

// afterExclusion drops what stands before the exclusion in an engine's name:
// the caller has matched that already.
func afterExclusion(w words, text string) string {
	fields := strings.Fields(text)
	for i := range fields {
		if at, _, ok := w.find("exclusion", strings.Fields(catalog.Fold(strings.Join(fields[i:], " ")))); ok && at == 0 {
			return strings.Join(fields[i:], " ")
		}
	}
	return text
}

// lister returns whose list a listing stands in.
func (t trial) lister(f *catalog.Fitment) string {
	if f.Origin.Supplier == "" {
		return t.c.Part.Supplier
	}
	return f.Origin.Supplier
}

// rowResult says what rows of one supplier that read alike come to.
func (t trial) rowResult(rows []row, best state, sum tally) result {
	r := rows[0]
	f := compat.Finding{Check: "listed", Grade: compat.Listed}
	for _, r := range rows {
		f.Origin = cite(f.Origin, from(r.Origin)...)
	}
	what := fmt.Sprintf("%s lists it for %s", orGarage(r.supplier), describeAll(rows))
	res := result{ask: r.ask, flag: r.flag}
	switch r.state {
	case met:
		f.Outcome, res.role = compat.Yes, listed
		f.Says = what + "."
		if r.Condition != "" {
			f.Says = what + "; note: " + oneLine(r.Condition) + howRead(r.Answered) + "."
		}
	case open:
		f.Outcome, res.role, res.short = compat.Caution, unsettled, "ask about "+r.on
		what += howRead(r.Answered)
		f.Says = fmt.Sprintf("%s, which hangs on %s.", what, r.on)
		if best == met { // the supplier's other row covers the vehicle without it
			f.Outcome, res.role, res.ask = compat.Yes, note, ""
		} else if sum.met > 0 {
			res.role = doubt
			f.Says = fmt.Sprintf("%s, which hangs on %s; another list does not ask.", what, r.on)
		}
	case other:
		f.Outcome, res.role, res.short = compat.Caution, elsewhere, "lists disagree on "+r.on
		f.Says = fmt.Sprintf("%s, not for %s.", what, r.on)
		if names := t.field.listing(t.q.Year, r.supplier); t.q.Year != 0 && len(names) > 0 && r.on == strconv.Itoa(t.q.Year) {
			f.Says = fmt.Sprintf("%s, not for %s; for that year %s %s parts for this engine.", what, r.on, inWords(names), verb(len(names), "lists", "list"))
		}
		if best <= open {
			f.Outcome, res.role = compat.Yes, note
		} else if sum.met > 0 {
			res.role = doubt
			res.ask, res.flag = "When was it built? The lists disagree on "+r.on+".", FlagBuilt
			f.Says = fmt.Sprintf("%s, not for %s; another list includes it.", what, r.on)
		}
	case excepted:
		f.Check, f.Outcome, res.role, res.short = "excluded", compat.No, excluded, "the list excludes "+r.on
		f.Says = fmt.Sprintf("%s but excludes %s, which this is.", what, r.on)
	}
	res.Finding = f
	return res
}

// merge adds a result; rows that say the same become one with every line.
func merge(list []result, r result) []result {
	for i := range list {
		if list[i].Says == r.Says && list[i].role == r.role {
			list[i].Origin = cite(list[i].Origin, r.Origin...)
			return list
		}
	}
	return append(list, r)
}
