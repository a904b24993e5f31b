package fit

import (
	"strings"

	"fitfill/catalog"
	"fitfill/catalog/pattern"
)

// statement is who said something, and in which words.
type statement struct{ supplier, sha256, row string }

// said returns the statement behind an origin; supplier is whose sheet it is
// where the origin does not name one.
func said(o catalog.Origin, supplier string) statement {
	if o.Supplier != "" {
		supplier = o.Supplier
	}
	return statement{catalog.Fold(supplier), o.SHA256, rowText(o.Text)}
}

// said returns the statement behind an origin; suppliers whose lists of this
// engine are copies of one another speak as one.
func (t trial) said(o catalog.Origin, supplier string) statement {
	s := said(o, supplier)
	if t.field != nil && t.field.copies[s.supplier] != "" {
		s.supplier = t.field.copies[s.supplier]
	}
	return s
}

var priceText = pattern.New(`\d+[.,]\d{2}\b`).Needing(".,")

// rowText folds the text of a row for comparison. Numbers with two decimals go:
// two copies of one list differ in their prices.
func rowText(text string) string { return catalog.Fold(priceText.ReplaceAllString(text, " ")) }

// same reports whether two statements have one origin: one supplier, one file
// sold by two, or the same row of text.
func (s statement) same(o statement) bool {
	return s.supplier == o.supplier || s.sha256 != "" && s.sha256 == o.sha256 || s.row != "" && s.row == o.row
}

// origins numbers statements by origin: statements with one number are one
// word, however often it was printed.
func origins(all []statement) (number []int, count int) {
	number = make([]int, len(all))
	for i := range all {
		number[i] = i
	}
	for i := range all {
		for j := range all[:i] {
			if number[i] != number[j] && all[i].same(all[j]) {
				from, to := number[i], number[j]
				for k := range number {
					if number[k] == from {
						number[k] = to
					}
				}
			}
		}
	}
	seen := map[int]int{}
	for i, n := range number {
		if _, ok := seen[n]; !ok {
			seen[n] = len(seen)
		}
		number[i] = seen[n]
	}
	return number, len(seen)
}

// independent returns how many origins the statements have.
func independent(all ...statement) int {
	_, n := origins(all)
	return n
}

// oneLine shortens a note for a sentence.
func oneLine(text string) string {
	const most = 60
	r := []rune(strings.Join(strings.Fields(text), " "))
	if len(r) > most {
		return string(r[:most-1]) + "…"
	}
	return string(r)
}
