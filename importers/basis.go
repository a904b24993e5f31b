package importers

import (
	"fmt"
	"slices"
	"strconv"
	"strings"

	"fitfill/catalog"
	"fitfill/catalog/pattern"
)

var basisWords = pattern.New(`^(?:per|je|pro|par|por|à|a|/|x)?\s*(\d{1,6})\s*(.*)$`)

// basis reads a price basis of several pieces ("100", "per 10", "je 100 Stk.",
// "per C") as their number, and returns "" for any other basis.
func (v *vocabulary) basis(text string) string {
	if n := v.words["price_count"][wordKey(text)]; len(n) == 1 {
		return n[0]
	}
	m := basisWords.FindStringSubmatch(strings.ToLower(text))
	if m == nil || m[2] != "" && v.words["pieces"][wordKey(m[2])] == nil {
		return ""
	}
	if n := strings.TrimLeft(m[1], "0"); n != "" && n != "1" {
		return n
	}
	return ""
}

// priceBasis turns a price for several pieces into a price for a pack of them,
// so that the price of one piece can be reckoned: the basis stays as the sheet
// has it, and the pack says how many. Where the row states another pack, as lists
// do whose prices are all for a hundred, the price becomes that of one piece or of
// that pack, whichever comes out even; where neither does, the row is held.
func priceBasis(r *supplierRow, c *rowContext, facts []catalog.Fact) ([]catalog.Fact, *problem) {
	basis, written := r.PricePer.text, c.written("price_per")
	if heading := c.plan.per; heading != nil && r.Price.opt != 0 {
		switch per := heading.Per; {
		case basis != "" && basis != per && !(basis == "pack" && digitAt(per, 0)):
			return facts, &problem{code: "price-basis", field: "price_per", why: fmt.Sprintf(
				"the heading %q says that prices are per %s, and the row says %s: correct the cell, or say --set per:%s=each", heading.Heading, per, written, quoted(heading.Heading))}
		case basis == "":
			basis, written = per, heading.Heading
			word := per
			if digitAt(per, 0) {
				word = "pack"
			}
			facts = append(facts, catalog.Fact{Field: "price_per", Word: word, Text: written, Origin: c.origin})
		}
	}
	if !digitAt(basis, 0) {
		return facts, nil
	}
	pieces, err := strconv.Atoi(basis)
	if err != nil {
		return facts, nil
	}
	thousandths := int64(pieces) * 1000
	if r.Pack.known() && r.Pack.number() != thousandths {
		if anotherPack(facts, int64(pieces), r.Pack.number()) {
			return facts, nil
		}
		return facts, &problem{code: "price-basis", field: "price_per", why: fmt.Sprintf(
			"the price is for %d pieces, the pack holds %s, and neither the price of a piece nor that of a pack comes out even: write the price of one pack", pieces, c.written("pack"))}
	}
	for i := range facts {
		if facts[i].Field == "price_per" {
			facts[i].Word = "pack"
		}
	}
	if !r.Pack.known() {
		facts = append(facts, catalog.Fact{Field: "pack", Int: thousandths, Text: written, Origin: c.origin})
	}
	return facts, nil
}

// anotherPack turns a price for that many pieces into that of one, or else of a
// pack of so many thousandths of a piece. It reports false where both would have to
// be rounded.
func anotherPack(facts []catalog.Fact, pieces, pack int64) bool {
	const most = 1 << 40 // of each factor together, so that nothing overflows
	word := "each"
	if i := slices.IndexFunc(facts, func(f catalog.Fact) bool { return f.Field == "price" }); i >= 0 {
		price := &facts[i].Int
		switch {
		case *price%pieces == 0:
			*price /= pieces
		case max(*price, -*price) < most && pack < most>>20 && *price*pack%(pieces*1000) == 0:
			*price, word = *price*pack/(pieces*1000), "pack"
		default:
			return false
		}
	}
	for i := range facts {
		if facts[i].Field == "price_per" {
			facts[i].Word = word
		}
	}
	return true
}
