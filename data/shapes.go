package data

import (
	"bufio"
	"encoding/csv"
	"fmt"
	"io/fs"
	"path"
	"slices"
	"strings"
	"sync"

	"fitfill/catalog"
)

const shapesFile = "tables.csv"

// Shape says what a reference table is about and which of its columns name a
// row, so that a garage's own sheet of the same shape can take the place of
// rows.
type Shape struct {
	Table string
	Key   []string // columns; of two kinds of coolant either may come first
	Many  bool     // several rows have one key and are replaced together
	About string

	Columns []string // in the order of the file
}

// readBy begins the names of the tables by which sheets are read. They stay as
// they are: a sheet that is kept must read the same tomorrow.
const readBy = "import_"

// Shapes lists the tables that a garage's own sheets may override, by name. A
// table that tables.csv does not list is named by its first column, and its
// rows of one name are replaced together.
var Shapes = sync.OnceValues(func() ([]Shape, error) { return loadShapes(tables) })

func loadShapes(fsys fs.FS) ([]Shape, error) {
	names, err := fs.Glob(fsys, "*.csv")
	if err != nil {
		return nil, err
	}
	var list []Shape
	for _, name := range names {
		table := strings.TrimSuffix(name, path.Ext(name))
		if name == sourcesFile || name == shapesFile || strings.HasPrefix(table, readBy) {
			continue
		}
		columns, err := columnsOf(fsys, name)
		if err != nil {
			return nil, err
		}
		list = append(list, Shape{Table: table, Key: columns[:1], Many: true, Columns: columns})
	}
	err = eachRow(fsys, shapesFile, bufio.NewReader(nil), func(line int, columns, values []string) error {
		r := catalog.NewRefRow("", line, catalog.Source{}, columns, values)
		s := Shape{Table: r.Cell("table"), Key: strings.Fields(r.Cell("key")), Many: r.Cell("rows") == "many", About: r.Cell("about")}
		if s.Table == "" || len(s.Key) == 0 || s.About == "" {
			return fmt.Errorf("%s, line %d: table, key and about must be filled in", shapesFile, line)
		}
		at := slices.IndexFunc(list, func(l Shape) bool { return l.Table == s.Table })
		if at < 0 {
			return fmt.Errorf("%s, line %d: there is no table %s", shapesFile, line, s.Table)
		}
		s.Columns = list[at].Columns
		list[at] = s
		return nil
	})
	return list, err
}

func columnsOf(fsys fs.FS, name string) ([]string, error) {
	f, err := fsys.Open(name)
	if err != nil {
		return nil, err
	}
	defer f.Close()
	r := csv.NewReader(f)
	r.Comment = '#'
	header, err := r.Read()
	if err != nil {
		return nil, fmt.Errorf("%s: %w", name, err)
	}
	return header, nil
}

// Of returns what names a row: its cells in the key columns. A pair of
// coolants is the same whichever stands first.
func (s Shape) Of(r catalog.RefRow) string {
	parts := make([]string, len(s.Key))
	for i, column := range s.Key {
		parts[i] = strings.Join(strings.Fields(r.Get(column)), " ")
	}
	if s.Table == "coolant_pairs" && parts[1] < parts[0] {
		parts[0], parts[1] = parts[1], parts[0]
	}
	return strings.Join(parts, " | ")
}

// Overlay returns the rows of a table with the garage's own in place of those
// of the same key, and behind them those of a new key. It reports how many
// rows took the place of others and how many are new.
func (s Shape) Overlay(rows, own []catalog.RefRow) (merged []catalog.RefRow, replaced, added int) {
	byKey := map[string][]catalog.RefRow{}
	for _, r := range own {
		byKey[s.Of(r)] = append(byKey[s.Of(r)], r)
	}
	seen := map[string]bool{}
	for _, r := range rows {
		key := s.Of(r)
		if mine := byKey[key]; mine == nil {
			merged = append(merged, r)
		} else if !seen[key] {
			seen[key] = true
			merged, replaced = append(merged, mine...), replaced+len(mine)
		}
	}
	for _, r := range own {
		if key := s.Of(r); !seen[key] {
			merged, added = append(merged, r), added+1
		}
	}
	return merged, replaced, added
}
