package importers

import (
	"cmp"
	"slices"
)

// nearest returns up to three fields whose headings look most like the text.
func (p *proposal) nearest(text string) []string {
	key := p.voc.headingKey(text)
	best := map[string]float64{}
	for known, name := range p.voc.headings[p.kind.kind] {
		if s := closeness(key, known); s > best[name] {
			best[name] = s
		}
	}
	var names []string
	for name, s := range best {
		if s >= p.voc.limits.get("suggest_near") {
			names = append(names, name)
		}
	}
	slices.SortFunc(names, func(a, b string) int {
		return cmp.Or(cmp.Compare(best[b], best[a]), cmp.Compare(a, b))
	})
	return names[:min(3, len(names))]
}

// closeness is likeness, or more where the two share half of their words.
func closeness(a, b string) float64 {
	s := likeness(a, b)
	if w := commonWords(a, b); w >= 0.5 {
		s = max(s, (1+w)/2)
	}
	return s
}

// near reports whether a heading is close to a name of the field.
func (p *proposal) near(heading, field string) bool {
	fields, ok := p.nearTo[heading]
	if !ok {
		fields = p.fieldsNear(heading)
		if p.nearTo == nil {
			p.nearTo = map[string]map[string]bool{}
		}
		p.nearTo[heading] = fields
	}
	return fields[field]
}

// fieldsNear looks once for all fields that have a name which is close to a heading.
func (p *proposal) fieldsNear(heading string) map[string]bool {
	fields := map[string]bool{}
	near := p.voc.limits.get("suggest_near")
	for _, base := range headingBases(heading) {
		key := p.voc.headingKey(base)
		if key == "" {
			continue
		}
		for known, name := range p.voc.headings[p.kind.kind] {
			if !fields[name] && closeness(key, known) >= near {
				fields[name] = true
			}
		}
	}
	return fields
}

// likeness is Dice's coefficient of the pairs of neighbouring letters: twice
// the pairs in common over all pairs, 1 for equal texts, 0 for nothing alike.
func likeness(a, b string) float64 {
	if a == b {
		return 1
	}
	pairs := map[[2]byte]int{}
	for i := range max(len(a)-1, 0) {
		pairs[[2]byte{a[i], a[i+1]}]++
	}
	common := 0
	for i := range max(len(b)-1, 0) {
		if k := [2]byte{b[i], b[i+1]}; pairs[k] > 0 {
			pairs[k]--
			common++
		}
	}
	if len(a)+len(b) <= 2 {
		return 0
	}
	return 2 * float64(common) / float64(len(a)+len(b)-2)
}
