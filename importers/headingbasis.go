package importers

import (
	"strconv"
	"strings"

	"fitfill/catalog"
	"fitfill/catalog/pattern"
	"fitfill/catalog/units"
)

// joinsBasis finds the words between a heading and what its prices are for:
// "Price/100", "EUR per 100 pcs", "Preis (je 100)", "Price per litre".
var joinsBasis = pattern.New(`(?i)\s*[(\[]?\s*(?:/|\b(?:per|je|pro|par|por)\b|\s(?:à|x)\s)\s*`)

// headingBasis splits a heading of prices that says for what they are: the
// heading without it, and "100", "litre", "pack" or "each". A currency may stand
// behind it. Without such a word, or with one that is not known, basis is empty.
func (v *vocabulary) headingBasis(heading string) (base, basis string) {
	h := strings.TrimRight(trim(strings.ReplaceAll(heading, "_", " ")), " )]")
	for _, at := range joinsBasis.FindAllStringIndex(h, -1) {
		tail := h[at[1]:]
		for _, part := range append([]headingPart{{base: tail}}, headingParts(tail)...) {
			currency := ""
			if part.unit != "" {
				if currency = v.currency(part.unit); currency == "" {
					continue
				}
			}
			word := strings.TrimRight(part.base, " ,)]([")
			if basis = v.basis(word); basis == "" {
				if known := v.words["price_per"][wordKey(word)]; len(known) == 1 {
					basis = known[0]
				}
			}
			if basis != "" {
				return trim(trimJoint(h[:at[0]]) + " " + currency), basis
			}
		}
	}
	return "", ""
}

// hintsBasis reports whether a heading seems to say that its prices are for several
// of something: a number behind "per" or "/", or a number of ten or more that is no
// year, no day and no share.
func hintsBasis(heading string) bool {
	if joinedNumber.MatchString(heading) {
		return true
	}
	for _, at := range wholeNumber.FindAllStringIndex(heading, -1) {
		n, err := strconv.Atoi(heading[at[0]:at[1]])
		before, after := strings.TrimSpace(heading[:at[0]]), strings.TrimSpace(heading[at[1]:])
		if err != nil || n < 10 || n >= 1900 && n < 2100 || strings.HasPrefix(after, "%") {
			continue
		}
		if !strings.ContainsAny(lastByte(before)+firstByte(after), ".-:") {
			return true
		}
	}
	return false
}

var (
	joinedNumber = pattern.New(`(?i)(?:/|\b(?:per|je|pro|par|por)\b)\s*(?:[2-9]|\d[0-9]{1,2}|\d{5,})\b`)
	wholeNumber  = pattern.New(`\d+`)
)

func firstByte(s string) string { return s[:min(1, len(s))] }

func lastByte(s string) string { return s[len(s)-min(1, len(s)):] }

// priceHeading finds the field and the currency of a heading of prices that says
// for what they are.
func (v *vocabulary) priceHeading(k *kindSpec, heading string) (f field, unit units.Unit, currency, basis string, ok bool) {
	base, basis := v.headingBasis(heading)
	if basis == "" || base == "" {
		return f, "", "", "", false
	}
	if currency = v.currency(base); currency != "" {
		if f, ok = k.field("price"); !ok {
			f, ok = k.field("unit_price")
		}
		return f, "", currency, basis, ok
	}
	f, unit, currency, ok = v.resolve(k, base)
	return f, unit, currency, basis, ok && f.kind == catalog.KindMoney && (f.name == "price" || f.name == "unit_price")
}

// settleBasis decides for what the prices of a column are, or asks where the
// heading says something about it that is not known.
func (p *proposal) settleBasis(c *candidate) {
	if c.Field != "price" && c.Field != "unit_price" {
		return
	}
	heading := p.sheet.Header[c.Index]
	_, basis := p.voc.headingBasis(heading)
	said, own := p.settingFor(c, "per")
	switch {
	case own, said != "" && (basis != "" || hintsBasis(heading)):
		c.Per = said
	case basis != "":
		c.Per = basis
	case c.Per == "" && hintsBasis(heading):
		p.askReading(c, "price-basis", "per", []string{"each", "100"},
			"The heading %q seems to give prices for several pieces. For how many is a price (each, or a number)?", c.Heading)
	}
}

// PerWords says for what the prices of a column are: "per 100", "each".
func PerWords(per string) string {
	if per == "each" {
		return per
	}
	return "per " + per
}

// perPiece returns an amount for several pieces as that of one, rounded to the
// nearest ten-thousandth, halves away from zero.
func perPiece(amount, pieces int64) int64 {
	half := pieces / 2
	if amount < 0 {
		half = -half
	}
	return (amount + half) / pieces
}

// pieces returns for how many pieces the prices of a column are, 1 where it says
// nothing else.
func (c *planColumn) pieces() int64 {
	n := int64(0)
	for i := range len(c.Per) {
		if !digitAt(c.Per, i) {
			return 1
		}
		n = n*10 + int64(c.Per[i]-'0')
	}
	return max(n, 1)
}
