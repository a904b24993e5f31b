package fit

import (
	"slices"
	"strings"
	"unicode"

	"fitfill/catalog"
	"fitfill/catalog/units"
)

// Resolve reads whether a listing is for an engine family, by what its text
// says: the family's name with more around it, or make, model, size, cylinders,
// fuel, VIN character and years as the garage's sheet of engines has them. It
// returns the listing with what the text adds (years, VIN character), the other
// families of the sheet that the same words mean, and the words that nothing on
// file settles. ok is false where the listing is for another engine, or too
// little is said to tell.
func (t *Tables) Resolve(f catalog.Fitment, family *catalog.EngineFamily, all []catalog.EngineFamily) (catalog.Fitment, bool) {
	m, ok := t.matches(&f, family, all)
	if !ok {
		return f, false
	}
	r := &catalog.Resolved{Family: family.Family, Words: m.words, NoEngine: m.modelOnly}
	for i := range all {
		if catalog.Key(all[i].Family) == catalog.Key(family.Family) {
			continue
		}
		if o, ok := t.matches(&f, &all[i], all); ok && o.named == m.named {
			r.Others = append(r.Others, all[i])
		}
	}
	if m.text.years != "" {
		f.Years, f.YearsText = narrower(f.Years, f.YearsText, m.text.years)
	}
	if f.VIN8 == "" {
		f.VIN8 = m.text.vin8
	}
	f.Resolved = r
	return f, true
}

// Describe returns the families that words such as "3.0 V6" or "VIN T" mean, a
// make among them or not.
func (t *Tables) Describe(text string, all []catalog.EngineFamily) (found []catalog.EngineFamily) {
	for i := range all {
		f := catalog.Fitment{Engine: text, Make: all[i].Make.Value}
		if m, ok := t.matches(&f, &all[i], all); ok && len(m.words) == 0 && !m.modelOnly {
			found = append(found, all[i])
		}
	}
	return found
}

// match is how a text means a family.
type match struct {
	text      engineText
	named     bool     // by its name
	modelOnly bool     // the text names a model and no engine
	words     []string // not settled by what is on file
}

func (t *Tables) matches(f *catalog.Fitment, e *catalog.EngineFamily, all []catalog.EngineFamily) (m match, ok bool) {
	written := f.Engine
	if catalog.Fold(written) == "" {
		written = f.Model
	}
	m.text = t.engineText(written)
	var name []string
	m.named, name = t.namedIn(m.text.main, e)
	if !m.named {
		for i := range all {
			if other, _ := t.namedIn(m.text.main, &all[i]); other {
				return m, false // it names another one
			}
		}
	}
	if !t.sameVehicle(f, e, &m) || !t.sameEngine(e, &m) {
		return m, false
	}
	if years, _ := narrower(f.Years, f.YearsText, m.text.years); e.Years.Known && len(years.Ranges) > 0 && !meet(years.Ranges, e.Years.Value.Ranges) {
		return m, false
	}
	known := strings.Fields(catalog.Fold(strings.Join(append(e.Names(), e.Make.Value, e.Model.Value, f.Make, f.Model), " ; ")))
	rest := m.text.words
	for {
		at, n, ok := t.words.find("qualifier", rest)
		if !ok {
			break
		}
		m.words = append(m.words, strings.Join(rest[at:at+n], " "))
		rest = slices.Delete(slices.Clone(rest), at, at+n)
	}
	for _, w := range rest {
		switch {
		case slices.Contains(name, w), slices.Contains(known, w):
		case strings.ContainsFunc(w, unicode.IsDigit):
			return m, false // a code of another engine
		default:
			m.words = append(m.words, w)
		}
	}
	return m, true
}

// namedIn reports whether one of the family's names stands in the text, and
// the words of the longest that does. A name that only describes ("3.8 V6")
// is no name.
func (t *Tables) namedIn(text string, e *catalog.EngineFamily) (named bool, words []string) {
	tokens := strings.Fields(catalog.Fold(text))
	for _, n := range e.Names() {
		phrase := strings.Fields(catalog.Fold(n))
		if d := t.engineText(n); len(phrase) <= len(words) || d.describes() || !within(tokens, phrase) {
			continue
		}
		named, words = true, phrase
	}
	return named, words
}

