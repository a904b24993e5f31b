package app

import (
	"cmp"
	"context"
	"fmt"
	"slices"
	"strings"

	"fitfill/catalog"
	"fitfill/catalog/bleveindex"
	"fitfill/catalog/sqlite"
	"fitfill/compat"
)

// The scores of the ways in which a part can match; nothing about price or
// stock moves a part from one to another.
const (
	scoreExact    = 100
	scoreCross    = 90
	scoreFits     = 85
	scorePrefix   = 80
	scoreContains = 70
	scoreNearest  = 60
	scoreWords    = 50
	scoreAnywhere = 40
	scoreAlmost   = 30
)

// Hit is one part that was found.
type Hit struct {
	Supplier    string          `json:"supplier"`
	Number      string          `json:"number"`
	Type        string          `json:"type"`
	Description string          `json:"description"`
	Price       string          `json:"price"`
	PricePer    string          `json:"price_per,omitempty"`
	PriceEach   string          `json:"price_each,omitempty"` // of one piece, where the price is for a pack
	Stock       string          `json:"stock,omitempty"`
	Delivery    string          `json:"delivery,omitempty"`
	StockDate   string          `json:"stock_date,omitempty"`
	Score       int             `json:"score"`
	Why         string          `json:"why"`
	Outcome     *compat.Outcome `json:"outcome,omitempty"` // for the engine in question
	Engine      string          `json:"engine,omitempty"`  // for which the outcome is
	Superseded  *Superseded     `json:"superseded,omitempty"`
	PourPrice
	Part *catalog.Part `json:"-"`
}

// placed is a part with the way in which it was found.
type placed struct {
	id      int64
	score   int
	why     string
	outcome *compat.Outcome
	engine  string
}

// show keeps all parts that were found as the answer, and turns the first into
// hits. The order is theirs.
func (f *finder) show(ctx context.Context, found []placed, total int) error {
	f.a.Total = max(total, len(found))
	hits, err := f.hits(ctx, found[:min(len(found), f.q.Limit)])
	f.a.Hits = append(f.a.Hits, hits...)
	return err
}

func (f *finder) hits(ctx context.Context, found []placed) ([]Hit, error) {
	if len(found) == 0 {
		return nil, nil
	}
	parts, err := f.v.Parts(ctx, idsOf(found))
	if err != nil {
		return nil, err
	}
	became, err := f.s.supersededBy(ctx, f.v, parts)
	if err != nil {
		return nil, err
	}
	byID := make(map[int64]*catalog.Part, len(parts))
	for i := range parts {
		byID[parts[i].ID] = &parts[i]
	}
	hits := make([]Hit, 0, len(parts))
	for _, at := range found {
		p := byID[at.id]
		if p == nil {
			continue
		}
		h := hit(p, at)
		h.Superseded = became[p.ID]
		f.s.pourPrice(&h)
		hits = append(hits, h)
	}
	return hits, nil
}

func hit(p *catalog.Part, at placed) Hit {
	h := Hit{
		Supplier: p.Supplier, Number: p.Number, Type: p.Type.Value, Description: p.Description.Value, PricePer: p.PricePer.Value,
		Stock: p.Stock.Value, Delivery: p.Delivery.Value, Score: at.score, Why: at.why, Outcome: at.outcome, Engine: at.engine, Part: p,
	}
	if p.Price.Known {
		h.Price = p.Price.Value.String()
	}
	if each := p.PriceEach(); each.Known && each.Value != p.Price.Value {
		h.PriceEach = each.Value.String()
	}
	if p.StockDate.Known {
		h.StockDate = p.StockDate.Value.String()
	}
	return h
}

// ordered sorts parts by how they were found, then by supplier and number: the
// unique key at the end keeps equal ones in one order.
func (f *finder) ordered(ctx context.Context, found []placed) ([]placed, []sqlite.PartHead, error) {
	parts, err := f.v.PartHeads(ctx, idsOf(found))
	if err != nil {
		return nil, nil, err
	}
	byID := make(map[int64]*sqlite.PartHead, len(parts))
	for i := range parts {
		byID[parts[i].ID] = &parts[i]
	}
	found = slices.DeleteFunc(found, func(p placed) bool { return byID[p.id] == nil })
	slices.SortStableFunc(found, func(a, b placed) int {
		p, q := byID[a.id], byID[b.id]
		return cmp.Or(cmp.Compare(b.score, a.score), cmp.Compare(p.Supplier, q.Supplier), cmp.Compare(p.Key, q.Key), cmp.Compare(p.ID, q.ID))
	})
	return found, parts, nil
}

func idsOf(found []placed) []int64 {
	ids := make([]int64, len(found))
	for i, p := range found {
		ids[i] = p.id
	}
	return ids
}

// countParts counts parts that are all at hand for the facets.
func (f *finder) countParts(parts []sqlite.PartHead, engines map[string]int) {
	types, suppliers := map[string]int{}, map[string]int{}
	for _, p := range parts {
		suppliers[p.Supplier]++
		if p.Type != "" {
			types[p.Type]++
		}
	}
	f.a.Facets.Type, f.a.Facets.Supplier, f.a.Facets.Engine = bleveindex.Counted(types), bleveindex.Counted(suppliers), bleveindex.Counted(engines)
}

