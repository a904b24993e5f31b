package app

import (
	"cmp"
	"context"
	"fmt"
	"math"
	"slices"
	"strings"

	"fitfill/catalog"
	"fitfill/catalog/sqlite"
	"fitfill/catalog/units"
	"fitfill/compat"
)

// vehicleSaid is what a sentence, a VIN or a vehicle's record says of an
// engine. What is empty was not said.
type vehicleSaid struct {
	engines       []string // keys of engine names
	makes, models []string // keys
	years         []int
	displacement  catalog.Stated[units.Volume]
	cylinders     int
	fuel          string
	electrified   bool
	vin8          string
}

// names reports whether anything was said that tells engines apart; a year
// alone does not.
func (w vehicleSaid) names() bool {
	return len(w.engines)+len(w.makes)+len(w.models) > 0 || w.displacement.Known || w.vin8 != "" || w.cylinders > 0 || w.electrified || w.fuel != ""
}

// EngineMeant is an engine that a text may mean.
type EngineMeant struct {
	Engine       string            `json:"engine"`
	Displacement string            `json:"displacement,omitempty"`
	Cylinders    int               `json:"cylinders,omitempty"`
	Fuel         string            `json:"fuel,omitempty"`
	Makes        []string          `json:"makes,omitempty"`
	Models       []string          `json:"models,omitempty"`
	Years        []string          `json:"years,omitempty"`
	Why          string            `json:"why,omitempty"`
	Guess        bool              `json:"guess,omitempty"` // nothing on file says so; a like vehicle had it
	Origin       []compat.Evidence `json:"origin,omitempty"`

	family *catalog.EngineFamily // nil where only lists name it
	keys   []string              // folded names under which lists may write it
	apps   []sqlite.Application
	sure   int // how many of the things said its facts confirm

	described []string // folded texts by which lists describe it: "3.0 V6 '94-99"
}

// facts are what the garage's own sheets say of the engine; of one that only
// lists name, nothing.
func (e *EngineMeant) facts() *catalog.EngineFamily {
	if e.family == nil {
		return &catalog.EngineFamily{}
	}
	return e.family
}

// known are the engine's facts under the name by which it is asked for.
func (e *EngineMeant) known() catalog.EngineFamily {
	f := *e.facts()
	if f.Family == "" {
		f.Family = e.Engine
	}
	return f
}

// Plate names an engine with what tells it from its neighbours.
func (e EngineMeant) Plate() string {
	parts := []string{e.Engine}
	if e.Displacement != "" {
		parts = append(parts, e.Displacement)
	}
	if e.Cylinders > 0 {
		parts = append(parts, fmt.Sprintf("%d cyl.", e.Cylinders))
	}
	if e.Fuel != "" {
		parts = append(parts, e.Fuel)
	}
	return strings.Join(parts, ", ")
}

// enginesMeant returns the engines that agree with everything said, by name:
// those of the garage's own sheets and those that lists name. A fact that is
// not on file neither confirms nor rules out, but an engine whose facts confirm
// more leaves one that only lacks them behind.
func (s *Shop) enginesMeant(ctx context.Context, v *sqlite.View, w vehicleSaid) ([]EngineMeant, error) {
	if !w.names() {
		return nil, nil
	}
	list, err := sqlite.Keep(v, fmt.Sprintf("engines %s %+v", s.ownState, w), func() ([]EngineMeant, error) { return s.matchEngines(ctx, v, w) })
	return slices.Clone(list), err
}

// matchEngines does the work of enginesMeant, which keeps what it made for the
// next one who says the same.
func (s *Shop) matchEngines(ctx context.Context, v *sqlite.View, w vehicleSaid) ([]EngineMeant, error) {
	all, err := s.engineRoster(ctx, v, w)
	if err != nil {
		return nil, err
	}
	limits, err := s.findLimits()
	if err != nil {
		return nil, err
	}
	var left []EngineMeant
	best := 0
	for _, e := range all {
		if !e.agrees(w, limits) {
			continue
		}
		left = append(left, e)
		best = max(best, e.sure)
	}
	left = slices.DeleteFunc(left, func(e EngineMeant) bool { return e.sure < best })
	slices.SortFunc(left, func(a, b EngineMeant) int { return strings.Compare(a.Engine, b.Engine) })
	for i := range left {
		left[i].Origin = slices.Clip(left[i].Origin) // whoever asked may add to it
	}
	return left, nil
}

