package app

import (
	"fmt"
	"math"

	"fitfill/compat/returns"
)

// EvenCost is what one comeback costs where two suppliers' parts come to the
// same; null: the cheaper one pays whatever a comeback costs.
type EvenCost struct {
	Est  *float64 `json:"est"`
	Low  *float64 `json:"low"`
	High *float64 `json:"high"`
}

// rivalRates compares two suppliers' parts where the shop has not stated what a
// comeback costs it: how often each comes back, and at what cost of a comeback
// they are level.
func (st *supplierStudy) rivalRates(at [2]int, g int, money pricing) *Rivals {
	var cost [2]returns.PartCost
	priced := true
	for i, s := range at {
		have, ok := money.prices[[2]int{s, g}]
		cost[i], priced = returns.PartCost{Price: have.price, PerFailure: 1}, priced && ok
	}
	if !priced {
		cost[0].Price, cost[1].Price = 0, 0
	}
	r := &Rivals{Type: st.ledger.PartTypes[g], Currency: money.currency, NoMoney: money.off}
	d, told := st.overall.Duel(at[0], at[1], g, RateDays, cost[0], cost[1], st.settings)
	if !told {
		d = bareDuel(at, cost)
	}
	r.Cheap.Supplier, r.Dear.Supplier = st.ledger.Suppliers[d.Cheap], st.ledger.Suppliers[d.Dear]
	r.Cheap.Failed, r.Dear.Failed = int(math.Round(d.CheapFailed)), int(math.Round(d.DearFailed))
	if priced {
		r.Cheap.Price, r.Dear.Price = round(money.prices[[2]int{d.Cheap, g}].price, 4), round(money.prices[[2]int{d.Dear, g}].price, 4)
		r.PriceGap = round(d.Saves, 2)
	}
	enough := told && d.Word != returns.TooFewToTell
	r.Word = string(returns.TooFewToTell)
	if enough {
		r.Word = string(st.settings.Call(d.CheapWorse))
	}
	if told {
		r.tellRates(d)
		if priced && d.Saves > 0 {
			even := d.EvenCost()
			r.LevelAt = &EvenCost{finite(even.Est), finite(even.Low), finite(even.High)}
		}
	}
	r.Says = r.rateWords(d, priced, enough)
	switch {
	case priced:
		r.Says = append(r.Says, "To have it in money: "+money.off+".")
	default:
		r.Says = append(r.Says, money.noPrice(st, at, g))
		if money.unstated && !(money.anyPrice(at[0], g) && money.anyPrice(at[1], g)) {
			r.Says = append(r.Says, "To have it in money: "+money.off+".")
		}
	}
	return r
}

// tellRates fills in how often both come back.
func (r *Rivals) tellRates(d returns.Duel) {
	cheap, dear, more := estimate(percent(d.CheapBack), 2), estimate(percent(d.DearBack), 2), estimate(percent(d.More), 2)
	r.Cheap.BackPct, r.Dear.BackPct, r.MorePct = &cheap, &dear, &more
	if d.Comparable {
		p := round(d.CheapWorse, 4)
		r.CheapWorse = &p
	}
}

func finite(v float64) *float64 {
	if math.IsInf(v, 0) {
		return nil
	}
	v = round(v, 2)
	return &v
}

// rateWords puts the comparison into sentences without a price of a comeback.
func (r *Rivals) rateWords(d returns.Duel, priced, enough bool) []string {
	a, b := r.Cheap.Supplier, r.Dear.Supplier
	out := []string{r.rateHeadline(d, priced, enough)}
	if r.Cheap.BackPct == nil {
		out = append(out, "Nothing has come back faulty yet: your own count cannot tell them apart.")
	} else {
		text := fmt.Sprintf("%d of %s's and %d of %s's have failed: in a year %s in 100 of %s's come back, %s of %s's.",
			r.Cheap.Failed, a, r.Dear.Failed, b, r.Cheap.BackPct.limits(), a, r.Dear.BackPct.limits(), b)
		if r.CheapWorse == nil {
			text += " They share too few part types to be compared."
		} else {
			text += fmt.Sprintf(" That %s's fail more often: %s.", a, chance(*r.CheapWorse))
		}
		out = append(out, text)
	}
	if priced && d.Saves > 0 {
		out = append(out, r.levelText(d))
	}
	return out
}

// rateHeadline is the first line.
func (r *Rivals) rateHeadline(d returns.Duel, priced, enough bool) string {
	a := r.Cheap.Supplier
	if priced && d.Saves > 0 {
		said := ""
		switch {
		case !enough:
			said = fmt.Sprintf(" saves %s; too few failed to weigh it", r.money(d.Saves))
		case r.LevelAt != nil && r.LevelAt.Est != nil:
			said = fmt.Sprintf(" saves %s; pays below %s a comeback", r.money(d.Saves), r.money(*r.LevelAt.Est))
		default:
			said = fmt.Sprintf(" saves %s and comes back no more often", r.money(d.Saves))
		}
		return fitFirstLine(a+said, "The cheaper one"+said)
	}
	price := ""
	if priced {
		price = "Same price: "
	}
	switch returns.Word(r.Word) {
	case returns.Worse:
		return fitFirstLine(price+a+" comes back more often", price+"the first named comes back more often")
	case returns.LeaningWorse:
		return fitFirstLine(price+a+" probably comes back more often", price+"the first named probably comes back more often")
	case returns.Better:
		return fitFirstLine(price+a+" comes back less often", price+"the first named comes back less often")
	case returns.LeaningBetter:
		return fitFirstLine(price+a+" probably comes back less often", price+"the first named probably comes back less often")
	}
	return Capital(price + "they cannot be told apart yet")
}

// levelText says what a comeback may cost before the saving is gone: by the
// shop's own count, and for two differences that anybody can picture.
func (r *Rivals) levelText(d returns.Duel) string {
	text := fmt.Sprintf("If 1 in 20 more of %s's fail, it pays while a comeback costs you under %s; if 1 in 100 more, under %s.",
		r.Cheap.Supplier, r.money(20*d.Saves), r.money(100*d.Saves))
	l := r.LevelAt
	switch {
	case l == nil || l.Low == nil:
		return text
	case l.Est == nil:
		return text + fmt.Sprintf(" By your own count it pays whatever a comeback costs; that the saving is gone from %s on is possible.", r.money(*l.Low))
	case l.High == nil:
		return text + fmt.Sprintf(" By your own count they are level at %s a comeback (%s is possible, and so is any greater sum).", r.money(*l.Est), r.money(*l.Low))
	}
	return text + fmt.Sprintf(" By your own count they are level at %s a comeback (%.2f to %s is possible).", r.money(*l.Est), *l.Low, r.money(*l.High))
}

// money writes a sum with its currency.
func (r *Rivals) money(sum float64) string { return fmt.Sprintf("%.2f %s", sum, r.Currency) }

// limits writes a figure with its limits.
func (e Estimate) limits() string { return fmt.Sprintf("%.1f (%.1f to %.1f)", e.Est, e.Low, e.High) }

// chance writes a probability in hundredths; neither end is certain.
func chance(p float64) string {
	switch {
	case p > 0.99:
		return "over 99 in 100"
	case p < 0.01:
		return "under 1 in 100"
	}
	return fmt.Sprintf("%.0f in 100", 100*p)
}
