package app

import (
	"context"
	"errors"
	"fmt"
	"maps"
	"slices"
	"strings"

	"fitfill/catalog"
	"fitfill/catalog/sqlite"
)

// listedFor returns the listings of an engine by part: those that name it,
// those that describe it ("3.4 V6 '93-02") as the garage's sheet of engines has
// it, and those of its make that name a model only. Where types are named, parts
// that no sheet calls one of them may be left out.
func (s *Shop) listedFor(ctx context.Context, v *sqlite.View, keys []string, family *catalog.EngineFamily, types []string) (map[int64][]catalog.Fitment, error) {
	var names, described []string // keys
	for _, k := range keys {
		if family.Make.Known && s.describesOnly(k, family) {
			described = append(described, k)
		} else {
			names = append(names, k)
		}
	}
	listed, err := v.ListedFor(ctx, names, types...)
	if err != nil {
		return nil, err
	}
	like, err := v.EngineKeysLike(ctx, s.patterns(family))
	if err != nil {
		return nil, err
	}
	like = slices.Compact(slices.Sorted(slices.Values(append(like, described...))))
	like = slices.DeleteFunc(like, func(k string) bool { return slices.Contains(names, k) })
	more, err := v.ListedFor(ctx, like, types...)
	if err != nil {
		return nil, err
	}
	if err := s.resolve(ctx, v, listed, more, family); err != nil {
		return nil, err
	}
	if !family.Make.Known || !family.Model.Known {
		return listed, nil
	}
	if more, err = v.ListedForMake(ctx, family.Make.Value, types...); err != nil {
		return nil, err
	}
	return listed, s.resolve(ctx, v, listed, more, family)
}

// resolve adds to listed those of more that are for the family.
func (s *Shop) resolve(ctx context.Context, v *sqlite.View, listed, more map[int64][]catalog.Fitment, family *catalog.EngineFamily) error {
	if len(more) == 0 {
		return nil
	}
	all, err := v.Families(ctx)
	if err != nil {
		return err
	}
	for _, id := range slices.Sorted(maps.Keys(more)) {
		for _, f := range more[id] {
			if r, ok := s.fit().Resolve(f, family, all); ok {
				listed[id] = append(listed[id], r)
			}
		}
	}
	return nil
}

// describesOnly reports whether the name of a family that folds to key only
// describes it ("3.8 V6"): then the list must be of its make.
func (s *Shop) describesOnly(key string, family *catalog.EngineFamily) bool {
	for _, n := range family.Names() {
		if catalog.Key(n) == key {
			return s.fit().DescribesEngine(n)
		}
	}
	return false
}

// describesAny reports whether the words of a list for an engine mean one of
// the families.
func (s *Shop) describesAny(t sqlite.EngineText, families []catalog.EngineFamily) bool {
	for i := range families {
		for _, m := range t.Makes {
			if _, ok := s.fit().Resolve(catalog.Fitment{Make: m, Engine: t.Text}, &families[i], families); ok {
				return true
			}
		}
	}
	return false
}

// patterns are what an engine text holds that may describe the family.
func (s *Shop) patterns(family *catalog.EngineFamily) []string {
	var out []string
	for _, n := range family.Names() {
		if !s.fit().DescribesEngine(n) && catalog.Fold(n) != "" {
			out = append(out, "%"+n+"%")
		}
	}
	if !family.Make.Known {
		return out
	}
	if d := family.Displacement; d.Known {
		badge := fmt.Sprintf("%.1f", d.Value.Litres())
		out = append(out, "%"+badge+"%", "%"+badge[:len(badge)-2]+","+badge[len(badge)-1:]+"%", "%cc%", "%cm%", "%ci%", "%cu%in%", "%in3%")
	}
	if family.VIN8.Known {
		out = append(out, "%vin%", "%8th%")
	}
	return out
}

// SeveralEngines says that the words for an engine mean several families.
type SeveralEngines struct{ Name, Which, Hint string }

// Error returns the problem.
func (e *SeveralEngines) Error() string { return fmt.Sprintf("%q may be %s", e.Name, e.Which) }

// fitEngine finds the engine that was asked for: by a name of it, else by what
// describes it ("3.0 V6", "VIN T") in the garage's sheet of engines.
func (s *Shop) fitEngine(ctx context.Context, v *sqlite.View, q asked) ([]string, catalog.EngineFamily, error) {
	keys, family, err := engineKeys(ctx, v, q.Engine)
	var unknown *UnknownEngine
	if !errors.As(err, &unknown) {
		return keys, family, err
	}
	all, failed := v.Families(ctx)
	if failed != nil {
		return nil, family, failed
	}
	found := s.fit().Describe(q.Engine, all)
	found = slices.DeleteFunc(found, func(e catalog.EngineFamily) bool {
		return q.displacement.Known && e.Displacement.Known && !s.fit().SameSize(q.displacement.Value, e.Displacement.Value)
	})
	switch len(found) {
	case 0:
		return nil, family, err
	case 1:
		return engineKeys(ctx, v, found[0].Family)
	}
	var names, asks []string
	for _, e := range found {
		names = append(names, e.Family)
		ask := "fitfill fit " + e.Family
		if e.Displacement.Known {
			ask += fmt.Sprintf(" (%.1f L)", e.Displacement.Value.Litres())
		}
		asks = append(asks, ask)
	}
	return nil, family, &SeveralEngines{q.Engine, strings.Join(names, " or "), "which displacement? " + strings.Join(asks, ", ")}
}
