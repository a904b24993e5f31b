package fit

import (
	"slices"
	"strconv"
	"strings"

	"fitfill/catalog"
	"fitfill/catalog/pattern"
	"fitfill/catalog/units"
)

// engineText is an engine as a list describes it: "3.4 V6 '93-02 VIN K exc. HD".
type engineText struct {
	main      string // without the exclusion at its end
	sizes     []units.Volume
	cylinders int
	years     string
	vin8      string
	fuel      string
	words     []string // folded words that are none of these
}

var (
	yearsInText  = pattern.New(`(?i)(?:^|[\s(,;])((?:'?\d{2}|(?:19|20)\d{2}(?:\.5)?)\s*(?:-|–|—|to|thru|through)\s*(?:'?\d{2}|(?:19|20)\d{2}(?:\.5)?)\b|(?:'\d{2}|(?:19|20)\d{2}(?:\.5)?)(?:\s*(?:on\b|[+\-–>]))?)`).Needing("0123456789")
	litresText   = pattern.New(`(?i)\b(\d[.,]\d{1,2})\s*(?:l|lt|ltr|lit(?:re|er)s?)?\b`).Needing(".,")
	capacityText = pattern.New(`(?i)\b(\d{2,4}(?:[.,]\d)?\s*(?:ccm|cc|cm3|cm³|cid|ci|cu\.?\s*in\.?|in3))`).Needing("cCiI")
	cylsText     = pattern.New(`(?i)\b(?:[vilrhbw]-?(\d{1,2})|(\d{1,2})[\s-]*cyl(?:inders?|s)?)\b\.?`).Needing("0123456789")
	vinText      = pattern.New(`(?i)\b(?:vin(?:\s*code)?(?:\s*8)?|8th\s*(?:digit|vin))[\s:=-]*"?([A-HJ-NPR-Z0-9])\b"?`).Needing("vV8")
)

// engineText reads how a list describes an engine. What it cannot place stays
// among the words.
func (t *Tables) engineText(text string) (e engineText) {
	e.main = text
	if at, _, ok := t.words.find("exclusion", strings.Fields(catalog.Fold(text))); ok && at > 0 {
		e.main = strings.TrimSuffix(text, afterExclusion(t.words, text))
	} else if ok {
		return e
	}
	rest := e.main
	take := func(form *pattern.Pattern, use func(groups []string)) {
		for _, m := range form.FindAllStringSubmatch(rest, -1) {
			use(m)
		}
		rest = form.ReplaceAllString(rest, " ")
	}
	take(vinText, func(m []string) { e.vin8 = strings.ToUpper(m[1]) })
	size := func(m []string) {
		if v, err := units.ParseDisplacement(m[1], ""); err == nil {
			e.sizes = append(e.sizes, v)
		}
	}
	take(capacityText, size)
	take(litresText, size)
	take(yearsInText, func(m []string) { e.years = strings.TrimSpace(m[1]) })
	take(cylsText, func(m []string) {
		e.cylinders, _ = strconv.Atoi(m[1] + m[2]) // the pattern lets only digits through
	})
	e.words = t.words.strip(strings.Fields(catalog.Fold(rest)), "filler", "engine_filler")
	e.words = slices.DeleteFunc(e.words, func(w string) bool {
		_, _, fuel := t.words.find("fuel", []string{w})
		if fuel {
			e.fuel = w
		}
		return fuel
	})
	return e
}

// describes reports whether the text describes an engine rather than naming it.
func (e *engineText) describes() bool {
	return (len(e.sizes) > 0 || e.vin8 != "") && len(e.words) == 0
}

// SameSize reports whether two engines have one size: no further apart than
// the setting same_size, and the same to a tenth of a litre, as badges print it.
func (t *Tables) SameSize(a, b units.Volume) bool {
	apart := a.Litres() - b.Litres()
	return badge(a) == badge(b) && apart <= t.limits.of(sameSizeLitres) && -apart <= t.limits.of(sameSizeLitres)
}

func badge(v units.Volume) string { return strconv.FormatFloat(v.Litres(), 'f', 1, 64) }

// DescribesEngine reports whether a name of an engine only describes it, as
// "3.8 V6 VIN T" does: other makes' engines may be described in the same words.
func (t *Tables) DescribesEngine(name string) bool {
	e := t.engineText(name)
	return e.describes()
}