// engineRoster returns the engines that could be meant at all, with what lists
// say of each.
func (s *Shop) engineRoster(ctx context.Context, v *sqlite.View, w vehicleSaid) ([]EngineMeant, error) {
	families, err := v.Families(ctx)
	if err != nil {
		return nil, err
	}
	var list []EngineMeant
	at := map[string]int{}
	for i := range families {
		e := engineOf(&families[i])
		for _, k := range e.keys {
			at[k] = len(list)
		}
		list = append(list, e)
	}
	apps, err := s.saidApplications(ctx, v, w)
	if err != nil {
		return nil, err
	}
	for _, a := range apps {
		key := catalog.Key(a.Engine)
		if key == "" {
			continue
		}
		i, known := at[key]
		if !known {
			if described := s.fit().Describe(a.Engine, families); len(described) > 0 {
				for _, f := range described { // "3.0 V6 '94-99" is no engine of its own
					d := &list[at[catalog.Key(f.Family)]]
					d.listed(a)
					if !slices.Contains(d.described, key) {
						d.described = append(d.described, key)
					}
				}
				continue
			}
			i = len(list)
			at[key] = i
			list = append(list, EngineMeant{Engine: a.Engine, keys: []string{key}})
		}
		list[i].listed(a)
	}
	return list, nil
}

// listed adds what a list says of the engine.
func (e *EngineMeant) listed(a sqlite.Application) {
	e.apps = append(e.apps, a)
	e.Makes, e.Models = addName(e.Makes, a.Make), addName(e.Models, a.Model)
	if a.YearsText != "" && !slices.Contains(e.Years, a.YearsText) {
		e.Years = append(e.Years, a.YearsText)
	}
}

// saidApplications reads the applications that what was said leads to.
func (s *Shop) saidApplications(ctx context.Context, v *sqlite.View, w vehicleSaid) ([]sqlite.Application, error) {
	switch {
	case len(w.engines) > 0:
		return v.ApplicationsOfEngine(ctx, w.engines)
	case len(w.makes)+len(w.models) > 0:
		return v.Applications(ctx, w.makes, w.models)
	case w.vin8 != "":
		return v.ApplicationsOfVIN8(ctx, w.vin8)
	}
	return nil, nil
}

func addName(list []string, name string) []string {
	if name == "" || slices.ContainsFunc(list, func(n string) bool { return catalog.Key(n) == catalog.Key(name) }) {
		return list
	}
	return append(list, name)
}

// engineOf fills what the garage's own sheets say of an engine.
func engineOf(f *catalog.EngineFamily) EngineMeant {
	e := EngineMeant{Engine: f.Family, Fuel: f.Fuel.Value, family: f}
	for _, n := range f.Names() {
		if k := catalog.Key(n); k != "" {
			e.keys = append(e.keys, k)
		}
	}
	e.Makes = splitNames(f.Make.Value)
	e.Models = splitNames(f.Model.Value)
	if f.Displacement.Known {
		e.Displacement = fmt.Sprintf("%.1f L", f.Displacement.Value.Litres())
	}
	if f.Cylinders.Known {
		e.Cylinders = int(f.Cylinders.Value.Thousandths() / 1000)
	}
	if f.Years.Known {
		e.Years = []string{f.Years.Text}
		e.Origin = append(e.Origin, compat.From(f.Years.Origin))
	}
	return e
}

func splitNames(text string) []string {
	var list []string
	for _, n := range strings.FieldsFunc(text, func(r rune) bool { return r == ',' || r == ';' || r == '|' }) {
		if n = strings.TrimSpace(n); n != "" {
			list = append(list, n)
		}
	}
	return list
}

