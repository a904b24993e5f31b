package sqlite

import (
	"cmp"
	"context"
	"database/sql"
	"slices"
	"strings"

	"fitfill/catalog"
)

// FieldChange is one fact of a part that a new version of a sheet states
// differently. An empty text is "not stated".
type FieldChange struct {
	Number string `json:"number"`
	Field  string `json:"field"`
	Old    string `json:"old"`
	New    string `json:"new"`
	Line   int    `json:"line"` // of the new sheet; 0 where it no longer states the fact
}

// PriceMove is the price of a part before and after, in ten-thousandths of one
// currency.
type PriceMove struct {
	Number   string
	Old, New int64
	Line     int
}

// Compared is what a staged sheet changes against the one that it replaces.
type Compared struct {
	Fields    map[string]int // how many parts change each field; "listed for" counts fitments
	Changes   []FieldChange  // by part, then field
	Prices    []PriceMove
	Withdrawn []string // numbers that are no longer listed
	Before    int      // parts that the replaced sheets spoke of
}

// ListedFor is the name under which a change of the fitments of a part stands
// among the fields.
const ListedFor = "listed for"

// Compare compares the staged sheet with the sheets that it replaces, part by
// part and field by field. Without any there is nothing to compare.
func (st *Stage) Compare(ctx context.Context) (Compared, error) {
	c := Compared{Fields: map[string]int{}}
	if _, _, err := st.Plan(ctx); err != nil {
		return c, err
	}
	if len(st.plan.replaced) == 0 || st.info.Kind != catalog.SupplierSheet {
		return c, nil
	}
	var gone []int64
	for _, r := range st.plan.replaced {
		gone = append(gone, r.ID)
	}
	var common []int64
	var before []int64
	err := eachRow(ctx, st.db, "SELECT DISTINCT part_id FROM live.sheet_part WHERE sheet_id IN ("+idList(gone)+") ORDER BY part_id", nil, func(r record) error {
		var id int64
		err := r.Scan(&id)
		before = append(before, id)
		return err
	})
	if err != nil {
		return c, err
	}
	parts := &st.dict.parts
	for _, id := range before {
		if i, ok := parts.byID(id); ok && parts.named[i] {
			common = append(common, id)
		} else {
			c.Withdrawn = append(c.Withdrawn, parts.numberOf(id))
		}
	}
	c.Before = len(before)
	if len(common) == 0 {
		return c, nil
	}
	d := differ{st: st, c: &c, dict: st.dict, common: make(map[int64]bool, len(common)), old: "WHERE sheet_id IN (" + idList(gone) + ")"}
	for _, id := range common {
		d.common[id] = true
	}
	if err := d.facts(ctx); err != nil {
		return c, err
	}
	if err := d.fitments(ctx); err != nil {
		return c, err
	}
	slices.SortStableFunc(c.Changes, func(a, b FieldChange) int {
		return cmp.Or(cmp.Compare(a.Number, b.Number), cmp.Compare(a.Field, b.Field), cmp.Compare(a.Old, b.Old), cmp.Compare(a.New, b.New), cmp.Compare(a.Line, b.Line))
	})
	slices.SortFunc(c.Prices, func(a, b PriceMove) int { return cmp.Compare(a.Number, b.Number) })
	return c, nil
}

// differ compares two versions of a sheet. The old one is held in memory: a join
// of the two would look through all of one for each row of the other.
type differ struct {
	st     *Stage
	c      *Compared
	dict   *dictionary
	common map[int64]bool // parts that both versions list
	old    string         // condition for the rows of the old version
}

type factAt struct{ part, field int64 }

type factSays struct {
	value      int64
	word, text sql.NullInt64
	line       int
}

func (d *differ) facts(ctx context.Context) error {
	was := map[factAt]factSays{}
	read := func(table string, do func(factAt, factSays)) error {
		return eachRow(ctx, d.st.db, "SELECT part_id, field, value, word, text, line FROM "+table, nil, func(r record) error {
			var at factAt
			var says factSays
			if err := r.Scan(&at.part, &at.field, &says.value, &says.word, &says.text, &says.line); err != nil {
				return err
			}
			if d.common[at.part] {
				do(at, says)
			}
			return nil
		})
	}
	if err := read("live.fact "+d.old, func(at factAt, says factSays) { was[at] = says }); err != nil {
		return err
	}
	err := read("main.fact", func(at factAt, now factSays) {
		before, stated := was[at]
		delete(was, at)
		if stated && before.value == now.value && before.word == now.word {
			return
		}
		d.change(at, d.dict.text(before.text.Int64), d.dict.text(now.text.Int64), now.line)
		if d.dict.text(at.field) == "price" && stated && before.word == now.word {
			d.c.Prices = append(d.c.Prices, PriceMove{Number: d.dict.parts.numberOf(at.part), Old: before.value, New: now.value, Line: now.line})
		}
	})
	if err != nil {
		return err
	}
	for at, before := range was {
		d.change(at, d.dict.text(before.text.Int64), "", 0)
	}
	return nil
}

func (d *differ) change(at factAt, old, now string, line int) {
	name := d.dict.text(at.field)
	d.c.Fields[name]++
	d.c.Changes = append(d.c.Changes, FieldChange{Number: d.dict.parts.numberOf(at.part), Field: name, Old: old, New: now, Line: line})
}

// application writes an application as it is compared: two that differ in the VIN's
// letter, the place, the note or the quantity alone read differently too.
func (d *differ) application(a application) string {
	var said []string
	for i, w := range a {
		text := d.dict.text(w)
		if text == "" {
			continue
		}
		switch i {
		case 4: // vin8
			text = "VIN " + text
		case 7: // quantity
			text = "quantity " + text
		}
		said = append(said, text)
	}
	return strings.Join(said, " ")
}

// fitments counts the parts whose applications change.
func (d *differ) fitments(ctx context.Context) error {
	type use struct{ part, app int64 }
	was, now := map[use]int{}, map[use]int{}
	for _, side := range []struct {
		query string
		into  map[use]int
	}{{"SELECT part_id, application_id, line FROM live.fitment " + d.old, was}, {"SELECT part_id, application_id, line FROM main.fitment", now}} {
		err := eachRow(ctx, d.st.db, side.query, nil, func(r record) error {
			var u use
			var line int
			if err := r.Scan(&u.part, &u.app, &line); err != nil {
				return err
			}
			if d.common[u.part] {
				side.into[u] = line
			}
			return nil
		})
		if err != nil {
			return err
		}
	}
	apps := make(map[int64]application, len(d.st.dict.apps))
	for a, id := range d.st.dict.apps {
		apps[id] = a
	}
	changed := map[int64]bool{}
	say := func(u use, old, now bool, line int) {
		if !changed[u.part] {
			changed[u.part] = true
			d.c.Fields[ListedFor]++
		}
		text := d.application(apps[u.app])
		c := FieldChange{Number: d.dict.parts.numberOf(u.part), Field: ListedFor, Line: line}
		if old {
			c.Old = text
		}
		if now {
			c.New = text
		}
		d.c.Changes = append(d.c.Changes, c)
	}
	for u := range was {
		if _, ok := now[u]; !ok {
			say(u, true, false, 0)
		}
	}
	for u, line := range now {
		if _, ok := was[u]; !ok {
			say(u, false, true, line)
		}
	}
	return nil
}
