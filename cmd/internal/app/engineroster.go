package app

import (
	"context"
	"maps"
	"slices"

	"fitfill/catalog"
	"fitfill/catalog/sqlite"
)

// roster is the engines that could be meant.
type roster struct {
	engines  []EngineMeant
	families []catalog.EngineFamily
	all      bool // also those that nothing said leads to
	whole    bool // with all their facts
}

// engineRoster returns the engines that could be meant, with what lists say of
// each: of those on file where all is set the ones that nothing said rules out,
// else the ones to which something said leads.
func (s *Shop) engineRoster(ctx context.Context, v *sqlite.View, w vehicleSaid, apps []sqlite.Application, all bool) (roster, error) {
	r := roster{all: all}
	if err := r.readFamilies(ctx, v, w, apps); err != nil {
		return r, err
	}
	families := r.families
	var list []EngineMeant
	at := map[string]int{}
	for i := range families {
		e := engineOf(&families[i])
		for _, k := range e.keys {
			at[k] = len(list)
		}
		list = append(list, e)
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
	r.engines = list
	return r, nil
}

// readFamilies reads the families of the garage's sheets that can be meant: those
// that the applications name, and those that are not surely of another make, of
// other models or of another name than was said. Where an application's engine is
// none of them by name, it may describe any.
func (r *roster) readFamilies(ctx context.Context, v *sqlite.View, w vehicleSaid, apps []sqlite.Application) error {
	listed := map[string]bool{}
	for _, a := range apps {
		if key := catalog.Key(a.Engine); key != "" {
			listed[key] = false
		}
	}
	pick := func(names []string, mk, model string) bool {
		named, said := false, len(w.engines) == 0
		for _, name := range names {
			key := catalog.Key(name)
			if _, ok := listed[key]; ok {
				named, listed[key] = true, true
			}
			said = said || slices.Contains(w.engines, key)
		}
		return named || said && oneOf(mk, w.makes) && oneOf(model, w.models)
	}
	var wanted []sqlite.FamilyName
	if r.all {
		names, err := v.FamilyNames(ctx)
		if err != nil {
			return err
		}
		for _, n := range names {
			if pick(n.Names, n.Make, n.Model) {
				wanted = append(wanted, n)
			}
		}
	} else {
		keys := slices.Concat(slices.Collect(maps.Keys(listed)), w.engines)
		if len(w.engines) == 0 {
			keys = slices.Concat(keys, w.makes, w.models)
		}
		r.whole = len(w.engines) > 0 // of one name there are few
		families, err := v.FamiliesCalled(ctx, keys, !r.whole)
		if err != nil {
			return err
		}
		r.families = families[:0] // a family is large
		for i := range families {
			e := &families[i]
			if !pick(e.Names(), e.Make.Value, e.Model.Value) {
				continue
			}
			if at := len(r.families); at < i {
				families[at] = *e
			}
			r.families = families[:len(r.families)+1]
		}
	}
	var err error
	switch {
	case slices.Contains(slices.Collect(maps.Values(listed)), false):
		r.all, r.whole = true, true
		r.families, err = v.Families(ctx)
	case r.all:
		r.whole = true
		r.families, err = v.FamiliesNamed(ctx, wanted)
	}
	return err
}

// oneOf reports whether a cell has one of the names that were said, or none is
// on file, or none was said.
func oneOf(cell string, keys []string) bool {
	names := splitNames(cell)
	return len(keys) == 0 || len(names) == 0 || slices.ContainsFunc(names, func(n string) bool { return slices.Contains(keys, catalog.Key(n)) })
}
