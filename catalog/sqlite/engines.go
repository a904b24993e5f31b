package sqlite

import (
	"context"
	"database/sql"
	"errors"
	"slices"
	"strings"

	"fitfill/catalog"
)

// Families returns every engine family of the garage's own sheets, by name;
// spellings of one name are one family.
func (v *View) Families(ctx context.Context) ([]catalog.EngineFamily, error) {
	if v.families != nil {
		return slices.Clone(v.families), nil
	}
	list, err := v.readFamilies(ctx, "")
	if err == nil {
		v.families = append([]catalog.EngineFamily{}, list...)
	}
	return list, err
}

func (v *View) readFamilies(ctx context.Context, where string, args ...any) ([]catalog.EngineFamily, error) {
	var found []*catalog.EngineFamily // a family is large: a list that grows would copy each several times
	at := map[string]*catalog.EngineFamily{}
	err := v.each(ctx, `SELECT e.family, e.circuit, e.field, e.sheet_id, e.line, e.value, e.word, e.text
		FROM engine_fact e `+where+` ORDER BY e.sheet_id, e.line`, args, func(r record) error {
		var family, circuit string
		var sheet int64
		var line int
		var f catalog.Fact
		if err := r.Scan(&family, &circuit, &f.Field, &sheet, &line, &f.Int, &f.Word, &f.Text); err != nil {
			return err
		}
		var active bool
		if f.Origin, active = v.origin(sheet, line); !active {
			return nil
		}
		key := catalog.Key(family)
		e := at[key]
		if e == nil {
			e = &catalog.EngineFamily{Family: family}
			at[key] = e
			found = append(found, e)
		}
		if f.Field == "family" {
			if _, ok := e.Circuit(circuit); !ok {
				e.Circuits = append(e.Circuits, catalog.Circuit{Name: circuit})
			}
			return nil
		}
		return e.Apply(circuit, f)
	})
	slices.SortStableFunc(found, func(a, b *catalog.EngineFamily) int { return strings.Compare(a.Family, b.Family) })
	list := make([]catalog.EngineFamily, len(found))
	for i, e := range found {
		list[i] = *e
	}
	return list, err
}

// Family returns the engine family known by that name or by one of its other
// names; ErrNotFound if the garage's sheets have none.
func (v *View) Family(ctx context.Context, name string) (catalog.EngineFamily, error) {
	none := notFound(sql.ErrNoRows, "engine family %q", strings.TrimSpace(name))
	if e, known := v.named[name]; known {
		return e, nil
	}
	names, err := v.FamilyNamesFor(ctx, []string{catalog.Key(name)}) // they alone tell which one to read
	if err != nil {
		return catalog.EngineFamily{}, err
	}
	key := catalog.Key(name)
	i := slices.IndexFunc(names, func(f FamilyName) bool { return key != "" && slices.Contains(f.keys, key) })
	if i < 0 {
		return catalog.EngineFamily{}, none
	}
	whole, err := v.FamiliesNamed(ctx, names[i:i+1])
	if err != nil || len(whole) == 0 {
		return catalog.EngineFamily{}, errors.Join(err, none)
	}
	if len(v.named) >= mostNamed {
		clear(v.named)
	}
	v.named[name] = whole[0] // one question asks for it several times
	return whole[0], nil
}

// EngineName returns how lists write the engine whose name folds to key;
// ErrNotFound if none does.
func (v *View) EngineName(ctx context.Context, key string) (string, error) {
	var text string
	err := v.row(ctx, `SELECT w.text FROM engine_name n JOIN word w ON w.id = n.word_id
		WHERE n.key = ? ORDER BY w.text LIMIT 1`, []any{key}, &text)
	return text, notFound(err, "engine %q", key)
}

// EngineKeysLike returns the keys of the engine texts in lists that hold one of
// the patterns (SQL LIKE; capitals do not matter).
func (v *View) EngineKeysLike(ctx context.Context, patterns []string) ([]string, error) {
	if len(patterns) == 0 {
		return nil, nil
	}
	args := make([]any, len(patterns))
	for i, p := range patterns {
		args[i] = p
	}
	var keys []string
	err := v.each(ctx, `SELECT DISTINCT n.key FROM engine_name n JOIN word w ON w.id = n.word_id
		WHERE w.text LIKE ?`+strings.Repeat(" OR w.text LIKE ?", len(patterns)-1)+" ORDER BY 1", args, func(r record) error {
		var k string
		err := r.Scan(&k)
		keys = append(keys, k)
		return err
	})
	return keys, err
}
