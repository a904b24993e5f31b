package fit

import (
	"fmt"
	"slices"
	"strings"

	"fitfill/catalog"
)

// copied says which suppliers' rows are one statement.
func copied(rows []row) string {
	by := map[int][]string{}
	for _, r := range rows {
		if r.state <= open && !slices.Contains(by[r.group], r.supplier) {
			by[r.group] = append(by[r.group], r.supplier)
		}
	}
	var said []string
	for _, names := range by {
		if len(names) > 1 {
			slices.Sort(names)
			said = append(said, fmt.Sprintf("The lists of %s carry the same rows and count once.", strings.Join(names, " and ")))
		}
	}
	slices.Sort(said)
	return strings.Join(said, " ")
}

func describe(f catalog.Fitment) string {
	var parts []string
	for _, p := range []string{f.Make, f.Model, f.Engine} {
		if p = strings.TrimSpace(p); p != "" {
			parts = append(parts, p)
		}
	}
	text := strings.Join(parts, " ")
	if f.YearsText != "" {
		text += ", " + strings.TrimSpace(f.YearsText)
	}
	if f.VIN8 != "" {
		text += ", VIN " + f.VIN8
	}
	return text
}

func orGarage(supplier string) string {
	if supplier == "" {
		return "The garage"
	}
	return supplier
}
