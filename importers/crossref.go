package importers

import (
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
	add("", r.ReplacedBy.text, catalog.ReplacedBy)
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
