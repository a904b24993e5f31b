package importers

import (
	"strings"

	"fitfill/catalog"
)

// unmistakable reports whether values that read as those of a field can hardly be
// anything else: quantities with their unit, dates, numbers on file, words of a
// list. Bare numbers are temperatures as well as lengths, and "yes" answers any
// question.
func (p *proposal) unmistakable(c *candidate, f field) bool {
	switch f.kind {
	case catalog.KindDate:
		return true
	case catalog.KindBool, catalog.KindCount, catalog.KindPercent: // a discount and a tax are shares too
		return false
	case catalog.KindYears:
		return c.mostly(func(t string) bool { return len(t) >= len("1998") && !strings.ContainsFunc(t, isUnitSign) })
	case catalog.KindMoney:
		return c.mostly(func(t string) bool {
			return strings.ContainsFunc(t, func(r rune) bool {
				return r >= 'A' && r <= 'Z' || r >= 'a' && r <= 'z' || strings.ContainsRune("€$£", r)
			})
		})
	case catalog.KindText:
		if p.voc.words[f.name] == nil {
			return true // numbers and barcodes have evidence of their own
		}
		return c.mostly(func(t string) bool { return len(t) > 1 && !hasDigit(t) && p.voc.words["yesno"][wordKey(t)] == nil })
	}
	return c.mostly(func(t string) bool { return strings.ContainsFunc(t, isUnitSign) })
}

func (c *candidate) mostly(is func(string) bool) bool {
	n := 0
	for _, t := range c.shape.texts {
		if is(t) {
			n++
		}
	}
	return n > 0 && 2*n >= len(c.shape.texts)
}

// fieldsOfKind returns the fields that take what the values of a column are, where
// only fields of one kind do: yes or no, days.
func (p *proposal) fieldsOfKind(c *candidate) []string {
	var kind catalog.Kind
	isDay := func(t string) bool {
		return isoDate.MatchString(t) || markedDate.MatchString(t) || namedDate.MatchString(t)
	}
	switch {
	case c.mostly(func(t string) bool { return p.voc.words["yesno"][wordKey(t)] != nil && !hasDigit(t) }):
		kind = catalog.KindBool
	case c.mostly(isDay):
		kind = catalog.KindDate
	default:
		return nil
	}
	var names []string
	for _, f := range p.freeFields() {
		if f.kind == kind {
			names = append(names, f.name)
		}
	}
	return names
}
