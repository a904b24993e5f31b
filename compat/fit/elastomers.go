package fit

import (
	"strconv"
	"strings"

	"fitfill/catalog"
	"fitfill/compat"
)

// rubber is one row of table fit_elastomers.
type rubber struct {
	code, name        string
	hotWater, steam   float64 // °C; NaN-free: known says whether stated
	hotWaterKnown     bool
	steamKnown        bool
	coolantMax        float64 // °C, 0: not stated
	oil               string  // word of the mineral oil column
	silicate, organic string  // words of the coolant columns
	standsFor         string
	origin            compat.Evidence
}

// coolantWord is what a word of the coolant columns means.
type coolantWord struct {
	outcome compat.Outcome
	says    string
	origin  compat.Evidence
}

type elastomers struct {
	rows    []rubber
	byName  map[string]int
	columns map[string][]string // chemistry id -> coolant columns
	words   map[string]coolantWord
}

func newElastomers(ref catalog.Tables) (elastomers, error) {
	e := elastomers{byName: map[string]int{}, columns: map[string][]string{}, words: map[string]coolantWord{}}
	rows, err := ref.Table("fit_elastomers")
	if err != nil {
		return e, err
	}
	for i, row := range rows {
		r := rubber{
			code: row.Get("material"), name: row.Get("name"), oil: row.Get("mineral_oil"),
			silicate: row.Get("silicate"), organic: row.Get("organic"), standsFor: row.Get("stands_for"), origin: compat.Cite(row),
		}
		for _, c := range []struct {
			column string
			value  *float64
			known  *bool
		}{{"hot_water_max_c", &r.hotWater, &r.hotWaterKnown}, {"steam_max_c", &r.steam, &r.steamKnown}, {"coolant_max_c", &r.coolantMax, new(bool)}} {
			if row.Get(c.column) == "" {
				continue
			}
			if *c.value, err = row.Float(c.column); err != nil {
				return e, err
			}
			*c.known = true
		}
		e.rows = append(e.rows, r)
		for _, name := range append(strings.Split(row.Get("aliases"), "|"), r.code) {
			e.byName[catalog.Fold(name)] = i
		}
	}
	return e, e.readCoolants(ref)
}

func (e *elastomers) readCoolants(ref catalog.Tables) error {
	columns, err := ref.Table("fit_coolant_columns")
	if err != nil {
		return err
	}
	for _, row := range columns {
		e.columns[row.Get("chemistry")] = strings.Split(row.Get("columns"), "|")
	}
	meanings, err := ref.Table("fit_coolant_words")
	if err != nil {
		return err
	}
	for _, row := range meanings {
		w := coolantWord{says: row.Get("says"), origin: compat.Cite(row)}
		if err := w.outcome.UnmarshalText([]byte(row.Get("outcome"))); err != nil {
			return err
		}
		e.words[row.Get("word")] = w
	}
	return nil
}

// find returns the rubber of that name, whatever the trade spelling; a
// hardness ("NBR 70") beside the name does not matter.
func (e *elastomers) find(name string) (rubber, bool) {
	fields := strings.Fields(catalog.Fold(name))
	for len(fields) > 0 {
		if i, ok := e.byName[strings.Join(fields, " ")]; ok {
			return e.rows[i], true
		}
		last := fields[len(fields)-1]
		if _, err := strconv.Atoi(last); err != nil && last != "rubber" && last != "shore" && last != "a" {
			break
		}
		fields = fields[:len(fields)-1]
	}
	return rubber{}, false
}

// coolant returns the worst of what a rubber's columns say about a coolant
// chemistry; an unknown chemistry is read against every column.
func (e *elastomers) coolant(r rubber, chemistry string) (worst coolantWord, known bool) {
	columns, known := e.columns[chemistry]
	if !known {
		columns = []string{"silicate", "organic"}
	}
	for i, c := range columns {
		word := r.organic
		if c == "silicate" {
			word = r.silicate
		}
		if w := e.words[word]; i == 0 || w.outcome.Worse(worst.outcome) {
			worst = w
		}
	}
	return worst, known
}
