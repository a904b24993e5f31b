package words

import (
	"slices"
	"strconv"
	"strings"
)

// Read decides what a sentence is. known is what the catalogue has under the
// keys that Keys returned.
//
// A barcode, a VIN and a trouble code tell themselves by their shape; then a
// part number that the catalogue has; then a vehicle on file. What is left is
// an engine if nothing but engine words were said, half a number if nothing but
// one figure was, and else words.
func (t *Table) Read(text string, known Known) Reading {
	r := Reading{Text: text}
	list := split(text)
	t.shapes(list, known, &r)
	t.numbersOf(list, known, &r)
	list = t.spoken(list)
	t.namesAndPhrases(list, known, &r)
	t.sizes(list, &r)
	t.yearsOf(list, &r)
	cue := t.rest(list, &r)
	r.As = t.decide(&r, cue)
	return r
}

// namesAndPhrases reads what is left by names of the catalogue and phrases of
// the trade, the longest stretch first.
func (t *Table) namesAndPhrases(list []token, known Known, r *Reading) {
	var types []saidType
	for n := mostWords; n > 0; n-- {
		for i := 0; i+n <= len(list); i++ {
			if !free(list, i, i+n) {
				continue
			}
			text := joined(list, i, i+n)
			entries := t.phrases[Fold(text)]
			switch {
			case meaningful(entries):
				for _, e := range entries {
					if e.kind == "type" {
						types = append(types, saidType{e.value, i, i + n})
					}
				}
				t.phrase(text, entries, list[i:i+n], r)
			case t.name(text, known, r):
			default:
				continue
			}
			use(list, i, i+n)
		}
	}
	t.wanted(list, types, r)
}

func (t *Table) phrase(text string, entries []entry, list []token, r *Reading) {
	var means []string
	for _, e := range entries {
		switch e.kind {
		case "type":
			r.Types, r.TypeWords = appendNew(r.Types, e.value), appendNew(r.TypeWords, text)
			means = append(means, e.value)
			t.placeWithin(list, r)
		case "place", "concept":
			r.Concepts = append(r.Concepts, Concept{text, append(slices.Clone(e.any), e.value)})
			means = append(means, e.value)
		case "with":
			r.With = appendNew(r.With, e.value)
			means = append(means, "with "+e.value)
		case "without":
			r.Without = appendNew(r.Without, e.value)
			means = append(means, "without "+e.value)
		case "fuel":
			r.Fuel = e.value
			means = append(means, "fuel")
		case "electrified":
			r.Electrified = true
			means = append(means, "electrified")
		case "cylinders":
			r.Cylinders, _ = strconv.Atoi(e.value) // the test of the table holds it to numbers
			means = append(means, "cylinders")
		}
	}
	r.Spans = append(r.Spans, Span{text, strings.Join(means, ", ")})
}

// placeWithin keeps the place that a phrase for a part names: "lower hose".
func (t *Table) placeWithin(list []token, r *Reading) {
	if len(list) < 2 {
		return
	}
	for _, w := range list {
		for _, e := range t.phrases[w.fold] {
			if e.kind == "place" {
				r.Concepts = append(r.Concepts, Concept{w.text, append(slices.Clone(e.any), e.value)})
			}
		}
	}
}

// name takes a stretch for a name of the catalogue.
func (t *Table) name(text string, known Known, r *Reading) bool {
	key := t.Number(text)
	for _, n := range known[key] {
		switch n {
		case NameEngine:
			r.Engines = appendNew(r.Engines, key)
		case NameModel:
			r.Models = appendNew(r.Models, key)
		case NameMake:
			r.Makes = appendNew(r.Makes, key)
		case NameSupplier:
			r.Suppliers = appendNew(r.Suppliers, key)
		case NameMark:
			r.Marks = appendNew(r.Marks, key)
		default:
			continue
		}
		r.Spans = append(r.Spans, Span{text, nameMeans[n]})
		return true
	}
	return false
}

// rest sorts what nothing has read: filler, and words that only the parts'
// texts can know. It reports whether half a number was announced.
func (t *Table) rest(list []token, r *Reading) (cue bool) {
	for n := mostWords; n > 0; n-- {
		for i := 0; i+n <= len(list); i++ {
			if !free(list, i, i+n) {
				continue
			}
			entries := t.phrases[Fold(joined(list, i, i+n))]
			if len(entries) == 0 {
				continue
			}
			cue = cue || entries[0].kind == "cue-part" || entries[0].kind == "cue-number"
			r.LeftOut = append(r.LeftOut, joined(list, i, i+n))
			use(list, i, i+n)
		}
	}
	for i := range list {
		switch w := &list[i]; {
		case w.used:
		case !hasDigit(w.text) && (len(w.fold) < 2 || unitWord[w.fold] != ""):
			r.LeftOut = append(r.LeftOut, w.text)
		default:
			r.Words = append(r.Words, w.text)
		}
	}
	return cue
}

// decide says what the sentence is as a whole.
func (t *Table) decide(r *Reading, cue bool) As {
	switch {
	case r.VIN != "":
		return AsVIN
	case r.Barcode != "":
		return AsBarcode
	case r.Code != "":
		return AsCode
	case len(r.Numbers) > 0:
		return AsNumber
	}
	half := t.Number(strings.Join(r.Words, " "))
	sized := slices.ContainsFunc(r.Words, func(w string) bool { return threads.MatchString(w) || oring.MatchString(w) })
	dashed := len(strings.Fields(r.Text)) == 1 && strings.Contains(r.Text, "-") && !r.NamesEngine()
	if (hasDigit(half) && onlyLast(r.Words) || dashed && half != "") && !sized && (cue || !r.NamesEngine()) && len(r.Types)+len(r.Concepts)+len(r.Sizes) == 0 && len(r.Years) == 0 && len(r.Marks) == 0 {
		r.Partial = half
		return AsNumber
	}
	switch {
	case len(r.Marks) > 0:
		return AsVehicle
	case r.NamesEngine() && !r.AsksForParts():
		return AsEngine
	}
	return AsWords
}

// onlyLast reports whether the words can be one number: the last has a digit,
// and those before it are short letters ("GV 50").
func onlyLast(words []string) bool {
	for i, w := range words {
		if !hasDigit(w) && (i == len(words)-1 || len(w) > 4) {
			return false
		}
	}
	return true
}

func appendNew(list []string, text string) []string {
	if slices.Contains(list, text) {
		return list
	}
	return append(list, text)
}