// nothing says what was read and what exists that comes nearest.
func (f *finder) nothing(ctx context.Context) error {
	if err := f.held(ctx); err != nil {
		return err
	}
	switch {
	case f.a.Checks != nil && f.a.Checks.Known():
		if len(f.engines) == 0 {
			f.a.Hint = "first the checks; then say which car: make, model, year, engine size, or its VIN"
		}
		return nil
	case len(f.suppliers) == 0:
		f.a.Hint = "the catalogue is empty: fitfill import FILE --supplier NAME"
		return nil
	case f.noEngine():
		return f.noSuchEngine(ctx)
	case f.a.Vehicle != "" && len(f.types) == 0 && len(f.r.Sizes) == 0:
		f.a.Hint = fmt.Sprintf("what was done to it: fitfill vehicle show %q", f.a.Vehicle)
		return nil
	case f.r.As == "number" || f.r.As == "barcode":
		now, err := replacements(ctx, f.v, f.q.Words)
		if len(now) > 0 {
			f.a.Hint = now[0].Says + "; try: fitfill find " + now[0].Number
		} else if f.a.Hint == "" {
			f.a.Hint = "no sheet has it: try a part of the number, or words"
		}
		return err
	}
	if f.a.Hint != "" {
		return nil
	}
	flags := f.flags()
	switch {
	case len(flags) > 0:
		f.a.Hint = "nothing matches: leave " + strings.Join(flags, " and ") + " out, or try fewer words"
	case len(f.a.LeftOut) > 0:
		f.a.Hint = "no part has " + strings.Join(f.a.LeftOut, ", ")
	case len(f.types) > 0 && len(f.engines) > 0:
		f.a.Hint = fmt.Sprintf("no list has a %s for %s that matches: %s", PartWords(f.types), strings.Join(engineNamesOf(f.engines), " or "), "fitfill fit "+quoted(f.engines[0].Engine)+" shows what is listed")
	case len(f.r.Types) > 0 && len(f.r.Sizes) > 0:
		var sizes []string
		for _, z := range f.r.Sizes {
			sizes = append(sizes, z.Text)
		}
		f.a.Hint = fmt.Sprintf("no sheet has a %s of %s, and what is measured seldom is what is printed: leave the size out, or say which engine", PartWords(f.r.Types), strings.Join(sizes, ", "))
	default:
		f.a.Hint = "nothing matches: try fewer words, or a part of the number"
	}
	return nil
}

func (f *finder) flags() []string {
	var list []string
	for _, n := range []struct{ flag, value string }{{"--engine", f.q.Engine}, {"--supplier", f.q.Supplier}, {"--type", f.q.Type}} {
		if n.value != "" {
			list = append(list, n.flag)
		}
	}
	return list
}

// held shows held rows about what was asked for.
func (f *finder) held(ctx context.Context) (err error) {
	keys := append(f.table.Keys(f.q.Words), f.r.Numbers...)
	f.a.Waiting, err = heldNotes(ctx, f.v, slices.DeleteFunc(keys, func(k string) bool { return len(k) < shortestSpelt })...)
	return err
}

// noSuchEngine says which engines come nearest to what was said.
func (f *finder) noSuchEngine(ctx context.Context) error {
	if f.a.VIN != nil {
		hints := []string{}
		for _, c := range f.a.VIN.Corrections[:min(2, len(f.a.VIN.Corrections))] {
			hints = append(hints, "perhaps "+c.VIN+" ("+c.Changed+")")
		}
		if f.a.VIN.Valid {
			hints = append(hints, "say the make, the model or the engine's name: no sheet tells the engine of this VIN")
		}
		f.a.Hint = strings.Join(hints, "; ")
		return nil
	}
	said := saidBy(&f.r)
	for _, less := range []struct {
		what string
		drop func(*vehicleSaid)
		on   bool
	}{
		{"of these years", func(w *vehicleSaid) { w.years = nil }, len(said.years) > 0},
		{"of this size", func(w *vehicleSaid) { w.displacement.Known = false }, said.displacement.Known},
		{"of this sort", func(w *vehicleSaid) { w.cylinders, w.fuel, w.electrified = 0, "", false }, true},
	} {
		if !less.on {
			continue
		}
		without := said
		less.drop(&without)
		near, err := f.s.enginesMeant(ctx, f.v, without)
		if err != nil {
			return err
		}
		if len(near) > 0 {
			var list []string
			for _, e := range near[:min(4, len(near))] {
				list = append(list, e.Plate()+" "+strings.Join(e.Years[:min(1, len(e.Years))], ""))
			}
			f.a.Hint = "no engine on file is " + less.what + "; on file are " + strings.Join(list, "; ")
			return nil
		}
	}
	f.a.Hint = "no engine on file is that: say the make, the model or the engine's name"
	return nil
}
