package fit

import (
	"fmt"
	"testing"

	"fitfill/catalog"
)

func BenchmarkJudge200Candidates(b *testing.B) {
	q := thermostatQuestion()
	var cands []Candidate
	for i := range 200 {
		cands = append(cands, Candidate{Part: new(stat("Varn", fmt.Sprint(i))), Listings: []catalog.Fitment{noted(listing("Varn", 3), "seal not included, exc. HD"), listing("Ostrel", 4), listing("Kemmel", 5)}})
	}
	tab := tables(b)
	for b.Loop() {
		tab.Judge(q, cands)
	}
}
