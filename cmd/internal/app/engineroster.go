package app

import (
	"context"
	"slices"

	"fitfill/catalog"
	"fitfill/catalog/sqlite"
)

// engineRoster returns the engines that could be meant at all, with what lists
// say of each.
func (s *Shop) engineRoster(ctx context.Context, v *sqlite.View, w vehicleSaid) ([]EngineMeant, error) {
	apps, err := s.saidApplications(ctx, v, w)
	if err != nil {
		return nil, err
	}
	families, err := rosterFamilies(ctx, v, w, apps)
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

// rosterFamilies returns the families of the garage's sheets that can be meant:
// those that the applications name, and those that are not surely of another
// make, of other models or of another name than was said. Where an application's
// engine is none of them by name, it may describe any.
func rosterFamilies(ctx context.Context, v *sqlite.View, w vehicleSaid, apps []sqlite.Application) ([]catalog.EngineFamily, error) {
	names, err := v.FamilyNames(ctx)
	if err != nil {
		return nil, err
	}
	listed := map[string]bool{}
	for _, a := range apps {
		if key := catalog.Key(a.Engine); key != "" {
			listed[key] = false
		}
	}
	oneOf := func(text string, keys []string) bool { // or not on file, or not asked for
		names := splitNames(text)
		return len(keys) == 0 || len(names) == 0 || slices.ContainsFunc(names, func(n string) bool { return slices.Contains(keys, catalog.Key(n)) })
	}
	var wanted []sqlite.FamilyName
	for _, n := range names {
		named, said := false, len(w.engines) == 0
		for _, name := range n.Names {
			key := catalog.Key(name)
			if _, ok := listed[key]; ok {
				named, listed[key] = true, true
			}
			said = said || slices.Contains(w.engines, key)
		}
		if named || said && oneOf(n.Make, w.makes) && oneOf(n.Model, w.models) {
			wanted = append(wanted, n)
		}
	}
	for _, byName := range listed {
		if !byName {
			return v.Families(ctx)
		}
	}
	return v.FamiliesNamed(ctx, wanted)
}
