package app

import (
	"context"
	"fmt"
	"math"

	"fitfill/catalog"
	"fitfill/catalog/sqlite"
	"fitfill/catalog/units"
	"fitfill/compat"
)

// priced works out what the amount costs, and in which packs it comes.
func (s *Shop) priced(p pour) pour {
	var share float64
	var packed bool
	if p.cost, share, packed = s.costOf(p.part, p.bottle); !packed {
		return p
	}
	p.packs = fmt.Sprintf("%d x %s", wholePacks(share), s.Settings.Units.FormatVolume(p.part.PackVolume.Value))
	if p.cost.Known && s.inHouse(p.part) {
		p.packs = "out of the house drum"
	}
	return p
}

// costOf returns what an amount of a coolant costs, and the share of a pack that
// it is; packed is false where it is sold by the litre, or nobody says in which
// packs. Whole packs are bought, but the house
// coolant goes by the litre, because its drum is open.
func (s *Shop) costOf(part *catalog.Part, amount units.Volume) (cost catalog.Stated[units.Money], share float64, packed bool) {
	price, pack := part.Price, part.PackVolume
	if part.PricePer.Value == "litre" {
		if price.Known {
			cost = catalog.Say(price.Value.Scale(amount.Litres()), "", price.Origin)
		}
		return cost, 0, false
	}
	if !pack.Known || pack.Value.Nanolitres() <= 0 {
		return cost, 0, false
	}
	share = amount.Ratio(pack.Value)
	switch each := part.PriceEach(); {
	case !each.Known:
	case s.inHouse(part):
		cost = catalog.Say(each.Value.Scale(share), "", price.Origin)
	default:
		cost = catalog.Say(each.Value.Times(wholePacks(share)), "", price.Origin)
	}
	return cost, share, true
}

// wholePacks is how many packs have to be bought for a share of them.
func wholePacks(share float64) int64 { return int64(math.Ceil(share - 1e-9)) }

// inHouse reports whether a part is the coolant that the shop has a drum of.
func (s *Shop) inHouse(part *catalog.Part) bool {
	return part.Key == catalog.Key(s.Settings.HouseCoolant)
}

// pourLine is the line of the coolant that was chosen.
func (s *Shop) pourLine(pours []pour) JobLine {
	p := pours[0]
	offer := PartFit{Stock: p.part.Stock.Value, Delivery: p.part.Delivery.Value}
	offer.priced(p.part)
	l := JobLine{
		Role: roleCoolant, Supplier: p.part.Supplier, Number: p.part.Number, Description: p.part.Description.Value,
		Quantity: p.bottle.Litres(), Unit: "litre", Outcome: p.outcome, Findings: p.findings, Packs: p.packs,
		Why: p.first + p.ends, Each: offer.Price, Stock: offer.Stock, StockDate: offer.StockDate, Delivery: offer.Delivery, sum: p.cost,
	}
	if p.cost.Known {
		l.Sum = p.cost.Value.Rounded().String()
	}
	if len(pours) > 1 && !pours[1].outcome.Worse(p.outcome) { // a worse coolant is no way out when the shelf is empty
		r := pours[1]
		other := PartFit{Stock: r.part.Stock.Value, Delivery: r.part.Delivery.Value}
		other.priced(r.part)
		l.RunnerUp = &JobRunnerUp{
			Supplier: r.part.Supplier, Number: r.part.Number, Outcome: r.outcome, First: r.first, Each: other.Price, Packs: r.packs,
			Stock: other.Stock, StockDate: other.StockDate, Delivery: other.Delivery,
		}
		if r.cost.Known {
			l.RunnerUp.Sum = r.cost.Value.Rounded().String()
		}
	}
	return l
}

// waterLine is the distilled water that goes in beside a concentrate: the
// cheapest amount on file.
func (s *Shop) waterLine(ctx context.Context, v *sqlite.View, amount units.Volume) (JobLine, error) {
	line := JobLine{Role: roleWater, Quantity: amount.Litres(), Unit: "litre", Outcome: compat.Yes}
	ids, err := v.PartIDsOfType(ctx, "water")
	if err != nil {
		return line, err
	}
	parts, err := v.Parts(ctx, ids)
	if err != nil {
		return line, err
	}
	var best *pour
	for i := range parts {
		p := s.priced(pour{part: &parts[i], bottle: amount})
		if best == nil || p.cost.Known && (!best.cost.Known || p.cost.Value.TenThousandths() < best.cost.Value.TenThousandths()) {
			best = &p
		}
	}
	if best == nil {
		line.Outcome, line.Missing = compat.CannotSay, "no sheet lists distilled water"
		line.Why = line.Missing
		return line, nil
	}
	filled := s.pourLine([]pour{*best})
	filled.Role, filled.Outcome, filled.Why = line.Role, line.Outcome, "for the concentrate and the last rinse"
	return filled, nil
}
