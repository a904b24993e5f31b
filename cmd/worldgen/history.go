package main

import (
	"fmt"
	"io/fs"
	"slices"
	"strconv"

	"fitfill/data/demo"
)

// event is one line of a history: a purchase, or goods that came back.
type event struct {
	day   int // since 1970-01-01
	cells []string
}

// history is the purchases and returns of a shop.
type history struct{ purchases, returns []event }

// coreDays is how long a shop takes at most to send an old part back.
const coreDays = 21

var (
	purchaseHeadings = []string{"date", "supplier", "number", "type", "quantity", "unit_price", "document", "vehicle"}
	returnHeadings   = []string{"date", "supplier", "number", "quantity", "reason", "purchase_date", "document", "fitted_date", "note"}
)

// demoHistory draws the demo garage's history from the stated hazards and adds
// the planted lines. fsys holds hazards.csv, hazard_types.csv, planted.csv and
// the suppliers' sheets.
func demoHistory(fsys fs.FS, seed uint64) (*history, error) {
	hazards, err := readHazards(fsys, "hazard_types.csv")
	if err != nil {
		return nil, err
	}
	parts, err := demoParts(fsys, demo.Sheets)
	if err != nil {
		return nil, err
	}
	plans, err := readTable(fsys, "hazards.csv")
	if err != nil {
		return nil, err
	}
	var h history
	end := 0
	for _, p := range plans {
		to, err := dayOf(p["to"])
		if err != nil {
			return nil, err
		}
		end = max(end, to)
	}
	for i, p := range plans {
		if err := h.draw(newPCG(seed, uint64(i)), i, p, hazards[p["type"]], parts[p["supplier"]+"/"+p["type"]], end); err != nil {
			return nil, fmt.Errorf("hazards.csv, line %d: %w", i+2, err)
		}
	}
	if err := h.plant(fsys, "planted.csv"); err != nil {
		return nil, err
	}
	for _, list := range [][]event{h.purchases, h.returns} {
		slices.SortStableFunc(list, func(a, b event) int { return a.day - b.day })
	}
	return &h, nil
}

// draw adds the lines that one row of the plan asks for, and what came back of
// them up to the end of the records.
func (h *history) draw(r *pcg, plan int, p row, z *hazard, parts []demoPart, end int) error {
	if z == nil || len(parts) == 0 {
		return fmt.Errorf("there is no hazard or no part for %s of %s", p["type"], p["supplier"])
	}
	var lines, relative float64
	if err := p.numbers(map[string]*float64{"lines": &lines, "relative": &relative}); err != nil {
		return err
	}
	from, err := dayOf(p["from"])
	if err != nil {
		return err
	}
	to, err := dayOf(p["to"])
	if err != nil {
		return err
	}
	until := 0
	if p["also"] != "" {
		if until, err = dayOf(p["also_until"]); err != nil {
			return err
		}
	}
	for i := range int(lines) {
		part, day, name := parts[r.below(len(parts))], from+r.below(to-from+1), p["supplier"]
		if day < until && r.chance(35) {
			name = p["also"]
		}
		quantity, doc := 1, fmt.Sprintf("R%02d-%04d", plan+1, i+1)
		if r.chance(8) {
			quantity = 2 + r.below(3)
		}
		h.purchases = append(h.purchases, event{day, []string{
			dateOf(day), name, part.number, z.Type, strconv.Itoa(quantity), part.price, doc, "",
		}})
		for range quantity {
			f := z.fate(r, relative)
			h.bringBack(r, day, end, f, name, part.number, doc)
			if (!f.back || f.days > coreDays) && r.chance(z.Core) {
				h.bringBack(r, day, end, fate{true, 3 + r.below(coreDays-2), "core"}, name, part.number, doc)
			}
		}
	}
	return nil
}

// bringBack adds a return, unless its day lies after the end of the records.
// Every fifth has lost its papers.
func (h *history) bringBack(r *pcg, day, end int, f fate, supplier, number, doc string) {
	fitted := ""
	if f.days > 3 && f.reason != "customer changed mind" && f.reason != "ordered wrong by us" && f.reason != "core" {
		fitted = dateOf(day + 1 + r.below(3))
	}
	bought := dateOf(day)
	if r.chance(20) {
		bought, doc = "", ""
	}
	if f.back && day+f.days <= end {
		h.returns = append(h.returns, event{day + f.days, []string{
			dateOf(day + f.days), supplier, number, "1", f.reason, bought, doc, fitted, "",
		}})
	}
}
