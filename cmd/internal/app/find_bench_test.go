package app

import (
	"context"
	"os"
	"slices"
	"testing"
	"time"
)

// BenchmarkFind asks a catalogue that stands in the folder FITFILL_BENCH_HOME,
// such as a generated world of 100,000 parts, and reports the middle and the
// 99th percentile of the answers in milliseconds. The counts by type, engine and
// supplier are asked for when typing stops, so each question is asked without
// them and with them:
//
//	go test ./cmd/internal/app -run - -bench Find -benchtime 200x
func BenchmarkFind(b *testing.B) {
	home := os.Getenv("FITFILL_BENCH_HOME")
	if home == "" {
		b.Skip("FITFILL_BENCH_HOME names no catalogue")
	}
	s, err := Open(home, nil)
	if err != nil {
		b.Fatal(err)
	}
	defer s.Close()
	for _, q := range []struct{ name, words string }{
		{"exact", "A10-000007"}, {"beginning", "A10-0000"}, {"one-typo", "A10-00O007"}, {"three-words", "thermostat 88 seal"}, {"make", "thermostat 88 Brovant"},
	} {
		for name, quick := range map[string]bool{"without-counts": true, "with-counts": false} {
			b.Run(q.name+"/"+name, func(b *testing.B) {
				took := make([]time.Duration, 0, b.N)
				for b.Loop() {
					from := time.Now()
					if _, err := s.Find(context.Background(), FindQuestion{Words: q.words, Limit: 20, Quick: quick}); err != nil {
						b.Fatal(err)
					}
					took = append(took, time.Since(from))
				}
				slices.Sort(took)
				ms := func(share float64) float64 { return took[int(share*float64(len(took)-1))].Seconds() * 1000 }
				b.ReportMetric(ms(0.5), "p50-ms")
				b.ReportMetric(ms(0.99), "p99-ms")
			})
		}
	}
}
