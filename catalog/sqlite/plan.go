package sqlite

import (
	"context"
	"fmt"
	"strings"

	"fitfill/catalog"
)

// Changes counts what a sheet changes against the one that it replaces: parts
// of a supplier's sheet, rows of the others.
type Changes struct {
	Added     int `json:"added"`
	Changed   int `json:"changed"`
	Unchanged int `json:"unchanged"`
	Withdrawn int `json:"withdrawn"`
}

// Replaced is an earlier sheet whose place the staged one takes.
type Replaced struct {
	ID         int64
	Name       string
	ImportedAt string
	Rows       int // taken and held; blank lines, sections and totals are none
}

type plan struct {
	replaced []Replaced
	doubts   []Doubt
	changes  Changes
}

// A sheet takes the place of an earlier one of the same supplier and kind when
// it has mostly the same columns, speaks of at least half of what the earlier
// one spoke of, and lists most of it for the same engines. Purchases and other
// events are only replaced by a sheet of the whole time that they cover: the
// list of this month leaves that of the last one in place. Where the signs
// disagree a person has to say: also where a sheet of the same columns has
// little else than a few of the earlier one's parts, or nothing at all.
const (
	sameColumns = 0.7
	sameThings  = 0.5
)

// Doubt is an earlier sheet of which it cannot be told whether the staged one
// takes its place.
type Doubt struct {
	Replaced
	Why string
}

// Place says what a person decided about the earlier sheets in doubt.
type Place uint8

// The decisions. Undecided sheets stand beside the earlier ones; the caller
// asks.
const (
	Undecided Place = iota
	Replaces
	Beside
)

// Plan works out which earlier sheets the staged one replaces, and what that
// changes. Nothing is written.
func (st *Stage) Plan(ctx context.Context) ([]Replaced, Changes, error) {
	if st.plan != nil {
		return st.plan.replaced, st.plan.changes, nil
	}
	if err := st.finish(ctx); err != nil {
		return nil, Changes{}, fmt.Errorf("stage the rows: %w", err)
	}
	if _, err := st.db.ExecContext(ctx, "ATTACH DATABASE ? AS live", st.store.path()); err != nil {
		return nil, Changes{}, fmt.Errorf("compare with the catalogue: %w", err)
	}
	p := &plan{}
	candidates, err := st.earlierSheets(ctx)
	if err != nil {
		return nil, Changes{}, err
	}
	if len(candidates) == 0 && st.info.Kind == catalog.SupplierSheet {
		p.changes.Added = st.dict.parts.spokenOf() // a first list is compared with nothing
		st.plan = p
		return nil, p.changes, nil
	}
	now := st.things()
	before, known := map[string]uint64{}, map[string]uint64{}
	for _, c := range candidates {
		things, err := st.thingsOf(ctx, c.ID)
		if err != nil {
			return nil, Changes{}, err
		}
		takes, err := st.takesPlace(ctx, c, now, things)
		if err != nil {
			return nil, Changes{}, err
		}
		if takes.doubt != "" {
			p.doubts = append(p.doubts, Doubt{c.Replaced, takes.doubt})
		}
		for key, content := range things {
			if takes.place {
				before[key] = content
			}
			if takes.place || st.isEvents() {
				known[key] = content
			}
		}
		if takes.place {
			p.replaced = append(p.replaced, c.Replaced)
		}
	}
	p.changes = count(now, before, known)
	st.plan = p
	return p.replaced, p.changes, nil
}

// Doubts returns the earlier sheets of which Plan could not tell whether the
// staged one takes their place.
func (st *Stage) Doubts() []Doubt { return st.plan.doubts }

// count compares what is stated now with what the replaced sheets stated
// (before) and with all that is on file (known).
func count(now, before, known map[string]uint64) (c Changes) {
	for key, content := range now {
		old, ok := known[key]
		switch {
		case !ok:
			c.Added++
		case old == content:
			c.Unchanged++
		default:
			c.Changed++
		}
	}
	for key := range before {
		if _, ok := now[key]; !ok {
			c.Withdrawn++
		}
	}
	return c
}

type verdict struct {
	place bool
	doubt string
}

