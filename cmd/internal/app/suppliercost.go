package app

import (
	"fmt"
	"maps"
	"slices"
	"strings"

	"fitfill/catalog/units"
	"fitfill/compat"
	"fitfill/compat/returns"
)

// JobCost is what a fitted part costs once the comebacks are paid.
type JobCost struct {
	Type       string  `json:"type"`
	Days       int     `json:"days"`
	Price      float64 `json:"price"` // median of what was paid
	PricedFrom int     `json:"priced_from_purchases"`
	PerFailure float64 `json:"per_comeback"`
	Estimate
	Currency string `json:"currency"`
}

// Comeback says what goes into the cost of one comeback.
type Comeback struct {
	Type         string            `json:"type"`
	Hours        float64           `json:"labour_hours"`
	LabourRate   float64           `json:"labour_rate"`
	CoolantL     float64           `json:"coolant_l"`
	CoolantPrice float64           `json:"coolant_price_per_l"`
	Each         float64           `json:"freight_and_handling"`
	CreditShare  float64           `json:"credit_share"`
	Currency     string            `json:"currency"`
	Origin       []compat.Evidence `json:"origin"`
}

// paid is the price of a supplier's parts of one type.
type paid struct {
	price     float64
	purchases int
	old       bool // nothing was bought within the days that make a price
}

// pricing is what money the books and the settings state.
type pricing struct {
	currency  string
	prices    map[[2]int]paid            // in that currency, by supplier and part type of the ledger
	all       map[string]map[[2]int]paid // the same by currency
	comebacks returns.Comebacks
	rates     returns.Rates
	notes     []string
	off       string // why no cost can be told; empty: it can
	unstated  bool   // the only reason is that the shop has not stated its rate
}

// pricing collects the prices paid and the shop's own rates. No rate of
// exchange is assumed: what is stated in another currency than most purchases
// is left out, and said.
func (s *Shop) pricing(st *supplierStudy) (pricing, error) {
	p := pricing{all: map[string]map[[2]int]paid{}}
	rows, err := s.ref.Table("returns_comebacks")
	if err != nil {
		return p, err
	}
	if p.comebacks, err = returns.NewComebacks(rows); err != nil {
		return p, err
	}
	p.collect(st)
	set := s.Settings
	if !set.LabourRate.Known {
		p.unstated = true
		p.off = "what an hour of labour costs the shop is not stated: --labour-rate 60EUR, or labour_rate in the settings"
		return p, nil
	}
	p.rates.Credit = st.settings.CreditShare
	var unset []string
	for _, m := range []struct {
		name   string
		stated units.Money
		known  bool
		slot   *float64
	}{
		{"labour_rate", set.LabourRate.Value, set.LabourRate.Known, &p.rates.Hour},
		{"coolant_price", set.CoolantPrice.Value, set.CoolantPrice.Known, &p.rates.Litre},
		{"comeback_cost", set.ComebackCost.Value, set.ComebackCost.Known, &p.rates.Each},
	} {
		switch {
		case !m.known:
			unset = append(unset, m.name)
		case m.stated.Currency() != "" && p.currency != "" && m.stated.Currency() != p.currency:
			p.off = fmt.Sprintf("%s is in %s, most purchases are in %s: state it in %s", m.name, m.stated.Currency(), p.currency, p.currency)
		default:
			*m.slot = m.stated.Units()
		}
	}
	if len(unset) > 0 {
		p.notes = append(p.notes, "Settings that are not stated and count as nothing: "+strings.Join(unset, ", ")+".")
	}
	return p, nil
}

