package main

import (
	"fmt"
	"io/fs"
	"time"
)

// plant adds the lines of a table as they stand.
func (h *history) plant(fsys fs.FS, name string) error {
	rows, err := readTable(fsys, name)
	if err != nil {
		return err
	}
	for i, p := range rows {
		day, err := dayOf(p["date"])
		if err != nil {
			return fmt.Errorf("%s, line %d: %w", name, i+2, err)
		}
		list, headings := &h.purchases, purchaseHeadings
		if p["kind"] == "return" {
			list, headings = &h.returns, returnHeadings
		}
		e := event{day: day}
		for _, column := range headings {
			e.cells = append(e.cells, p[column])
		}
		*list = append(*list, e)
	}
	return nil
}

func dayOf(text string) (int, error) {
	t, err := time.Parse(time.DateOnly, text)
	if err != nil {
		return 0, fmt.Errorf("%q is not a date: write it as YYYY-MM-DD", text)
	}
	return int(t.Unix() / 86400), nil
}

func dateOf(day int) string {
	return time.Unix(int64(day)*86400, 0).UTC().Format(time.DateOnly)
}
