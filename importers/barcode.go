package importers

import (
	"fmt"
	"strings"
)

// The lengths of the numbers under barcodes: GTIN-8, GTIN-12, GTIN-13, GTIN-14 (GS1
// General Specifications; from memory).
var gtinLengths = []int{8, 12, 13, 14}

// settleBarcodes finds out whether a column of barcodes holds numbers with check
// digits, as goods for sale bear, or a shop's own codes.
func (p *proposal) settleBarcodes(c *candidate) {
	good, n := 0, 0
	for _, t := range c.shape.texts {
		if strings.Trim(t, "0123456789") != "" {
			continue
		}
		if n++; gtinLike.MatchString(t) && checkDigit(t) {
			good++
		}
	}
	c.CheckDigits = n > 0 && share(good, n) >= p.voc.limits.get("barcode_share")
}

// barcode looks for what a spreadsheet makes of long numbers. Where most numbers of
// the column have a right check digit, the others are wrong.
func (c *planColumn) barcode(cell string) canon {
	hold := func(code, format string, args ...any) canon {
		return canon{problem: &problem{code: code, why: fmt.Sprintf(format, args...) + "; or leave the column out with --ignore " + quoted(c.Heading)}}
	}
	digits := onlyDigits(cell)
	if !digits && shapeOf(cell).exponent && exponent.MatchString(cell) {
		return hold("barcode-exponent", "%s is what a spreadsheet makes of a barcode; its last digits are gone: ask the supplier for an export with this column as text", cell)
	}
	if !c.CheckDigits || !digits || len(cell) > gtinLengths[len(gtinLengths)-1] {
		return canon{text: cell}
	}
	right := checkDigit(cell)
	for _, length := range gtinLengths {
		switch {
		case right && len(cell) == length:
			return canon{text: cell}
		case right && len(cell) < length && length != 14:
			return hold("barcode-zeros", "%s has probably lost its zeros in front and should be %s%s: correct the cell", cell, strings.Repeat("0", length-len(cell)), cell)
		}
	}
	return hold("barcode-check", "the last digit of %s, which proves the others, is wrong: compare it with the goods", cell)
}