// agrees counts how much of what was said the engine's facts confirm, and
// reports false where one of them contradicts.
func (e *EngineMeant) agrees(w vehicleSaid, l findLimits) bool {
	e.sure = 0
	check := func(said, known, same bool) bool {
		if !said || !known {
			return true
		}
		if same {
			e.sure++
		}
		return same
	}
	f := e.facts()
	within := func(names []string, keys []string) bool {
		return slices.ContainsFunc(names, func(n string) bool { return slices.Contains(keys, catalog.Key(n)) })
	}
	displacement := func() bool {
		return sameDisplacement(f.Displacement.Value, w.displacement.Value, l["displacement_same"])
	}
	return check(len(w.engines) > 0, true, slices.ContainsFunc(e.keys, func(k string) bool { return slices.Contains(w.engines, k) })) &&
		check(len(w.makes) > 0, len(e.Makes) > 0, within(e.Makes, w.makes)) &&
		check(len(w.models) > 0, len(e.Models) > 0, within(e.Models, w.models)) &&
		check(w.displacement.Known, f.Displacement.Known, displacement()) &&
		check(w.cylinders > 0, e.Cylinders > 0, e.Cylinders == w.cylinders) &&
		check(w.fuel != "", f.Fuel.Known, strings.EqualFold(f.Fuel.Value, w.fuel)) &&
		check(w.electrified, f.Electrified.Known || f.Family != "", f.Electrified.Value) &&
		check(w.vin8 != "", true, e.hasVIN8(w.vin8)) &&
		check(len(w.years) > 0, e.saysYears(), e.coversYears(w))
}

// sameDisplacement reports whether two engine sizes are one: no further apart
// than the limit in cc, and the same tenth of a litre.
func sameDisplacement(a, b units.Volume, limit float64) bool {
	tenth := func(v units.Volume) float64 { return math.Round(v.Litres() * 10) }
	return math.Abs(a.Litres()-b.Litres())*1000 <= limit && tenth(a) == tenth(b)
}

func (e *EngineMeant) hasVIN8(c string) bool {
	if c8 := e.facts().VIN8; c8.Known {
		return slices.ContainsFunc(splitNames(c8.Value), func(n string) bool { return strings.EqualFold(n, c) })
	}
	return slices.ContainsFunc(e.apps, func(a sqlite.Application) bool { return strings.EqualFold(a.VIN8, c) })
}

func (e *EngineMeant) saysYears() bool {
	return e.facts().Years.Known || slices.ContainsFunc(e.apps, func(a sqlite.Application) bool { return a.Years.Stated() })
}

// coversYears reports whether one of the years is one of the engine's: of the
// model that was said where lists state that model's years, else of the engine.
func (e *EngineMeant) coversYears(w vehicleSaid) bool {
	in := func(m units.ModelYears) bool {
		return slices.ContainsFunc(w.years, func(y int) bool {
			_, some := m.Covers(y)
			return some
		})
	}
	stated := false
	for _, a := range e.apps {
		if len(w.models) > 0 && !slices.Contains(w.models, catalog.Key(a.Model)) || len(a.Years.Ranges) == 0 {
			continue
		}
		stated = true
		if in(a.Years) {
			return true
		}
	}
	return !(stated && len(w.models) > 0) && e.facts().Years.Known && in(e.facts().Years.Value)
}

// askWhichEngine is the question that tells the engines apart at the counter,
// the cheapest first: displacement, then fuel, then the model year.
func askWhichEngine(list []EngineMeant) string {
	if len(list) < 2 {
		return ""
	}
	for _, q := range []struct {
		ask string
		of  func(EngineMeant) string
	}{
		{"Which engine size: ", func(e EngineMeant) string { return e.Displacement }},
		{"Which fuel: ", func(e EngineMeant) string { return e.Fuel }},
		{"How many cylinders: ", func(e EngineMeant) string { return strings.Trim(fmt.Sprint(e.Cylinders), "0") }},
	} {
		var values []string
		for _, e := range list {
			if v := q.of(e); v != "" {
				values = addName(values, v)
			}
		}
		if len(values) > mostChoices {
			break
		}
		if len(values) == len(list) || len(values) > 1 && q.ask == "Which engine size: " {
			slices.SortFunc(values, cmp.Compare)
			return q.ask + strings.Join(values, " or ") + "?"
		}
	}
	if len(list) > mostChoices {
		return "Which model, year and engine size?"
	}
	return "Which engine: " + strings.Join(engineNamesOf(list), " or ") + "?"
}

// mostChoices is how many choices a question may name.
const mostChoices = 6

func engineNamesOf(list []EngineMeant) []string {
	var names []string
	for _, e := range list {
		names = append(names, e.Engine)
	}
	return names
}
