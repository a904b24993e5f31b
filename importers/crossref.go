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
		for _, n := range splitList(numbers) {
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