// takesPlace judges one earlier sheet.
func (st *Stage) takesPlace(ctx context.Context, c earlier, now, things map[string]uint64) (v verdict, err error) {
	if st.amends != 0 {
		v.place = c.ID == st.amends
		return v, nil
	}
	common := 0
	for key := range things {
		if _, ok := now[key]; ok {
			common++
		}
	}
	few := float64(common) < sameThings*float64(len(things))
	if len(things) == 0 || few && (st.isEvents() || float64(common) < sameThings*float64(len(now))) {
		return v, nil
	}
	if st.isEvents() {
		v.place, err = st.covers(ctx, c.ID)
		return v, err
	}
	jaccard, containment := overlap(c.fields, st.info.Fields)
	switch {
	case few && jaccard >= sameColumns:
		v.doubt = fmt.Sprintf("it has the same columns, but only %d of its %d parts", common, len(things))
	case few:
		return v, nil
	case jaccard >= sameColumns:
		v.place = true
	case containment >= sameColumns:
		v.doubt = "it has most of its parts, but not the same columns"
	default:
		return v, nil
	}
	if st.info.Kind == catalog.SupplierSheet && v.place {
		if share, err := st.sameFitments(ctx, c.ID); err != nil {
			return v, err
		} else if share < sameThings {
			v.place, v.doubt = false, "it has most of its parts, but lists them for other engines or years"
		}
	}
	if v.doubt != "" && st.info.Place != Undecided {
		v.place, v.doubt = st.info.Place == Replaces, ""
	}
	return v, nil
}

// isEvents reports whether the rows are things that happened on a day.
func (st *Stage) isEvents() bool {
	return eventTable[st.info.Kind] != "" && st.info.Kind != catalog.VehiclesSheet
}

// covers reports whether the days of an earlier sheet lie within those of the
// staged one.
func (st *Stage) covers(ctx context.Context, sheetID int64) (ok bool, err error) {
	table := eventTable[st.info.Kind]
	err = st.db.QueryRowContext(ctx, fmt.Sprintf(`SELECT min(o.day) >= (SELECT min(day) FROM main.%[1]s) AND max(o.day) <= (SELECT max(day) FROM main.%[1]s)
		FROM live.%[1]s o WHERE o.sheet_id = ?`, table), sheetID).Scan(&ok)
	return ok, err
}

// sameFitments returns the share of an earlier sheet's fitments, of the parts
// that both list, that the staged one lists too; 1 where it had none.
func (st *Stage) sameFitments(ctx context.Context, sheetID int64) (float64, error) {
	if _, err := st.db.ExecContext(ctx, "CREATE INDEX IF NOT EXISTS main.staged_fitment ON fitment (part_id, application_id)"); err != nil {
		return 0, err
	}
	var all, same int
	err := st.db.QueryRowContext(ctx, `SELECT count(*), coalesce(sum(EXISTS (SELECT 1 FROM main.fitment n
			WHERE n.part_id = o.part_id AND n.application_id = o.application_id)), 0)
		FROM live.fitment o WHERE o.sheet_id = ? AND o.part_id IN (SELECT part_id FROM main.fitment)`, sheetID).Scan(&all, &same)
	if err != nil || all == 0 {
		return 1, err
	}
	return float64(same) / float64(all), nil
}

type earlier struct {
	Replaced
	fields []string
}

// earlierSheets returns the active sheets of the same supplier and kind.
func (st *Stage) earlierSheets(ctx context.Context) ([]earlier, error) {
	rows, err := st.db.QueryContext(ctx, `SELECT id, name, imported_at, rows_taken + rows_held, fields FROM live.sheet
		WHERE active = 1 AND kind = ? AND coalesce(supplier_id, 0) = ? ORDER BY id`, string(st.info.Kind), st.supplierID)
	if err != nil {
		return nil, err
	}
	defer rows.Close()
	var found []earlier
	for rows.Next() {
		var r earlier
		var fields string
		if err := rows.Scan(&r.ID, &r.Name, &r.ImportedAt, &r.Rows, &fields); err != nil {
			return nil, err
		}
		r.fields = strings.Fields(fields)
		found = append(found, r)
	}
	return found, rows.Err()
}

// overlap returns the share of names that both lists have among all names
// (Jaccard), and among those of the shorter list.
func overlap(a, b []string) (jaccard, containment float64) {
	in := map[string]bool{}
	for _, x := range a {
		in[x] = true
	}
	both := 0
	for _, x := range b {
		if in[x] {
			both++
		}
	}
	if len(a) == 0 || len(b) == 0 {
		return 0, 0
	}
	return float64(both) / float64(len(a)+len(b)-both), float64(both) / float64(min(len(a), len(b)))
}
