package main

import (
	"encoding/csv"
	"fmt"
	"io/fs"
	"strconv"
)

// row is one line of a table with a heading line, by heading.
type row map[string]string

// readTable reads a comma-separated table whose first line is the heading.
func readTable(fsys fs.FS, name string) ([]row, error) {
	f, err := fsys.Open(name)
	if err != nil {
		return nil, fmt.Errorf("open table: %w", err)
	}
	defer f.Close()
	records, err := csv.NewReader(f).ReadAll()
	if err != nil {
		return nil, fmt.Errorf("%s: %w", name, err)
	}
	if len(records) == 0 {
		return nil, fmt.Errorf("%s is empty: it needs a heading line", name)
	}
	rows := make([]row, 0, len(records)-1)
	for _, r := range records[1:] {
		cells := row{}
		for i, h := range records[0] {
			cells[h] = r[i]
		}
		rows = append(rows, cells)
	}
	return rows, nil
}

// numbers reads columns as numbers into the places given; it stops at the first
// that is none.
func (r row) numbers(into map[string]*float64) error {
	for column, place := range into {
		v, err := strconv.ParseFloat(r[column], 64)
		if err != nil {
			return fmt.Errorf("column %s holds %q, which is not a number", column, r[column])
		}
		*place = v
	}
	return nil
}
