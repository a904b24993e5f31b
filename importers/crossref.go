package importers

import (
	"fmt"
	"strings"

	"fitfill/catalog"
)

// crossReferences returns the row's other numbers and what it replaces.
func crossReferences(r *supplierRow, c *rowContext) []catalog.CrossReference {
	var out []catalog.CrossReference
	add := func(supplier, numbers string, relation catalog.Relation) {
		for _, n := range splitNumbers(numbers) {
			if key := catalog.Key(n); key != "" {
				out = append(out, catalog.CrossReference{OtherSupplier: supplier, OtherNumber: n, OtherKey: key, Relation: relation, Origin: c.origin})
			}
		}
	}
	relation := catalog.Relation(r.Relation.text)
	if relation == "" {
		relation = catalog.Same
	}
	add(r.OtherSupplier.text, r.OtherNumber.text, relation)
	add("", r.Replaces.text, catalog.Replaces)
	if !c.plan.isGone(r.ReplacedBy.text) {
		add("", r.ReplacedBy.text, catalog.ReplacedBy)
	}
	return out
}

// splitNumbers cuts a cell that lists part numbers, also with commas between them:
// no number has one before a blank, and none between so many signs on both sides
// that it cannot be the mark of a size ("53,5x3").
func splitNumbers(text string) []string {
	list := splitList(text)
	if !has(text, ',') {
		return list
	}
	const long = 5 // signs beside a comma without a blank
	var out []string
	for _, entry := range list {
		from := 0
		for i := range len(entry) {
			if entry[i] != ',' {
				continue
			}
			left, right := trim(entry[from:i]), entry[i+1:]
			next, _, _ := strings.Cut(right, ",")
			blank := strings.HasPrefix(right, " ")
			if next = trim(next); !hasDigit(left) || !hasDigit(next) || !blank && (len(left) < long || len(next) < long) {
				continue
			}
			out, from = append(out, left), i+1
		}
		if rest := trim(entry[from:]); rest != "" {
			out = append(out, strings.TrimRight(rest, ", "))
		}
	}
	return out
}

// splitList cuts a cell that lists several things with ";" or "|".
func splitList(text string) []string {
	if strings.IndexByte(text, ';') < 0 && strings.IndexByte(text, '|') < 0 {
		if text == "" {
			return nil
		}
		return []string{text}
	}
	var out []string
	for _, part := range strings.FieldsFunc(text, func(r rune) bool { return r == ';' || r == '|' }) {
		if part = trim(part); part != "" {
			out = append(out, part)
		}
	}
	return out
}

// replacedBy reads a cell of newer numbers. Words such as "no longer available" are
// kept as they stand for gone; other words without a digit name no part.
func (c *planColumn) replacedBy(cell string) canon {
	if hasDigit(cell) || c.voc.words["gone"][wordKey(cell)] != nil || !strings.Contains(cell, " ") {
		return canon{text: cell}
	}
	return canon{problem: &problem{code: "replaced-by", why: fmt.Sprintf("%q names no part: write the number of the new one, or move the words to a column of notes", cell)}}
}

// isGone recognises words such as "no longer available", which stand where the
// number of a newer part is looked for and name none.
func (p *plan) isGone(text string) bool {
	return text != "" && p.voc.words["gone"][wordKey(text)] != nil
}
