package sqlite

import (
	"context"
	"database/sql"

	"fitfill/catalog"
	"fitfill/catalog/units"
)

// ListedFor returns the fitments of active sheets whose engine text folds to
// one of the keys, by part, in the order of sheet and line.
func (v *View) ListedFor(ctx context.Context, keys []string) (map[int64][]catalog.Fitment, error) {
	listed := map[int64][]catalog.Fitment{}
	for _, key := range keys {
		if err := v.fitments(ctx, listed, "JOIN engine_name n ON n.word_id = a.engine WHERE n.key = ?", key); err != nil {
			return nil, err
		}
	}
	return listed, nil
}

// ListedForMake returns the fitments of active sheets that name the make and no
// engine, by part, in the order of sheet and line.
func (v *View) ListedForMake(ctx context.Context, name string) (map[int64][]catalog.Fitment, error) {
	listed := map[int64][]catalog.Fitment{}
	err := v.fitments(ctx, listed, "WHERE a.engine = (SELECT id FROM word WHERE text = '') AND make.text = ? COLLATE NOCASE", name)
	return listed, err
}

func (v *View) fitments(ctx context.Context, into map[int64][]catalog.Fitment, clause string, args ...any) error {
	err := v.each(ctx, `SELECT f.part_id, f.sheet_id, f.line, make.text, model.text, engine.text, years.text, vin8.text, place.text, cond.text, qty.text
		FROM application a
		JOIN fitment f ON f.application_id = a.id
		JOIN word make ON make.id = a.make JOIN word model ON model.id = a.model JOIN word engine ON engine.id = a.engine
		JOIN word years ON years.id = a.years JOIN word vin8 ON vin8.id = a.vin8 JOIN word place ON place.id = a.where_fitted
		JOIN word cond ON cond.id = a.condition JOIN word qty ON qty.id = a.quantity `+clause+`
		ORDER BY f.part_id, f.sheet_id, f.line`, args, func(r *sql.Rows) error {
		var part, sheet int64
		var line int
		var f catalog.Fitment
		if err := r.Scan(&part, &sheet, &line, &f.Make, &f.Model, &f.Engine, &f.YearsText, &f.VIN8, &f.WhereFitted, &f.Condition, &f.Quantity); err != nil {
			return err
		}
		var active bool
		if f.Origin, active = v.origin(sheet, line); !active {
			return nil
		}
		if f.YearsText != "" {
			var err error
			if f.Years, err = units.ParseModelYears(f.YearsText); err != nil {
				return err
			}
		}
		into[part] = append(into[part], f)
		return nil
	})
	if err != nil {
		return err
	}
	for _, list := range into {
		for i := range list {
			if list[i].Answered, err = v.answered(ctx, list[i].Origin.Supplier, list[i].Condition); err != nil {
				return err
			}
		}
	}
	return nil
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
		GROUP BY n.key, n.word_id ORDER BY parts DESC, w.text`, nil, func(r *sql.Rows) error {
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
		ORDER BY 1, 2, 3, 4`, nil, func(r *sql.Rows) error {
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
