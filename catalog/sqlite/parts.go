package sqlite

import (
	"context"
	"maps"
	"slices"
	"strings"

	"fitfill/catalog"
)

// Parts returns the parts of these numbers with every fact of the active
// sheets; where two sheets of the supplier state the same field, the later
// import counts. Unknown numbers are left out. The order is that of ids.
func (v *View) Parts(ctx context.Context, ids []int64) ([]catalog.Part, error) {
	if len(ids) == 0 {
		return nil, nil
	}
	return v.partsInto(ctx, nil, ids)
}

// EachPart calls do with the parts of these numbers, as Parts returns them. A part
// is good during the call: there is no more than a few hundred of them in memory.
func (v *View) EachPart(ctx context.Context, ids []int64, do func(*catalog.Part) error) error {
	const atOnce = 512
	var parts []catalog.Part
	for some := range slices.Chunk(ids, atOnce) {
		var err error
		if parts, err = v.partsInto(ctx, parts, some); err != nil {
			return err
		}
		for i := range parts {
			if err := do(&parts[i]); err != nil {
				return err
			}
		}
	}
	return nil
}

// partsInto reads parts into the memory of others that are not needed any more.
func (v *View) partsInto(ctx context.Context, old []catalog.Part, ids []int64) ([]catalog.Part, error) {
	heads, err := v.heads(ctx, ids)
	if err != nil {
		return nil, err
	}
	parts := slices.Grow(old[:0], len(heads)) // a part is large: it is filled where it stays
	byID := make(map[int64]*catalog.Part, len(heads))
	for _, id := range ids {
		h, known := heads[id]
		if !known || byID[id] != nil {
			continue
		}
		parts = append(parts, catalog.Part{ID: h.ID, Supplier: h.Supplier, Number: h.Number, Key: h.Key})
		byID[id] = &parts[len(parts)-1]
	}
	facts, err := v.factRows(ctx, ids)
	if err != nil {
		return nil, err
	}
	var of *catalog.Part
	for _, r := range facts {
		f := catalog.Fact{Field: v.words[r.field], Int: r.value, Word: v.words[r.word], Text: v.words[r.text]}
		var active bool
		if f.Origin, active = v.origin(r.sheet, int(r.line)); !active {
			continue
		}
		if of == nil || of.ID != r.part {
			of = byID[r.part]
		}
		if err := of.Apply(f); err != nil {
			return nil, err
		}
	}
	return parts, nil
}

// PartHead is whose part a part is, its number and its type: what a long list of
// them is ordered and counted by.
type PartHead struct {
	ID                    int64
	Supplier, Number, Key string
	Type                  string
}

// PartHeads returns the heads of these parts, in the order of ids; unknown ones
// are left out.
func (v *View) PartHeads(ctx context.Context, ids []int64) ([]PartHead, error) {
	if len(ids) == 0 {
		return nil, nil
	}
	byID, err := v.heads(ctx, ids)
	if err != nil {
		return nil, err
	}
	types, err := v.TypesOf(ctx, ids)
	list := make([]PartHead, 0, len(ids))
	for _, id := range ids {
		if h, known := byID[id]; known {
			h.Type = types[id]
			list = append(list, h)
		}
	}
	return list, err
}

// heads reads everything of the heads but the types.
func (v *View) heads(ctx context.Context, ids []int64) (map[int64]PartHead, error) {
	byID := make(map[int64]PartHead, len(ids))
	sellers, err := v.sellerNames(ctx)
	if err != nil {
		return nil, err
	}
	err = v.with.eachOf(ctx, "SELECT id << 32 | supplier_id, number, key FROM part WHERE id"+inList, []any{list(ids)}, func(c *cursor) error {
		id, seller := two(c.number(0))
		byID[id] = PartHead{ID: id, Supplier: sellers[seller], Number: c.text(1), Key: c.text(2)}
		return nil
	})
	return byID, err
}

// spokenOf keeps the parts of which an active sheet speaks. It is no join: the
// planner would begin with the sheets and walk through every part of them.
const spokenOf = "EXISTS (SELECT 1 FROM sheet_part sp JOIN sheet s ON s.id = sp.sheet_id WHERE sp.part_id = p.id AND s.active = 1)"

// PartIDsFrom returns the parts whose folded number begins with a key, at most
// as many as asked for, by number.
func (v *View) PartIDsFrom(ctx context.Context, key string, most int) ([]int64, error) {
	return v.ids64(ctx, "SELECT p.id FROM part p WHERE p.key >= ? AND p.key < ? AND "+spokenOf+" ORDER BY p.key, p.id LIMIT ?", key, key+"\U0010ffff", most)
}

// PartIDs returns the parts whose number folds to key, of every supplier whose
// active sheets speak of it.
func (v *View) PartIDs(ctx context.Context, key string) ([]int64, error) {
	return v.ids64(ctx, "SELECT p.id FROM part p WHERE p.key = ? AND "+spokenOf+" ORDER BY p.id", key)
}

func (v *View) ids64(ctx context.Context, query string, args ...any) ([]int64, error) {
	var ids []int64
	err := v.each(ctx, query, args, func(r record) error {
		var id int64
		if err := r.Scan(&id); err != nil {
			return err
		}
		ids = append(ids, id)
		return nil
	})
	return ids, err
}

