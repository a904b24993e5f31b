package app

import (
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

// besides counts what was said beside names of engines, makes and models.
func (w vehicleSaid) besides() (n int) {
	for _, said := range []bool{w.displacement.Known, w.cylinders > 0, w.fuel != "", w.electrified, w.vin8 != "", len(w.years) > 0} {
		if said {
			n++
		}
	}
	return n
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

	family *catalog.EngineFamily // nil where only lists name it; of more than mostJudged perhaps without the facts that parts are judged by
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
