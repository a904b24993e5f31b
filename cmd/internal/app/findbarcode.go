package app

import (
	"context"
	"fmt"

	"fitfill/catalog/bleveindex"
)

// barcode answers with the parts that bear the barcode; a number with a wrong
// check digit was misread, and finds nothing.
func (f *finder) barcode(ctx context.Context) error {
	if !f.r.BarcodeRight {
		f.a.Hint = fmt.Sprintf("the last digit of %s is not its check digit: scan it again", f.r.Barcode)
		return nil
	}
	x, err := f.late.index(ctx)
	if err != nil {
		return err
	}
	var found []placed
	for _, code := range []string{f.r.Barcode, "0" + f.r.Barcode, trimZero(f.r.Barcode)} {
		if len(found) == 0 && code != "" {
			if found, _, err = f.take(ctx, x, bleveindex.Query{Words: []string{code}}, scoreExact, "this barcode"); err != nil {
				return err
			}
		}
	}
	found, parts, err := f.ordered(ctx, found)
	if err != nil {
		return err
	}
	f.countParts(parts, nil)
	f.a.Hint = "no sheet has this barcode; its check digit is right"
	if len(found) > 0 {
		f.a.Hint = ""
	}
	return f.show(ctx, found, 0)
}

// trimZero takes off the zero that a scanner puts before a code of 12 digits.
func trimZero(code string) string {
	if len(code) == 13 && code[0] == '0' {
		return code[1:]
	}
	return ""
}
