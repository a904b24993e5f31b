package words

import (
	"slices"
	"strconv"
	"strings"

	"fitfill/catalog/pattern"
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

var (
	vinLike = pattern.New(`^[A-Z0-9]{17}$`)
	serial  = pattern.New(`[0-9]{4}$`)
	threads = pattern.New(`^(M ?\d+([xX].*)?|\d+/\d+-\d+)$`)
	oring   = pattern.New(`(?i)^as568-?\d{3}$`)
)

// shapes finds what tells itself by its shape.
func (t *Table) shapes(list []token, known Known, r *Reading) {
	cued := t.cue(list, "cue-vin")
	for i := range list {
		for j := i + 1; j <= min(len(list), i+mostWords); j++ {
			text := joined(list, i, j)
			key := t.Number(text)
			if !free(list, i, j) || known.has(key, NameNumber) {
				continue
			}
			switch {
			case r.VIN == "" && eachHasDigit(list[i:j]) && (vinLike.MatchString(key) && serial.MatchString(key) && strings.ContainsAny(key, "ABCDEFGHIJKLMNOPQRSTUVWXYZ") || j == i+1 && nearVIN(key, cued)):
				r.VIN = strings.ReplaceAll(text, " ", "")
				use(list, i, j)
				r.Spans = append(r.Spans, Span{text, "VIN"})
			case r.Code == "" && t.IsCode(text) && (j == i+1 || j == i+2 && len(list[i].text) == 1):
				r.Code = strings.ToUpper(strings.ReplaceAll(text, " ", ""))
				use(list, i, j)
				r.Spans = append(r.Spans, Span{text, "trouble code"})
			case r.Barcode == "" && j == i+1 && allDigits(key) && (gtinLength(key) || len(key) == 8 && GTINRight(key)):
				r.Barcode, r.BarcodeRight = key, GTINRight(key)
				use(list, i, j)
				r.Spans = append(r.Spans, Span{text, "barcode"})
			}
		}
	}
}

// eachHasDigit keeps words from being taken for a piece of a number.
func eachHasDigit(list []token) bool {
	return !slices.ContainsFunc(list, func(w token) bool { return !hasDigit(w.text) })
}

// nearVIN reports whether one word may be a VIN with a character too many or
// too few.
func nearVIN(key string, cued bool) bool {
	if len(key) < 16 || len(key) > 18 {
		return false
	}
	digits := 0
	for _, c := range key {
		if c >= '0' && c <= '9' {
			digits++
		}
	}
	return cued || digits >= 6 && digits < len(key)-2 && key[0] < 'a' && len(key) != 17
}

// cue reports whether a phrase of a kind occurs.
func (t *Table) cue(list []token, kind string) bool {
	for i := range list {
		for j := i + 1; j <= min(len(list), i+mostWords); j++ {
			for _, e := range t.phrases[Fold(joined(list, i, j))] {
				if e.kind == kind {
					return true
				}
			}
		}
	}
	return false
}

// numbersOf finds part numbers that the catalogue has, the longest stretch
// first. A stretch of digits alone counts from five on, or where it is all that
// was said, since years, sizes and ratings are figures too.
func (t *Table) numbersOf(list []token, known Known, r *Reading) {
	cued := t.cue(list, "cue-number")
	for n := mostWords; n > 0; n-- {
		for i := 0; i+n <= len(list); i++ {
			text := joined(list, i, i+n)
			key := t.Number(text)
			if !free(list, i, i+n) || !known.has(key, NameNumber) || !hasDigit(key) && (n < len(list) || meaningful(t.phrases[Fold(text)])) ||
				allDigits(key) && len(key) < 5 && n < len(list) && !cued {
				continue
			}
			use(list, i, i+n)
			r.Spans = append(r.Spans, Span{text, nameMeans[NameNumber]})
			if !slices.Contains(r.Numbers, key) {
				r.Numbers = append(r.Numbers, key)
			}
		}
	}
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

// saidType is a part type with the tokens that said it.
type saidType struct {
	value    string
	from, to int
}

// wanted keeps the types that are asked for: in "a clip for a 47 mm hose" the
// hose is what the clip goes on.
func (t *Table) wanted(list []token, types []saidType, r *Reading) {
	slices.SortFunc(types, func(a, b saidType) int { return a.from - b.from })
	for i, s := range types {
		if i > 0 && types[i-1].value != s.value && goesOn(list[types[i-1].to:s.from]) {
			r.Types = slices.DeleteFunc(slices.Clone(r.Types), func(v string) bool { return v == s.value })
			continue
		}
		r.Types = appendNew(r.Types, s.value)
	}
}

// goesOn reports whether "for" or "on" stands between two parts, and nothing
// but articles and figures beside it.
func goesOn(between []token) bool {
	on := false
	for _, w := range between {
		switch {
		case w.fold == "and" || w.fold == "with" || w.fold == "plus":
			return false
		case w.fold == "for" || w.fold == "on" || w.fold == "onto" || w.fold == "over":
			on = true
		case w.used:
			return false
		}
	}
	return on
}

// meaningful reports whether a phrase is more than filler.
func meaningful(entries []entry) bool {
	return slices.ContainsFunc(entries, func(e entry) bool { return e.kind != "filler" && !strings.HasPrefix(e.kind, "cue-") })
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
