package catalog

import "fitfill/catalog/units"

// PriceEach returns what one piece costs: the price, divided by what is in a
// pack where the price is for a pack, rounded to 0.0001. Not known where the
// sheet states no price, a pack of unknown content, or a price by the litre.
func (p *Part) PriceEach() Stated[units.Money] {
	each := p.Price
	if !each.Known {
		return Stated[units.Money]{}
	}
	switch p.PricePer.Value {
	case "", "each":
		return each
	case "pack":
		if !p.Pack.Known || p.Pack.Value.Thousandths() <= 0 {
			return Stated[units.Money]{}
		}
		each.Value = each.Value.Scale(1000 / float64(p.Pack.Value.Thousandths()))
		return each
	}
	return Stated[units.Money]{}
}
