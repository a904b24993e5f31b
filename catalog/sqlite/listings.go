package sqlite

import (
	"cmp"
	"context"
	"maps"
	"slices"
	"strings"

	"fitfill/catalog"
	"fitfill/catalog/units"
)

// ListedFor returns the fitments of active sheets whose engine text folds to
// one of the keys, by part, in the order of sheet and line. Where types are named,
// parts that no sheet ever called one of them are left out.
func (v *View) ListedFor(ctx context.Context, keys []string, types ...string) (map[int64][]catalog.Fitment, error) {
	listed := map[int64][]catalog.Fitment{}
	for _, key := range keys {
		if err := v.fitments(ctx, listed, "JOIN engine_name n ON n.word_id = a.engine WHERE n.key = ?", key, nil, types); err != nil {
			return nil, err
		}
	}
	return listed, nil
}

// ListedForMake returns the fitments of active sheets that name the make and no
// engine, in the same way.
func (v *View) ListedForMake(ctx context.Context, name string, types ...string) (map[int64][]catalog.Fitment, error) {
	listed := map[int64][]catalog.Fitment{}
	err := v.fitments(ctx, listed, "WHERE a.engine = (SELECT id FROM word WHERE text = ?)", "", func(mk string) bool { return strings.EqualFold(mk, name) }, types)
	return listed, err
}

// fitments reads the applications that a clause picks and whose make is kept (nil:
// all), and then what is listed for them: many parts are listed for few
// applications, and most of them are not of the types asked for.
func (v *View) fitments(ctx context.Context, into map[int64][]catalog.Fitment, clause, arg string, keep func(mk string) bool, types []string) error {
	type application struct{ mk, model, engine, years, vin8, place, cond, qty int64 }
	found := map[int64]application{}
	missing := map[int64]bool{}
	err := v.each(ctx, `SELECT DISTINCT a.id, a.make, a.model, a.engine, a.years, a.vin8, a.where_fitted, a.condition, a.quantity
		FROM application a `+clause, []any{arg}, func(r record) error {
		var id int64
		var a application
		err := r.Scan(&id, &a.mk, &a.model, &a.engine, &a.years, &a.vin8, &a.place, &a.cond, &a.qty)
		for _, w := range [...]int64{a.mk, a.model, a.engine, a.years, a.vin8, a.place, a.cond, a.qty} {
			if _, known := v.words[w]; !known {
				missing[w] = true
			}
		}
		found[id] = a
		return err
	})
	if err != nil {
		return err
	}
	if err := v.readWords(ctx, slices.Collect(maps.Keys(missing))); err != nil {
		return err
	}
	applications := map[int64]catalog.Fitment{}
	var ids []int64
	for id, a := range found {
		w := v.words
		if keep != nil && !keep(w[a.mk]) {
			continue
		}
		f := catalog.Fitment{
			Make: w[a.mk], Model: w[a.model], Engine: w[a.engine], YearsText: w[a.years], VIN8: w[a.vin8],
			WhereFitted: w[a.place], Condition: w[a.cond], Quantity: w[a.qty],
		}
		if f.YearsText != "" {
			if f.Years, err = units.ParseModelYears(f.YearsText); err != nil {
				return err
			}
		}
		applications[id] = f
		ids = append(ids, id)
	}
	if len(ids) == 0 {
		return nil
	}
	rows, err := v.fitmentRows(ctx, ids, types)
	if err != nil {
		return err
	}
	for len(rows) > 0 {
		n := 1
		for n < len(rows) && rows[n].part == rows[0].part {
			n++
		}
		part := rows[0].part
		fits := slices.Grow(into[part], n)
		for _, r := range rows[:n] {
			f := applications[r.application]
			f.Origin, _ = v.origin(r.sheet, int(r.line))
			if f.Condition != "" {
				if f.Answered, err = v.answered(ctx, f.Origin.Supplier, f.Condition); err != nil {
					return err
				}
			}
			fits = append(fits, f)
		}
		into[part], rows = fits, rows[n:]
	}
	return nil
}