// collect takes the median price of each supplier's parts of a type, in the
// currency of most purchases.
func (p *pricing) collect(st *supplierStudy) {
	count := map[string]int{}
	for i := range st.bought.Len() {
		if price, ok := st.bought.Price(i); ok && price.TenThousandths() > 0 {
			count[price.Currency()]++
		}
	}
	for c, n := range count {
		if n > count[p.currency] || n == count[p.currency] && c < p.currency {
			p.currency = c
		}
	}
	recent, older := map[inCurrency][]int64{}, map[inCurrency][]int64{}
	other := map[string]int{}
	for i, f := range st.ledger.Sales {
		row := st.books.Sales[i].Ref
		price, ok := st.bought.Price(row)
		if f.Status == returns.SetAside || !ok || price.TenThousandths() <= 0 || st.bought.Quantity(row).Thousandths() <= 0 {
			continue
		}
		if c := price.Currency(); c != p.currency {
			other[c]++
		}
		key := inCurrency{price.Currency(), [2]int{int(f.Supplier), int(f.PartType)}}
		if int(st.books.AsOf-st.bought.Day(row)) <= st.settings.PriceDays {
			recent[key] = append(recent[key], price.TenThousandths())
		}
		older[key] = append(older[key], price.TenThousandths())
	}
	for key, all := range older {
		list, old := recent[key], false
		if len(list) == 0 {
			list, old = all, true
		}
		if p.all[key.currency] == nil {
			p.all[key.currency] = map[[2]int]paid{}
		}
		p.all[key.currency][key.of] = paid{medianMoney(list), len(list), old}
	}
	p.prices = p.all[p.currency]
	for _, c := range slices.Sorted(maps.Keys(other)) {
		in := "in " + c
		if c == "" {
			in = "without a currency"
		}
		p.notes = append(p.notes, fmt.Sprintf("%s priced %s left out: no rate of exchange is assumed.", Plural(other[c], "purchase", "purchases"), in))
	}
}

// medianMoney returns the median of ten-thousandths in whole units.
func medianMoney(list []int64) float64 {
	slices.Sort(list)
	n := len(list)
	return float64(list[(n-1)/2]+list[n/2]) / 2 / 1e4
}

// partCost returns what a supplier's part of a type costs, and whether a price
// is on file.
func (p pricing) partCost(st *supplierStudy, supplier, partType int) (returns.PartCost, paid, bool) {
	have, ok := p.prices[[2]int{supplier, partType}]
	if !ok || p.off != "" {
		return returns.PartCost{}, have, false
	}
	c := p.comebacks.Of(st.ledger.PartTypes[partType])
	return returns.PartCost{Price: have.price, PerFailure: c.Cost(p.rates, have.price)}, have, true
}

// jobCost returns what a supplier's part of a type costs with its comebacks;
// nil where price, rate or comparison is missing.
func (p pricing) jobCost(st *supplierStudy, supplier, partType int) *JobCost {
	cost, have, ok := p.partCost(st, supplier, partType)
	if !ok {
		return nil
	}
	iv, ok := st.overall.CostPerPart(supplier, partType, RateDays, cost, st.settings.Confidence)
	if !ok {
		return nil
	}
	return &JobCost{
		Type: st.ledger.PartTypes[partType], Days: RateDays, Price: round(have.price, 4), PricedFrom: have.purchases,
		PerFailure: round(cost.PerFailure, 2), Estimate: estimate(iv, 2), Currency: p.currency,
	}
}

func estimate(iv returns.Interval, digits int) Estimate {
	return Estimate{round(iv.Est, digits), round(iv.Low, digits), round(iv.High, digits)}
}

// comeback spells out what goes into a comeback of a part type.
func (p pricing) comeback(st *supplierStudy, partType string) *Comeback {
	if p.off != "" {
		return nil
	}
	c := p.comebacks.Of(partType)
	return &Comeback{
		Type: partType, Hours: c.Hours, LabourRate: p.rates.Hour, CoolantL: c.Litres, CoolantPrice: p.rates.Litre, Each: p.rates.Each,
		CreditShare: p.rates.Credit, Currency: p.currency, Origin: []compat.Evidence{compat.Cite(c.Row)},
	}
}

// typeIndex returns the place of a part type in the ledger, −1 if it was never
// bought.
func (st *supplierStudy) typeIndex(partType string) int {
	return slices.IndexFunc(st.ledger.PartTypes, func(n string) bool { return strings.EqualFold(n, partType) })
}

// fillCosts puts the cost of a fitted part beside each supplier, where the
// question names a part type.
func (a *SuppliersAnswer) fillCosts(st *supplierStudy, money pricing) {
	a.NoCost = money.off
	g := st.typeIndex(st.q.Type)
	if g < 0 || money.off != "" {
		return
	}
	a.Comeback = money.comeback(st, st.q.Type)
	a.Notes = append(a.Notes, money.notes...)
	for i := range a.Suppliers {
		s := slices.Index(st.ledger.Suppliers, a.Suppliers[i].Supplier)
		a.Suppliers[i].CostPerJob = money.jobCost(st, s, g)
	}
}
