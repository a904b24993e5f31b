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
)

// FindQuestion is what somebody is looking for.
type FindQuestion struct {
	Words    string
	Type     string
	Engine   string
	Supplier string
	Limit    int
}

// FindAnswer is what the catalogue has for it.
type FindAnswer struct {
	Query   string     `json:"query"`
	ReadAs  string     `json:"read_as"` // number or words
	Total   int        `json:"total"`
	Hits    []Hit      `json:"hits"`
	Facets  FindFacets `json:"facets"`
	Waiting []HeldNote `json:"waiting,omitempty"` // held rows about the number asked for
	Hint    string     `json:"hint,omitempty"`
}

// Hit is one part that was found.
type Hit struct {
	Supplier    string      `json:"supplier"`
	Number      string      `json:"number"`
	Type        string      `json:"type"`
	Description string      `json:"description"`
	Price       string      `json:"price"`
	PricePer    string      `json:"price_per,omitempty"`
	Stock       string      `json:"stock,omitempty"`
	Delivery    string      `json:"delivery,omitempty"`
	StockDate   string      `json:"stock_date,omitempty"`
	Score       int         `json:"score"`
	Why         string      `json:"why"`
	Superseded  *Superseded `json:"superseded,omitempty"` // what became of the number
	PourPrice
	Part catalog.Part `json:"-"`
}

// FacetValue is one value to narrow by, with the number of hits that have it.
type FacetValue = bleveindex.Value

// FindFacets counts all hits by type, engine and supplier.
type FindFacets struct {
	Type     []FacetValue `json:"type"`
	Engine   []FacetValue `json:"engine"`
	Supplier []FacetValue `json:"supplier"`
}

// Find looks for parts: the exact number first, then numbers that begin with
// it, then numbers with one letter or digit off, then words.
func (s *Shop) Find(ctx context.Context, q FindQuestion) (FindAnswer, error) {
	words := strings.Fields(q.Words)
	a := FindAnswer{Query: q.Words, ReadAs: "words", Hits: []Hit{}}
	if len(words) == 0 {
		return a, &UsageError{Problem: "there is nothing to look for", Hint: "fitfill find WORDS, such as: fitfill find thermostat 82"}
	}
	if q.Limit < 1 {
		return a, &UsageError{Problem: fmt.Sprintf("--limit %d shows nothing", q.Limit), Hint: "it is at least 1"}
	}
	key := catalog.Key(q.Words)
	var filter bleveindex.Filter
	err := s.store.View(ctx, func(v *sqlite.View) error {
		suppliers, err := v.Suppliers(ctx)
		if err != nil {
			return err
		}
		if filter.Type, err = s.partType(ctx, v, q.Type); err != nil {
			return err
		}
		q.Supplier, err = supplierName(q.Supplier, suppliers)
		if err != nil || q.Engine == "" {
			return err
		}
		filter.EngineKeys, _, err = engineKeys(ctx, v, q.Engine)
		return err
	})
	if err != nil {
		return a, err
	}
	err = s.withIndex(ctx, q.Supplier, func(v *sqlite.View, x *bleveindex.Index) error {
		if a.Waiting, err = heldNotes(ctx, v, key); err != nil {
			return err
		}
		tiers := numberTiers(key)
		found, total, err := s.runTiers(ctx, x, tiers, filter)
		if err != nil {
			return err
		}
		if len(found) > 0 {
			a.ReadAs = "number"
		}
		// A word may also be how a number begins; both are shown then.
		if len(found) == 0 || !hasDigit(key) && tiers[found[0].tier].score < exactScore {
			a.ReadAs = "words"
			more, n, err := s.runTiers(ctx, x, wordTiers(words), filter)
			if err != nil {
				return err
			}
			found, total = join(found, more, len(tiers)), max(total, n)
			tiers = append(tiers, wordTiers(words)...)
		}
		a.Total = max(total, len(found))
		return s.fill(ctx, &a, v, x, found, tiers, q, words, key, filter)
	})
	for i := range a.Hits {
		s.pourPrice(&a.Hits[i])
	}
	return a, err
}

func heldNotes(ctx context.Context, v *sqlite.View, keys ...string) ([]HeldNote, error) {
	held, err := v.HeldAbout(ctx, keys)
	if err != nil {
		return nil, err
	}
	var notes []HeldNote
	for _, h := range held {
		notes = append(notes, HeldNote{Sheet: h.Origin.Sheet, Line: h.Line, Number: h.Number, Reason: h.Reason})
	}
	return notes, nil
}

