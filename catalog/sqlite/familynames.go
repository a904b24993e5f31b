package sqlite

import (
	"context"
	"slices"
	"strings"

	"fitfill/catalog"
)

// FamilyName is what an engine family is called, and what it is built into.
type FamilyName struct {
	Family      string
	Names       []string // it and its other names
	Make, Model string   // as its sheet has them; several of them in one text

	spellings []string // every way in which sheets write it
	keys      []string // of Names
}

// nameFields are the fields that FamilyNames reads.
const nameFields = "'family', 'also_known_as', 'make', 'model'"

// FamilyNames returns what the families are called, in the order of Families. A
// question about one engine reads these of all, and the facts of that one.
func (v *View) FamilyNames(ctx context.Context) ([]FamilyName, error) {
	if v.called != nil {
		return v.called, nil
	}
	names, err := v.readFamilyNames(ctx, "", nil)
	if err == nil {
		v.called = names
	}
	return names, err
}

// FamilyNamesFor returns those of FamilyNames that may have a name, a make or a
// model that folds to one of the keys, and every one that has.
func (v *View) FamilyNamesFor(ctx context.Context, keys []string) ([]FamilyName, error) {
	if v.called != nil {
		return v.called, nil
	}
	if v.famAsked++; v.famAsked > askedOften {
		return v.FamilyNames(ctx)
	}
	// Spellings of one name are one family, whichever of them is meant.
	return v.readFamilyNames(ctx, ` AND family IN (SELECT family FROM family_key WHERE key IN (
		SELECT trade_key(family) FROM family_key WHERE key`+inList+"))", []any{list(keys)})
}

func (v *View) readFamilyNames(ctx context.Context, where string, args []any) ([]FamilyName, error) {
	names := []FamilyName{}
	var also []string
	at := map[string]int{}
	err := v.each(ctx, "SELECT family, field, sheet_id, line, word FROM engine_fact WHERE field IN ("+nameFields+")"+where+
		" ORDER BY sheet_id, line", args, func(r record) error {
		var family, field, word string
		var sheet int64
		var line int
		if err := r.Scan(&family, &field, &sheet, &line, &word); err != nil {
			return err
		}
		if _, active := v.origin(sheet, line); !active {
			return nil
		}
		i, known := at[catalog.Key(family)]
		if !known {
			i = len(names)
			at[catalog.Key(family)] = i
			names, also = append(names, FamilyName{Family: family}), append(also, "")
		}
		n := &names[i]
		if !slices.Contains(n.spellings, family) {
			n.spellings = append(n.spellings, family)
		}
		switch field { // the later sheet counts, as with every fact
		case "also_known_as":
			also[i] = word
		case "make":
			n.Make = word
		case "model":
			n.Model = word
		}
		return nil
	})
	if err != nil {
		return nil, err
	}
	for i := range names {
		n := &names[i]
		e := catalog.EngineFamily{Family: n.Family, AlsoKnownAs: catalog.Say(also[i], also[i], catalog.Origin{})}
		n.Names = e.Names()
		for _, name := range n.Names {
			n.keys = append(n.keys, catalog.Key(name))
		}
	}
	slices.SortFunc(names, func(a, b FamilyName) int { return strings.Compare(a.Family, b.Family) })
	return names, nil
}

// FamiliesNamed returns all that is known of these families, by name.
func (v *View) FamiliesNamed(ctx context.Context, names []FamilyName) ([]catalog.EngineFamily, error) {
	if v.families != nil {
		return slices.DeleteFunc(slices.Clone(v.families), func(e catalog.EngineFamily) bool {
			return !slices.ContainsFunc(names, func(n FamilyName) bool { return n.Family == e.Family })
		}), nil
	}
	var spellings []string
	for _, n := range names {
		spellings = append(spellings, n.spellings...)
	}
	return v.readFamilies(ctx, "WHERE e.family"+inList, list(spellings))
}
