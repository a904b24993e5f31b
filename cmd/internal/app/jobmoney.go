package app

import (
	"context"

	"fitfill/catalog"
	"fitfill/catalog/sqlite"
	"fitfill/catalog/units"
	"fitfill/compat/returns"
)

// expecting knows what a fitted part costs in the end, as far as the books tell.
type expecting struct {
	study *supplierStudy
	money pricing
}

// expecting reads the books. Without the shop's labour rate a comeback has no
// cost, and nothing is read.
func (s *Shop) expecting(ctx context.Context, v *sqlite.View) (expecting, error) {
	if !s.Settings.LabourRate.Known {
		return expecting{}, nil
	}
	st, err := s.study(ctx, v, SuppliersQuestion{})
	if err != nil {
		return expecting{}, err
	}
	money, err := s.pricing(st)
	if money.off != "" {
		return expecting{}, err
	}
	return expecting{st, money}, err
}

// of returns what one fitted piece costs with its comebacks: its own price, and
// the cost of a comeback times how often this supplier's parts of the type come
// back. Not known where the books cannot say, or the price is in another
// currency.
func (e expecting) of(p *catalog.Part) catalog.Stated[units.Money] {
	each := p.PriceEach()
	if e.study == nil || !each.Known || each.Value.Currency() != e.money.currency {
		return catalog.Stated[units.Money]{}
	}
	supplier, kind := -1, e.study.typeIndex(p.Type.Value)
	for i, name := range e.study.ledger.Suppliers {
		if name == p.Supplier {
			supplier = i
		}
	}
	if supplier < 0 || kind < 0 {
		return catalog.Stated[units.Money]{}
	}
	cost := returns.PartCost{Price: each.Value.Units()}
	cost.PerFailure = e.money.comebacks.Of(e.study.ledger.PartTypes[kind]).Cost(e.money.rates, cost.Price)
	iv, ok := e.study.overall.CostPerPart(supplier, kind, RateDays, cost, e.study.settings.Confidence)
	if !ok {
		return catalog.Stated[units.Money]{}
	}
	each.Value = units.MoneyOf(int64(iv.Est*1e4+0.5), e.money.currency)
	return each
}