func (s *Shop) fill(ctx context.Context, a *FindAnswer, v *sqlite.View, x *bleveindex.Index, found []placed, tiers []tier, q FindQuestion, words []string, key string, f bleveindex.Filter) error {
	ids := make([]int64, len(found))
	at := map[int64]int{}
	for i, p := range found {
		ids[i], at[p.id] = p.id, p.tier
	}
	if len(ids) == 0 {
		a.Hint = noHit(q, x.Empty())
		now, err := replacements(ctx, v, q.Words)
		if len(now) > 0 {
			a.Hint = now[0].Says + "; try: fitfill find " + now[0].Number
		}
		return err
	}
	parts, err := v.Parts(ctx, ids)
	if err != nil {
		return err
	}
	slices.SortFunc(parts, func(a, b catalog.Part) int {
		return cmp.Or(cmp.Compare(at[a.ID], at[b.ID]), cmp.Compare(a.Supplier, b.Supplier), cmp.Compare(a.Key, b.Key), cmp.Compare(a.ID, b.ID))
	})
	a.Facets.Supplier = countSuppliers(parts)
	parts = parts[:min(len(parts), q.Limit)]
	became, err := s.supersededBy(ctx, v, parts)
	if err != nil {
		return err
	}
	for _, p := range parts {
		h := hit(p, tiers[at[p.ID]])
		h.Superseded = became[p.ID]
		a.Hits = append(a.Hits, h)
	}
	if a.ReadAs == "number" {
		words = nil
	}
	a.Facets.Type, a.Facets.Engine, err = x.Facets(ctx, words, key, f)
	return err
}

// noHit says what to try where nothing was found.
func noHit(q FindQuestion, empty bool) string {
	if empty {
		return "the catalogue is empty: fitfill import FILE --supplier NAME"
	}
	var narrowed []string
	for flag, value := range map[string]string{"--type": q.Type, "--engine": q.Engine, "--supplier": q.Supplier} {
		if value != "" {
			narrowed = append(narrowed, flag)
		}
	}
	slices.Sort(narrowed)
	if len(narrowed) > 0 {
		return "nothing matches: leave " + strings.Join(narrowed, " and ") + " out, or try fewer words"
	}
	return "nothing matches: try fewer words, or a part of the number"
}

func hit(p catalog.Part, t tier) Hit {
	h := Hit{
		Supplier: p.Supplier, Number: p.Number, Type: p.Type.Value, Description: p.Description.Value,
		PricePer: p.PricePer.Value, Stock: p.Stock.Value, Delivery: p.Delivery.Value, Score: t.score, Why: t.why, Part: p,
	}
	if p.Price.Known {
		h.Price = p.Price.Value.String()
	}
	if p.StockDate.Known {
		h.StockDate = p.StockDate.Value.String()
	}
	return h
}

func countSuppliers(parts []catalog.Part) []FacetValue {
	counts := map[string]int{}
	for _, p := range parts {
		counts[p.Supplier]++
	}
	list := make([]FacetValue, 0, len(counts))
	for name, n := range counts {
		list = append(list, FacetValue{Value: name, Count: n})
	}
	slices.SortFunc(list, func(a, b FacetValue) int {
		return cmp.Or(cmp.Compare(b.Count, a.Count), cmp.Compare(a.Value, b.Value))
	})
	return list
}

// engineKeys returns the folded names under which lists may write an engine,
// and the family's facts where the garage's sheets have any. An engine that
// neither a sheet nor a list knows is a UsageError with the nearest known one.
func engineKeys(ctx context.Context, v *sqlite.View, name string) ([]string, catalog.EngineFamily, error) {
	family, err := v.Family(ctx, name)
	if err == nil {
		var keys []string
		for _, n := range family.Names() {
			keys = append(keys, catalog.Key(n))
		}
		return slices.Compact(slices.Sorted(slices.Values(keys))), family, nil
	}
	key := catalog.Key(name)
	if text, err := v.EngineName(ctx, key); err == nil {
		return []string{key}, catalog.EngineFamily{Family: text}, nil
	}
	texts, err := v.EngineTexts(ctx)
	if err != nil {
		return nil, catalog.EngineFamily{}, err
	}
	var names []string
	for _, t := range texts {
		names = append(names, t.Text)
	}
	families, err := v.Families(ctx)
	if err != nil {
		return nil, catalog.EngineFamily{}, err
	}
	for _, f := range families {
		names = append(names, f.Family)
	}
	hint := "no engines are known yet: import a supplier's list or an engines sheet"
	if len(names) > 0 {
		hint = nearestHint(name, names, fmt.Sprintf("known are %s, %s ...: fitfill sheets template engines --from-lists shows all that lists name",
			names[0], names[len(names)-1]))
	}
	return nil, catalog.EngineFamily{}, &UnknownEngine{Name: name, Hint: hint}
}

// UnknownEngine says that neither a sheet nor a list knows an engine.
type UnknownEngine struct{ Name, Hint string }

// Error returns the problem.
func (e *UnknownEngine) Error() string {
	return fmt.Sprintf("no sheet and no list knows the engine %q", e.Name)
}
