package app

import (
	"context"
	"fmt"
	"slices"

	"fitfill/catalog"
	"fitfill/catalog/sqlite"
)

// engineKeys returns the folded names under which lists may write an engine,
// and the family's facts where the garage's sheets have any. An engine that
// neither a sheet nor a list knows is a UsageError with the nearest known one.
func engineKeys(ctx context.Context, v *sqlite.View, name string) ([]string, catalog.EngineFamily, error) {
	family, err := v.Family(ctx, name)
	if err == nil {
		var keys []string
		for _, n := range family.Names() {
			keys = append(keys, catalog.Key(n))
		}
		return slices.Compact(slices.Sorted(slices.Values(keys))), family, nil
	}
	key := catalog.Key(name)
	if text, err := v.EngineName(ctx, key); err == nil {
		return []string{key}, catalog.EngineFamily{Family: text}, nil
	}
	texts, err := v.EngineTexts(ctx)
	if err != nil {
		return nil, catalog.EngineFamily{}, err
	}
	var names []string
	for _, t := range texts {
		names = append(names, t.Text)
	}
	families, err := v.Families(ctx)
	if err != nil {
		return nil, catalog.EngineFamily{}, err
	}
	for _, f := range families {
		names = append(names, f.Family)
	}
	hint := "no engines are known yet: import a supplier's list or an engines sheet"
	if len(names) > 0 {
		hint = nearestHint(name, names, fmt.Sprintf("known are %s, %s ...: fitfill sheets template engines --from-lists shows all that lists name",
			names[0], names[len(names)-1]))
	}
	return nil, catalog.EngineFamily{}, &UnknownEngine{Name: name, Hint: hint}
}

// UnknownEngine says that neither a sheet nor a list knows an engine.
type UnknownEngine struct{ Name, Hint string }

// Error returns the problem.
func (e *UnknownEngine) Error() string {
	return fmt.Sprintf("no sheet and no list knows the engine %q", e.Name)
}
