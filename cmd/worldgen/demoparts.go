package main

import (
	"bytes"
	"encoding/csv"
	"fmt"
	"io/fs"
	"slices"
	"strings"

	"fitfill/data/demo"
)

// demoPart is a part of the demo garage's suppliers.
type demoPart struct{ number, kind, price string }

// kindWords turn the type words of the demo sheets into ours.
var kindWords = map[string]string{
	"dichtung": "seal", "schlauch": "hose", "schelle": "clamp", "deckel": "cap", "kühlmittel": "coolant",
}

// demoParts reads the parts of every supplier's sheet, by supplier and type, in
// the order of the sheets. Rows with a cell too many, or with a number that a
// spreadsheet has spoilt, are left out as an import would leave them out.
func demoParts(fsys fs.FS, sheets []demo.Sheet) (map[string][]demoPart, error) {
	parts := map[string][]demoPart{}
	for _, s := range sheets {
		if s.As != "supplier" {
			continue
		}
		records, head, err := demoRecords(fsys, s)
		if err != nil {
			return nil, err
		}
		number, kind, price := head["number"], head["type"], head["price"]
		seen := map[string]bool{}
		for _, r := range records {
			n := r[number]
			if seen[n] || strings.Contains(n, "E+") || n == "3-Oct" {
				continue
			}
			seen[n] = true
			k := strings.ToLower(r[kind])
			if ours := kindWords[k]; ours != "" {
				k = ours
			}
			key := s.Supplier + "/" + k
			parts[key] = append(parts[key], demoPart{n, k, strings.ReplaceAll(r[price], ",", ".")})
		}
	}
	return parts, nil
}

// demoRecords returns the full rows of a sheet below its heading and the column
// of each field, found through the sheet's own mapping.
func demoRecords(fsys fs.FS, s demo.Sheet) ([][]string, map[string]int, error) {
	text, err := fs.ReadFile(fsys, s.File)
	if err != nil {
		return nil, nil, fmt.Errorf("read the demo sheet: %w", err)
	}
	headings := map[string]string{"number": "Number", "type": "Type", "price": "Price EUR"}
	for _, m := range s.Maps {
		if field, heading, ok := strings.Cut(m, "="); ok {
			headings[field] = heading
		}
	}
	r := csv.NewReader(bytes.NewReader(bytes.TrimPrefix(text, []byte("\ufeff"))))
	r.FieldsPerRecord, r.LazyQuotes = -1, true
	for _, sep := range []rune{'\t', ';'} {
		if bytes.ContainsRune(text[:min(len(text), 200)], sep) {
			r.Comma = sep
		}
	}
	records, err := r.ReadAll()
	if err != nil {
		return nil, nil, fmt.Errorf("%s: %w", s.File, err)
	}
	at := slices.IndexFunc(records, func(r []string) bool { return slices.Contains(r, headings["number"]) })
	if at < 0 {
		return nil, nil, fmt.Errorf("%s has no heading %q", s.File, headings["number"])
	}
	head := map[string]int{}
	for _, field := range []string{"number", "type", "price"} {
		i := slices.Index(records[at], headings[field])
		if i < 0 {
			return nil, nil, fmt.Errorf("%s has no heading %q", s.File, headings[field])
		}
		head[field] = i
	}
	body := slices.DeleteFunc(records[at+1:], func(r []string) bool { return len(r) != len(records[at]) || r[head["type"]] == "" })
	return body, head, nil
}
