package main

import (
	"fmt"
	"math"
	"strconv"

	"fitfill/data/demo"
)

// The days of a world's purchases: three years up to and including the last.
const (
	tradeDays = 3 * 365
	lastDay   = 20543 // 2026-03-31
)

// relative draws every supplier's failure rate against the others: log-normal
// of mean 1.
func (w *world) relative(o *options) []float64 {
	r := newPCG(o.seed, supplierStream)
	spread := float64(w.spread) / 100
	rates := make([]float64, o.suppliers)
	for i := range rates {
		// Box and Muller, A Note on the Generation of Random Normal Deviates, 1958.
		z := math.Sqrt(2*r.exponential()) * math.Cos(2*math.Pi*r.float())
		rates[i] = math.Exp(spread*z - spread*spread/2)
	}
	return rates
}

// writeTrade writes purchases.csv in the order of days, and returns.csv in the
// order of their purchases. A part fails by the demo garage's stated hazards of
// its type, times its supplier's rate.
func (w *world) writeTrade(o *options, t *truth) error {
	hazards, err := readHazards(demo.FS, "hazard_types.csv")
	if err != nil {
		return err
	}
	r := newPCG(o.seed, tradeStream)
	return o.table("purchases.csv", purchaseHeadings, func(bought *cells) error {
		return o.table("returns.csv", returnHeadings, func(back *cells) error {
			for i := range o.bought {
				day := lastDay - tradeDays + 1 + i*tradeDays/o.bought
				s := r.below(o.suppliers)
				part := r.below(o.partsOf(s))
				p := newDesign(w, o.seed, part)
				num, doc, vehicle := number(s, part), fmt.Sprintf("W%08d", i+1), ""
				if o.vehicles > 0 && r.chance(70) {
					vehicle = mark(r.below(o.vehicles))
				}
				date := dateOf(day)
				if err := bought.all(date, supplierName(s), num, kindNames[p.kind], "1", fixed(p.cents), doc, vehicle); err != nil {
					return err
				}
				f := hazards[kindNames[p.kind]].fate(r, t.Suppliers[s].Relative)
				if !f.back || day+f.days > lastDay {
					continue
				}
				if err := back.all(dateOf(day+f.days), supplierName(s), num, strconv.Itoa(1), f.reason, date, doc, "", ""); err != nil {
					return err
				}
			}
			return nil
		})
	})
}
