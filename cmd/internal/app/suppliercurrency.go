package app

import (
	"fmt"
	"maps"
	"slices"
	"strings"
)

// inCurrency tells prices of one part type of a supplier by their currency.
type inCurrency struct {
	currency string
	of       [2]int // supplier and part type of the ledger
}

// forBoth turns to a currency in which both suppliers' parts of a type are priced,
// where the usual one is none: no rate of exchange is assumed, but none is needed
// either. What the shop states of a comeback holds in its own currency only.
func (p *pricing) forBoth(at [2]int, partType int) {
	priced := func(currency string) bool {
		for _, s := range at {
			if _, ok := p.all[currency][[2]int{s, partType}]; !ok {
				return false
			}
		}
		return true
	}
	if priced(p.currency) {
		return
	}
	for _, currency := range slices.Sorted(maps.Keys(p.all)) {
		if !priced(currency) || currency == "" {
			continue
		}
		if p.off == "" {
			p.off, p.unstated = fmt.Sprintf("what a comeback costs is stated in %s and both are paid in %s: --labour-rate 60%s", p.currency, currency, currency), true
		}
		p.currency, p.prices = currency, p.all[currency]
		return
	}
}

// noPrice says why the parts of two suppliers cannot be weighed in money: prices in
// different currencies, or none.
func (p pricing) noPrice(st *supplierStudy, at [2]int, partType int) string {
	var in, without []string
	for _, s := range at {
		var currencies []string
		for _, c := range slices.Sorted(maps.Keys(p.all)) {
			if _, ok := p.all[c][[2]int{s, partType}]; ok && c != "" {
				currencies = append(currencies, c)
			}
		}
		name := st.ledger.Suppliers[s]
		if len(currencies) == 0 {
			without = append(without, name+"'s")
		} else {
			in = append(in, fmt.Sprintf("%s's prices are in %s", name, strings.Join(currencies, " and ")))
		}
	}
	if len(without) > 0 {
		return fmt.Sprintf("No price of %s is on file with its currency: the sheet of purchases needs the columns unit_price and currency.", strings.Join(without, " or "))
	}
	return Capital(strings.Join(in, ", ")) + ": no rate of exchange is assumed, so they cannot be weighed in money."
}

// anyPrice reports whether a supplier's part of a type is priced in any currency.
func (p pricing) anyPrice(supplier, partType int) bool {
	for currency, prices := range p.all {
		if _, ok := prices[[2]int{supplier, partType}]; ok && currency != "" {
			return true
		}
	}
	return false
}
