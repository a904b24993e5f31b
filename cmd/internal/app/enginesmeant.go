package app

import (
	"context"
	"fmt"
	"slices"
	"strings"

	"fitfill/catalog"
	"fitfill/catalog/sqlite"
	"fitfill/compat"
)

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
// next one who says the same. First it looks at the engines to which a name, a
// make or a model that was said leads. No other one can have more confirmed than
// what else was said, so where one of them has, the others need not be read.
func (s *Shop) matchEngines(ctx context.Context, v *sqlite.View, w vehicleSaid) ([]EngineMeant, error) {
	limits, err := s.findLimits()
	if err != nil {
		return nil, err
	}
	apps, err := s.saidApplications(ctx, v, w)
	if err != nil {
		return nil, err
	}
	leads := len(w.engines)+len(w.makes)+len(w.models) > 0
	r, err := s.engineRoster(ctx, v, w, apps, !leads)
	if err != nil {
		return nil, err
	}
	left, best := agreeing(r.engines, w, limits)
	if !r.all && len(w.engines) == 0 && best <= w.besides() {
		if r, err = s.engineRoster(ctx, v, w, apps, true); err != nil {
			return nil, err
		}
		left, _ = agreeing(r.engines, w, limits)
	}
	if !r.whole && len(left) <= mostJudged {
		err = wholeFacts(ctx, v, left)
	}
	return left, err
}

// agreeing returns the engines that agree with what was said, by name, without
// those that have less of it confirmed than the best, and how much that has.
func agreeing(all []EngineMeant, w vehicleSaid, limits findLimits) (left []EngineMeant, best int) {
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
	return left, best
}

// wholeFacts reads all facts of engines of which only those were read that tell
// them apart: of so few, parts may be judged.
func wholeFacts(ctx context.Context, v *sqlite.View, list []EngineMeant) error {
	var keys []string
	for _, e := range list {
		if e.family != nil {
			keys = append(keys, catalog.Key(e.family.Family))
		}
	}
	if len(keys) == 0 {
		return nil
	}
	families, err := v.FamiliesCalled(ctx, keys, false)
	for i := range list {
		at := slices.IndexFunc(families, func(f catalog.EngineFamily) bool { return list[i].family != nil && f.Family == list[i].family.Family })
		if at >= 0 {
			list[i].family = &families[at]
		}
	}
	return err
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