// TypesOf returns the part type of each part that has one.
func (v *View) TypesOf(ctx context.Context, ids []int64) (map[int64]string, error) {
	words, missing := map[int64]int64{}, map[int64]bool{}
	err := v.each(ctx, `SELECT part_id, sheet_id, coalesce(word, 0) FROM fact
		WHERE field = (SELECT id FROM word WHERE text = 'type') AND part_id`+inList+` ORDER BY part_id, sheet_id`, []any{list(ids)}, func(r record) error {
		var part, sheet, word int64
		if err := r.Scan(&part, &sheet, &word); err != nil {
			return err
		}
		if _, active := v.origin(sheet, 0); active {
			words[part] = word
			if _, known := v.words[word]; !known {
				missing[word] = true
			}
		}
		return nil
	})
	if err != nil {
		return nil, err
	}
	types := make(map[int64]string, len(words))
	err = v.readWords(ctx, slices.Collect(maps.Keys(missing)))
	for part, word := range words {
		types[part] = v.words[word]
	}
	return types, err
}

// calledNow keeps the parts that an active sheet calls so.
const calledNow = `EXISTS (SELECT 1 FROM fact f JOIN sheet s ON s.id = f.sheet_id AND s.active = 1
	WHERE f.part_id = c.part_id AND f.field = (SELECT id FROM word WHERE text = 'type') AND f.word = c.word)`

// PartIDsOfType returns every part that the active sheets call of that type.
func (v *View) PartIDsOfType(ctx context.Context, partType string) ([]int64, error) {
	var ids []int64
	err := v.with.eachOf(ctx, `SELECT c.part_id << 32 | f.sheet_id FROM part_called c CROSS JOIN fact f ON f.part_id = c.part_id
		WHERE c.word = (SELECT id FROM word WHERE text = ?1) AND f.field = (SELECT id FROM word WHERE text = 'type') AND f.word = c.word
		ORDER BY c.part_id`, []any{partType}, func(c *cursor) error {
		id, sheet := two(c.number(0))
		if _, active := v.sheets[sheet]; active && (len(ids) == 0 || ids[len(ids)-1] != id) {
			ids = append(ids, id)
		}
		return nil
	})
	return ids, err
}

// PartsWithReferences returns every part of which an active sheet says that
// another number is the same, replaces it or is replaced by it.
func (v *View) PartsWithReferences(ctx context.Context) ([]int64, error) {
	return v.ids64(ctx, `SELECT DISTINCT x.part_id FROM cross_reference x JOIN sheet s ON s.id = x.sheet_id
		WHERE s.active = 1 ORDER BY x.part_id`)
}

// PartIDsOf returns the parts of each number key, of every supplier whose
// active sheets speak of them.
func (v *View) PartIDsOf(ctx context.Context, keys []string) (map[string][]int64, error) {
	found := map[string][]int64{}
	var last int64
	err := v.with.eachOf(ctx, `SELECT p.id << 32 | sp.sheet_id, p.key FROM part p CROSS JOIN sheet_part sp ON sp.part_id = p.id
		WHERE p.key`+inList+" ORDER BY p.id", []any{list(keys)}, func(c *cursor) error {
		id, sheet := two(c.number(0))
		if _, active := v.sheets[sheet]; active && id != last {
			last = id
			found[c.text(1)] = append(found[c.text(1)], id)
		}
		return nil
	})
	return found, err
}

// HeldAbout returns the held rows of active sheets that name one of these
// part number keys.
func (v *View) HeldAbout(ctx context.Context, keys []string) ([]Held, error) {
	keys = slices.DeleteFunc(slices.Compact(slices.Sorted(slices.Values(keys))), func(key string) bool { return key == "" })
	// Without the first term the index of held rows with a key is not used.
	held, err := v.held(ctx, "key <> '' AND state = 'open' AND key"+inList, list(keys))
	if err != nil {
		return nil, err
	}
	slices.SortStableFunc(held, func(a, b Held) int { return strings.Compare(catalog.Key(a.Number), catalog.Key(b.Number)) })
	return held, nil
}

// TypesByNumber returns the part type by supplier and part number key, for the
// parts of the active sheets: what purchases that state no type fall back on.
func (v *View) TypesByNumber(ctx context.Context) (map[[2]string]string, error) {
	types := map[[2]string]string{}
	err := v.each(ctx, `SELECT s.name, p.key, f.sheet_id, w.text FROM fact f JOIN word n ON n.id = f.field AND n.text = 'type'
		JOIN word w ON w.id = f.word JOIN part p ON p.id = f.part_id JOIN supplier s ON s.id = p.supplier_id
		ORDER BY f.sheet_id`, nil, func(r record) error {
		var supplier, key, text string
		var sheet int64
		if err := r.Scan(&supplier, &key, &sheet, &text); err != nil {
			return err
		}
		if _, active := v.origin(sheet, 0); active {
			types[[2]string{supplier, key}] = text
		}
		return nil
	})
	return types, err
}

// PartTypes returns the part types that the active sheets state, by name.
func (v *View) PartTypes(ctx context.Context) ([]string, error) {
	var types []string
	err := v.each(ctx, `SELECT w.text FROM (SELECT DISTINCT word FROM part_called) t JOIN word w ON w.id = t.word
		WHERE EXISTS (SELECT 1 FROM part_called c WHERE c.word = t.word AND `+calledNow+") ORDER BY w.text", nil, func(r record) error {
		var text string
		if err := r.Scan(&text); err != nil {
			return err
		}
		types = append(types, text)
		return nil
	})
	return types, err
}

// NumbersOf returns the numbers of a supplier's parts by their key.
func (v *View) NumbersOf(ctx context.Context, supplier string) (map[string]string, error) {
	numbers := map[string]string{}
	err := v.each(ctx, "SELECT p.key, p.number FROM part p JOIN supplier s ON s.id = p.supplier_id WHERE s.name = ?", []any{supplier}, func(r record) error {
		var key, number string
		err := r.Scan(&key, &number)
		numbers[key] = number
		return err
	})
	return numbers, err
}
