package importers

import (
	"fmt"
	"strings"

	"fitfill/catalog"
)

// scored is how well a column fits a field.
type scored struct {
	name, value float64
	why         string // the evidence in words
	shows       bool   // heading or values show that it is this field
}

func (p *proposal) total(s scored) float64 {
	l := p.voc.limits
	return l.get("suggest_name_weight")*s.name + l.get("suggest_value_weight")*s.value
}

// nameScores returns for every field of the kind how much the heading is like
// its names: 1 for the field's own name, a little less for a listed one, else
// the better of the words and of the pairs of letters in common.
func (p *proposal) nameScores(heading string) map[string]float64 {
	scores := map[string]float64{}
	if trim(heading) == "" {
		return scores
	}
	for _, base := range headingBases(heading) {
		key := p.voc.headingKey(base)
		for known, field := range p.voc.headings[p.kind.kind] {
			if s := min(max(likeness(key, known), commonWords(key, known)), p.voc.limits.get("suggest_synonym")); s > scores[field] {
				scores[field] = s
			}
		}
		if _, ok := p.kind.field(strings.ReplaceAll(key, " ", "_")); ok {
			scores[strings.ReplaceAll(key, " ", "_")] = 1
		}
	}
	return scores
}

// commonWords is Jaccard's coefficient of the two sets of words: those in
// common over all of them.
func commonWords(a, b string) float64 {
	words := map[string]int{}
	for _, w := range strings.Fields(a) {
		words[w] |= 1
	}
	for _, w := range strings.Fields(b) {
		words[w] |= 2
	}
	common := 0
	for _, in := range words {
		if in == 3 {
			common++
		}
	}
	return share(common, len(words))
}

// valueScore returns how well the values of a column fit a field, and in which
// words to say so. Free text fits nothing and everything.
func (p *proposal) valueScore(c *candidate, f field) (float64, string) {
	switch {
	case f.name == "number":
		return p.numberScore(&c.shape)
	case f.name == "replaces" || f.name == "replaced_by" || f.name == "other_number":
		known := share(c.shape.known, c.shape.keys)
		if neutral := p.voc.limits.get("suggest_neutral"); known <= neutral {
			return neutral, ""
		}
		return known, percentOf(known, "of the values are part numbers on file")
	case f.name == "barcode":
		n := 0
		for _, t := range c.shape.texts {
			if gtinLike.MatchString(t) && checkDigit(t) {
				n++
			}
		}
		s := share(n, len(c.shape.texts))
		return s, percentOf(s, "of the values pass the check digit of barcodes")
	}
	key := fmt.Sprint(f.kind)
	if p.voc.words[f.name] != nil {
		key = f.name
	}
	if s, ok := c.values[key]; ok {
		return s.value, s.why
	}
	var s scored
	s.value, s.why = p.readable(c, f)
	if c.values == nil {
		c.values = map[string]scored{}
	}
	c.values[key] = s
	return s.value, s.why
}

// numberScore rests on what is on file, and without that on the looks of the
// values: short words with digits, hardly any twice.
func (p *proposal) numberScore(s *valueShape) (float64, string) {
	known := share(s.known, s.keys)
	looks := p.voc.limits.get("suggest_code_weight") * share(s.code, s.filled) * s.distinct()
	if known > looks {
		return known, percentOf(known, "of the values are part numbers on file")
	}
	return looks, percentOf(share(s.code, s.filled), "of the values look like part numbers")
}

// readable returns the share of the sample that reads as a value of the field.
func (p *proposal) readable(c *candidate, f field) (float64, string) {
	neutral := p.voc.limits.get("suggest_neutral")
	col := &planColumn{Column: Column{Field: f.name}, field: f, voc: p.voc, cache: map[string]*seenCell{}}
	if f.kind == catalog.KindBool {
		col.list = p.voc.yesNo(f.name)
	} else if f.kind == catalog.KindText {
		col.list = p.voc.listFor(f.name)
	}
	if f.kind == catalog.KindText && col.list == nil {
		if f.name == "description" {
			return max(neutral, share(c.shape.prose, c.shape.filled)), ""
		}
		return neutral, ""
	}
	n, good := 0, 0.0
	for _, t := range c.shape.texts {
		if p.voc.words["null"][wordKey(t)] != nil && len(t) <= maxWord {
			continue
		}
		n++
		if f.kind != catalog.KindText && gtinLike.MatchString(t) && checkDigit(t) {
			continue // a barcode is no quantity
		}
		switch out := col.read(t); {
		case col.list != nil:
			if col.list.words[wordKey(t)] != nil || col.list.phrase && p.voc.mainWord(col.list, t) != nil {
				good++
			}
		case out.problem == nil && (out.text != "" || out.note != ""), strings.HasPrefix(f.name, "year") && out.problem != nil && out.problem.code == "years-unclear":
			good++
		case out.problem != nil && (strings.HasSuffix(out.problem.code, "-unclear") || out.problem.code == "date-order"):
			if unitChoices[f.kind] == nil {
				good++
			} else {
				good += p.voc.limits.get("suggest_bare_number")
			}
		}
	}
	if n == 0 {
		return neutral, ""
	}
	s := good / float64(n)
	return s, percentOf(s, "of the values read as "+kindWords(f))
}

func percentOf(share float64, of string) string {
	return fmt.Sprintf("%.0f %% %s", 100*share, of)
}

var kindNouns = map[catalog.Kind]string{
	catalog.KindBool: "yes or no", catalog.KindCount: "counts", catalog.KindDate: "dates", catalog.KindTemperature: "temperatures",
	catalog.KindLength: "lengths", catalog.KindVolume: "volumes", catalog.KindDisplacement: "displacements",
	catalog.KindPressure: "pressures", catalog.KindPercent: "shares", catalog.KindMoney: "prices", catalog.KindYears: "years",
}

func kindWords(f field) string {
	if n := kindNouns[f.kind]; n != "" {
		return n
	}
	return "words of " + strings.ReplaceAll(f.name, "_", " ")
}
