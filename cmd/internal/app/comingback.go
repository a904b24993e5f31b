package app

import (
	"cmp"
	"context"
	"slices"

	"fitfill/catalog"
	"fitfill/catalog/sqlite"
)

// PartBack is a part with what came back of it as faulty.
type PartBack struct {
	Supplier string `json:"supplier"`
	Number   string `json:"number"`
	Type     string `json:"type"`
	Bought   int    `json:"bought"` // pieces
	Faulty   int    `json:"faulty"` // pieces that came back faulty
	Other    int    `json:"other"`  // pieces that came back for another reason
}

// ComingBackAnswer is the parts that come back most.
type ComingBackAnswer struct {
	AsOf  string     `json:"as_of"`
	Type  string     `json:"type"`
	Types []string   `json:"types"` // part types that were bought
	Parts []PartBack `json:"parts"`
}

// ComingBack lists the parts of which most pieces came back faulty, counted as
// Suppliers counts them.
func (s *Shop) ComingBack(ctx context.Context, q SuppliersQuestion, most int) (ComingBackAnswer, error) {
	a := ComingBackAnswer{Parts: []PartBack{}}
	err := s.store.View(ctx, func(v *sqlite.View) error {
		st, err := s.study(ctx, v, q)
		if err != nil {
			return err
		}
		a.AsOf, a.Type, a.Types = st.report.AsOf.String(), st.q.Type, slices.Sorted(slices.Values(st.ledger.PartTypes))
		type id struct{ supplier, key string }
		count := map[id]*PartBack{}
		at := func(supplier int, number string, partType int) *PartBack {
			k := id{st.ledger.Suppliers[supplier], catalog.Key(number)}
			if count[k] == nil {
				count[k] = &PartBack{Supplier: k.supplier, Number: number, Type: st.ledger.PartTypes[partType]}
			}
			return count[k]
		}
		for i, f := range st.ledger.Sales {
			if row := st.books.Sales[i].Ref; st.asked(f) && f.Supplier >= 0 {
				at(int(f.Supplier), st.bought.Number(row), int(f.PartType)).Bought += max(0, int(st.bought.Quantity(row).Float()))
			}
		}
		for i, f := range st.ledger.Returns {
			row := st.back[st.books.Returns[i].Ref]
			if !st.asked(f.Fate) || f.Supplier < 0 {
				continue
			}
			part, pieces := at(int(f.Supplier), row.Number, int(f.PartType)), max(0, int(row.Quantity.Float()))
			if countedAs(f, st.books.Returns[i].Class) == countedFaulty {
				part.Faulty += pieces
			} else {
				part.Other += pieces
			}
		}
		for _, p := range count {
			if p.Faulty > 0 {
				a.Parts = append(a.Parts, *p)
			}
		}
		slices.SortFunc(a.Parts, func(x, y PartBack) int {
			return cmp.Or(cmp.Compare(y.Faulty, x.Faulty), cmp.Compare(x.Bought, y.Bought), cmp.Compare(x.Supplier, y.Supplier), cmp.Compare(x.Number, y.Number))
		})
		a.Parts = a.Parts[:min(most, len(a.Parts))]
		return nil
	})
	return a, err
}
