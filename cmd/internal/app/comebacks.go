package app

import (
	"context"
	"fmt"
	"strings"

	"fitfill/catalog"
	"fitfill/catalog/pattern"
	"fitfill/catalog/sqlite"
	"fitfill/compat"
	"fitfill/compat/returns"
)

// ComebackLine is a part that came back.
type ComebackLine struct {
	Date     string          `json:"date"`
	Number   string          `json:"number"`
	Supplier string          `json:"supplier"`
	Type     string          `json:"type"`
	Reason   string          `json:"reason"`
	Bath     string          `json:"bath,omitempty"`
	Note     string          `json:"note"`
	Told     *ToldLine       `json:"told"` // what was said about it before it was fitted
	Counts   string          `json:"counts"`
	Origin   compat.Evidence `json:"origin"`
	Entry    int64           `json:"entry,omitempty"`

	failed bool // a quality failure by its reason
}

// comebacksOf returns what came back of a vehicle: what was logged with its
// mark, and the lines of sheets about goods that were bought for it.
func (s *Shop) comebacksOf(ctx context.Context, v *sqlite.View, mark string, told []catalog.Said) ([]ComebackLine, error) {
	bought, err := v.PurchasesFor(ctx, mark)
	if err != nil {
		return nil, err
	}
	forIt := map[[2]string]bool{}
	for _, p := range bought {
		if p.Document != "" {
			forIt[[2]string{catalog.Fold(p.Document), catalog.Key(p.Number)}] = true
		}
	}
	back, err := v.Returns(ctx)
	if err != nil {
		return nil, err
	}
	_, reasons, err := s.returnTables(SuppliersQuestion{})
	if err != nil {
		return nil, err
	}
	list := []ComebackLine{}
	for _, r := range back {
		if catalog.Key(r.Vehicle) != catalog.Key(mark) && !forIt[[2]string{catalog.Fold(r.Document), catalog.Key(r.Number)}] {
			continue
		}
		b, err := comebackLine(ctx, v, reasons, r, told)
		if err != nil {
			return nil, err
		}
		list = append(list, b)
	}
	return list, nil
}

// comebackLine words one return, with what was said about the part before.
func comebackLine(ctx context.Context, v *sqlite.View, reasons sorting, r catalog.Return, told []catalog.Said) (ComebackLine, error) {
	b := ComebackLine{
		Date: r.Date.String(), Number: r.Number, Supplier: r.Supplier, Reason: r.Reason, Bath: r.Bath, Note: r.Note,
		Origin: compat.From(r.Origin),
	}
	if r.Origin.ByHand() {
		b.Entry = int64(r.Origin.Line)
	}
	var err error
	if b.Type, err = typeOf(ctx, v, r.Number, r.Supplier); err != nil {
		return b, err
	}
	for _, d := range told {
		if catalog.Key(d.Number) == catalog.Key(r.Number) && d.Date <= r.Date {
			line := toldLine(d)
			b.Told = &line
		}
	}
	class := returnClass(reasons, r)
	b.failed = class == returns.QualityFailure || class == returns.DeadOnArrival
	b.Counts = countsAs(reasons, r)
	return b, nil
}

var troubleCode = pattern.New(`\b[PBCU][0-3][0-9A-F]{3}\b`) // the shape of SAE J2012

// again says that a vehicle keeps coming back: parts of one kind failed in it
// twice or more. One part may be bad; several in a row are hardly ever.
func again(list []ComebackLine) string {
	count, codes := map[string]int{}, map[string]map[string]int{}
	var worst string
	for _, b := range list {
		if !b.failed {
			continue
		}
		kind := b.Type
		if kind == "" {
			kind = b.Number
		}
		if count[kind]++; worst == "" || count[kind] > count[worst] {
			worst = kind
		}
		if codes[kind] == nil {
			codes[kind] = map[string]int{}
		}
		for _, code := range troubleCode.FindAllString(strings.ToUpper(b.Note+" "+b.Reason), -1) {
			codes[kind][code]++
		}
	}
	if count[worst] < 2 {
		return ""
	}
	same, most := "", 1
	for code, n := range codes[worst] {
		if n > most || n == most && most > 1 && code < same {
			same, most = code, n
		}
	}
	text := fmt.Sprintf("%s came back from it as failed", Plural(count[worst], worst, worst+"s"))
	if same != "" {
		text += fmt.Sprintf(", %d of them for %s", most, same)
	}
	text += ". So many of one kind are hardly ever bad parts: look for another cause before the next one"
	if same != "" {
		text += " (fitfill checks " + same + ")"
	}
	return text + "."
}
