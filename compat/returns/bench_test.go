package returns_test

import (
	"fmt"
	"math/rand/v2"
	"runtime"
	"testing"

	"fitfill/catalog"
	"fitfill/compat/returns"
)

// bigBooks are the books of a large trade: three years of sales from 12
// suppliers in 40 part types of 200 numbers each, and one return in twenty sales.
func bigBooks(sales, back int) returns.Books {
	rng := rand.New(rand.NewPCG(9, 20261130))
	const suppliers, types, numbers, days = 12, 40, 200, 1095
	first := catalog.Date(19000)
	b := returns.Books{AsOf: first + days}
	words := map[string]string{} // the catalogue keeps each word once
	word := func(text string) string {
		if _, ok := words[text]; !ok {
			words[text] = text
		}
		return words[text]
	}
	supplier := func(s int) string { return word(fmt.Sprintf("Trade House %02d", s)) }
	partType := func(g int) string { return word(fmt.Sprintf("type %02d", g)) }
	number := func(s, g, n int) string { return word(fmt.Sprintf("%c%02d-%04d", 'A'+s, g, n)) }
	for i := range sales {
		s, g, n := rng.IntN(suppliers), rng.IntN(types), rng.IntN(numbers)
		b.Sales = append(b.Sales, returns.Sale{
			Ref: i, Supplier: supplier(s), Part: number(s, g, n), PartType: partType(g), Day: first + catalog.Date(rng.IntN(days)),
			Quantity: catalog.CountOf(int64(1+rng.IntN(2)) * 1000), Document: word(fmt.Sprintf("D%07d", i/3)),
		})
	}
	classes := []returns.Class{returns.QualityFailure, returns.QualityFailure, returns.QualityFailure, returns.DeadOnArrival, returns.Neutral, returns.SupplyError, returns.UnknownReason}
	for i := range back {
		s := b.Sales[rng.IntN(len(b.Sales))]
		r := returns.Return{
			Ref: i, Supplier: s.Supplier, Part: s.Part, Day: s.Day + catalog.Date(rng.IntN(400)), Quantity: catalog.CountOf(1000),
			Class: classes[rng.IntN(len(classes))],
		}
		if rng.IntN(3) > 0 {
			r.Document = s.Document
		}
		b.Returns = append(b.Returns, r)
	}
	return b
}

// Rows to a whole report: 1,000,000 sale rows, 50,000 returns, 12 suppliers, 40
// part types. cpu-s is the time of both processors together, which other programs
// on the machine do not stretch; books-MB is what the rows take, more-MB what the
// report and the matched rows take beside them.
func BenchmarkReportOfALargeTrade(b *testing.B) {
	set := settings(b)
	before := heap()
	books := bigBooks(1_000_000, 50_000)
	rows := heap()
	b.ReportAllocs()
	start := processorTime()
	var l returns.Ledger
	for b.Loop() {
		l = returns.Match(books, set)
		if _, err := returns.Judge(l, set); err != nil {
			b.Fatal(err)
		}
	}
	b.ReportMetric((processorTime()-start)/float64(b.N), "cpu-s/op")
	b.ReportMetric(heap()-rows, "more-MB")
	b.ReportMetric(rows-before, "books-MB")
	runtime.KeepAlive(l)
	runtime.KeepAlive(books)
}

func BenchmarkMatch(b *testing.B) {
	books := bigBooks(1_000_000, 50_000)
	set := settings(b)
	start := processorTime()
	for b.Loop() {
		returns.Match(books, set)
	}
	b.ReportMetric((processorTime()-start)/float64(b.N), "cpu-s/op")
}

func BenchmarkJudge(b *testing.B) {
	set := settings(b)
	l := returns.Match(bigBooks(1_000_000, 50_000), set)
	start := processorTime()
	for b.Loop() {
		if _, err := returns.Judge(l, set); err != nil {
			b.Fatal(err)
		}
	}
	b.ReportMetric((processorTime()-start)/float64(b.N), "cpu-s/op")
}

// heap returns the megabytes that are in use after a collection.
func heap() float64 {
	runtime.GC()
	var m runtime.MemStats
	runtime.ReadMemStats(&m)
	return float64(m.HeapAlloc) / (1 << 20)
}