// sameVehicle compares make and model; a make that one side does not state is
// left to be asked. A text that describes a family without naming it needs the
// model too, where both state one.
func (t *Tables) sameVehicle(f *catalog.Fitment, e *catalog.EngineFamily, m *match) bool {
	if m.named {
		return true
	}
	mine, theirs := list(e.Make.Value), catalog.Fold(f.Make)
	if len(mine) == 0 || theirs == "" {
		return false
	}
	if !slices.ContainsFunc(mine, func(s string) bool { return catalog.Fold(s) == theirs }) {
		return false
	}
	model := strings.Fields(catalog.Fold(f.Model))
	models := list(e.Model.Value)
	if len(model) == 0 || len(models) == 0 {
		return !(len(m.text.sizes) == 0 && m.text.vin8 == "") // nothing but a make
	}
	return slices.ContainsFunc(models, func(s string) bool {
		words := strings.Fields(catalog.Fold(s))
		return within(model, words) || within(words, model)
	})
}

// sameEngine compares what the text says of the engine with what is on file.
func (t *Tables) sameEngine(e *catalog.EngineFamily, m *match) bool {
	x := &m.text
	size := len(x.sizes) == 0
	for _, s := range x.sizes {
		size = size || e.Displacement.Known && t.SameSize(s, e.Displacement.Value)
	}
	vin := catalog.Key(e.VIN8.Value)
	switch {
	case x.cylinders != 0 && e.Cylinders.Known && e.Cylinders.Value != catalog.CountOf(int64(x.cylinders)*1000),
		x.vin8 != "" && vin != "" && !strings.Contains(vin, x.vin8),
		x.fuel != "" && e.Fuel.Known && !sameFuel(catalog.Fold(e.Fuel.Value), x.fuel):
		return false
	case m.named:
		return size || !e.Displacement.Known
	case !size:
		return false
	}
	m.modelOnly = len(x.sizes) == 0 && (x.vin8 == "" || vin == "")
	return true
}

// sameFuel tells diesel from the rest: petrol has several names.
func sameFuel(a, b string) bool { return a == b || a != "diesel" && b != "diesel" }

// list splits a cell that may hold several names.
func list(text string) []string {
	parts := strings.FieldsFunc(text, func(r rune) bool { return strings.ContainsRune(";,|/", r) })
	return slices.DeleteFunc(parts, func(s string) bool { return catalog.Fold(s) == "" })
}

// narrower returns the years that a listing and the text of its engine state
// together. Years that cannot be read stay as text, to be asked about.
func narrower(y units.ModelYears, text, inEngine string) (units.ModelYears, string) {
	if inEngine == "" {
		return y, text
	}
	own, err := units.ParseModelYears(inEngine)
	switch {
	case err != nil && !y.Stated():
		return y, inEngine
	case err != nil || len(own.Ranges) == 0:
		return y, text
	case len(y.Ranges) == 0:
		return own, inEngine
	}
	var both units.ModelYears
	for _, a := range y.Ranges {
		for _, b := range own.Ranges {
			if a.Overlaps(b) {
				both.Ranges = append(both.Ranges, units.YearRange{From: max(a.From, b.From), To: earlier(a.To, b.To)})
			}
		}
	}
	if len(both.Ranges) == 0 {
		return own, inEngine
	}
	return both, text + ", " + inEngine
}

// earlier returns the earlier of two ends; zero is an open one.
func earlier(a, b int32) int32 {
	switch {
	case a == 0:
		return b
	case b == 0:
		return a
	}
	return min(a, b)
}

// resolved says what a listing that describes its engine leaves open: other
// families that the same words mean, words that nothing on file settles, or an
// engine that is not named at all.
func (t trial) resolved(f *catalog.Fitment) reading {
	r := f.Resolved
	if r == nil {
		return reading{}
	}
	var others []string
	byYear := t.q.Year == 0
	for _, o := range r.Others {
		if t.q.Year != 0 && o.Years.Known {
			if _, part := o.Years.Value.Covers(t.q.Year); !part {
				continue
			}
		}
		byYear = byYear && o.Years.Known && t.q.Engine.Years.Known
		others = append(others, o.Family)
	}
	switch {
	case len(others) > 0:
		out := reading{state: open, on: "which engine is meant: " + strings.Join(append([]string{r.Family}, others...), " or "), ask: "Compare it with the old part: the list's words mean " + strings.Join(others, " or ") + " too."}
		if byYear && !slices.ContainsFunc(r.Others, func(o catalog.EngineFamily) bool { return meet(o.Years.Value.Ranges, t.q.Engine.Years.Value.Ranges) }) {
			out.ask, out.flag = "Which model year?", FlagYear
		}
		return out
	case r.NoEngine:
		return reading{state: open, on: "the engine, which the list does not name", ask: "Compare it with the old part: the list names the model, not the engine."}
	}
	out := reading{}
	for _, w := range r.Words {
		c := noteCase{clause: w, tokens: strings.Fields(w)}
		switch fits, known := t.applies(c); {
		case !known:
			out = out.worse(c.open(f.Engine))
		case !fits:
			return reading{state: other, on: c.on()}
		}
	}
	return out
}
