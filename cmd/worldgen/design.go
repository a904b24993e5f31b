package main

import (
	"fmt"
	"strconv"
)

// The streams of a seed.
const (
	familyStream = iota + 1
	designStream
	supplierStream
	tradeStream
	vehicleStream
	sheetStream // and one for each supplier above it
)

// design is a part as it was drawn once; every supplier sells its own copy.
type design struct {
	kind, class            int
	flange, rating         int // places in the sizes
	ring, hose, cap        int
	bayonet                bool
	chemistry              int
	cents                  int // price
	concentrate, seal, pin bool
}

// mix is the share of part types: of ten designs four are thermostats.
var mix = [10]int{thermostat, sealRing, hose, thermostat, radiatorCap, thermostat, sealRing, coolant, thermostat, hose}

// newDesign draws design i: it is made for one of the families, so that it fits
// at least that one.
func newDesign(w *world, seed uint64, i int) design {
	r := newPCG(seed^uint64(i)*multiplier, designStream)
	f := &w.families[r.below(len(w.families))]
	kind := mix[i%len(mix)]
	return design{
		kind: kind, class: f.class[kind], flange: f.flange, rating: f.rating, ring: f.ring, hose: f.hose, cap: f.cap,
		bayonet: f.bayonet, chemistry: f.chemistry, cents: 150 + r.below(9000),
		concentrate: r.chance(40), seal: r.chance(30), pin: r.chance(60),
	}
}

// number is the supplier's own number of a design.
func number(supplier, i int) string {
	return string(rune('A'+supplier%26)) + strconv.Itoa(10+supplier/26) + "-" + fmt.Sprintf("%06d", (i+1)*7)
}

func supplierName(s int) string { return fmt.Sprintf("Trade House %02d", s+1) }