// fitmentRow is a line of an active sheet that lists a part for an application.
type fitmentRow struct{ part, sheet, line, application int64 }

// fitmentRows returns what is listed for the applications, of parts that any
// sheet called one of the types (none: of all), in the order of part, sheet and
// line. It is put in order here: most of what the query would sort is short.
func (v *View) fitmentRows(ctx context.Context, applications []int64, types []string) ([]fitmentRow, error) {
	of, args := "", []any{list(applications)}
	if len(types) > 0 {
		of = " AND EXISTS (SELECT 1 FROM part_called c WHERE c.part_id = f.part_id AND c.word = (SELECT id FROM word WHERE text = ?))"
		args = append(args, types[0])
	}
	if len(types) > 1 {
		of = " AND EXISTS (SELECT 1 FROM part_called c WHERE c.part_id = f.part_id AND c.word IN (SELECT id FROM word WHERE text" + inList + "))"
		args[1] = list(types)
	}
	var rows []fitmentRow
	err := v.with.eachOf(ctx, "SELECT f.part_id << 32 | f.application_id, f.sheet_id << 32 | f.line FROM fitment f WHERE f.application_id"+inList+of, args, func(c *cursor) error {
		var r fitmentRow
		r.part, r.application = two(c.number(0))
		r.sheet, r.line = two(c.number(1))
		if _, active := v.sheets[r.sheet]; active {
			rows = append(rows, r)
		}
		return nil
	})
	slices.SortFunc(rows, func(a, b fitmentRow) int {
		return cmp.Or(cmp.Compare(a.part, b.part), cmp.Compare(a.sheet, b.sheet), cmp.Compare(a.line, b.line), cmp.Compare(a.application, b.application))
	})
	return rows, err
}

// EngineText is an engine as suppliers' lists write it.
type EngineText struct {
	Text   string
	Key    string
	Makes  []string
	Models []string
	Years  []string
	Parts  int
}

// EngineTexts returns every engine text of the active lists, those with the
// most parts first. Spellings that fold to one key count as one; the spelling
// of the most parts is shown.
func (v *View) EngineTexts(ctx context.Context) ([]EngineText, error) {
	var list []EngineText
	at := map[string]int{}
	err := v.each(ctx, `SELECT n.key, w.text, count(DISTINCT f.part_id) AS parts
		FROM engine_name n JOIN word w ON w.id = n.word_id JOIN application a ON a.engine = n.word_id
		JOIN fitment f ON f.application_id = a.id JOIN sheet s ON s.id = f.sheet_id AND s.active = 1
		GROUP BY n.key, n.word_id ORDER BY parts DESC, w.text`, nil, func(r record) error {
		var e EngineText
		if err := r.Scan(&e.Key, &e.Text, &e.Parts); err != nil {
			return err
		}
		if i, ok := at[e.Key]; ok {
			list[i].Parts = max(list[i].Parts, e.Parts) // a part may be listed under both spellings
			return nil
		}
		at[e.Key] = len(list)
		list = append(list, e)
		return nil
	})
	if err != nil {
		return nil, err
	}
	err = v.each(ctx, `SELECT DISTINCT n.key, make.text, model.text, years.text
		FROM engine_name n JOIN application a ON a.engine = n.word_id
		JOIN word make ON make.id = a.make JOIN word model ON model.id = a.model JOIN word years ON years.id = a.years
		WHERE EXISTS (SELECT 1 FROM fitment f JOIN sheet s ON s.id = f.sheet_id AND s.active = 1 WHERE f.application_id = a.id)
		ORDER BY 1, 2, 3, 4`, nil, func(r record) error {
		var key, mk, model, years string
		if err := r.Scan(&key, &mk, &model, &years); err != nil {
			return err
		}
		i, known := at[key]
		if !known {
			return nil
		}
		e := &list[i]
		e.Makes, e.Models, e.Years = appendNew(e.Makes, mk), appendNew(e.Models, model), appendNew(e.Years, years)
		return nil
	})
	return list, err
}
