package words

import (
	"slices"
	"strings"

	"fitfill/catalog/pattern"
)

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
