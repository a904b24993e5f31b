package words

import (
	"slices"
	"strconv"

	"fitfill/catalog/pattern"
)

var (
	yearFigure = pattern.New(`^(19|20)\d\d$`)
	yearPair   = pattern.New(`^'?((?:19|20)?\d\d)[-–]'?((?:19|20)?\d\d)$`)
	twoDigits  = pattern.New(`^'?(\d\d)$`)
)

// yearsOf reads model years: four digits, two behind an apostrophe, two alone
// where a vehicle was named, and a stretch of them.
func (t *Table) yearsOf(list []token, r *Reading) {
	for i, w := range list {
		if w.used {
			continue
		}
		var from, to int
		switch m := yearPair.FindStringSubmatch(w.text); {
		case yearFigure.MatchString(w.text) && len(list) > 1:
			from, _ = strconv.Atoi(w.text)
			to = from
		case m != nil && r.NamesEngine():
			from, to = century(m[1]), century(m[2])
		default:
			m := twoDigits.FindStringSubmatch(w.text)
			if m == nil || w.text[0] != '\'' && len(r.Makes)+len(r.Models)+len(r.Engines) == 0 {
				continue
			}
			from = century(m[1])
			to = from
		}
		if from > to || to-from > mostYears {
			continue
		}
		for y := from; y <= to; y++ {
			if !slices.Contains(r.Years, y) {
				r.Years = append(r.Years, y)
			}
		}
		r.Spans = append(r.Spans, Span{w.text, "year"})
		use(list, i, i+1)
	}
}

// mostYears is how long a stretch of years a sentence may name.
const mostYears = 40

// century completes two digits: 40 to 99 are of the last century, as in sheets.
func century(text string) int {
	n, _ := strconv.Atoi(text)
	switch {
	case n >= 100:
		return n
	case n >= 40:
		return 1900 + n
	}
	return 2000 + n
}
