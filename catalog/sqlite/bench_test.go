package sqlite

import (
	"context"
	"fmt"
	"os"
	"strings"
	"testing"

	"fitfill/catalog"
	"fitfill/catalog/units"
)

// BenchmarkFitments stages and commits one supplier's sheet of b.N/parts... rows:
// go test -bench Fitments -benchtime 1000000x reports a million fitments.
func BenchmarkFitments(b *testing.B) {
	const perPart = 10
	ctx := context.Background()
	s, err := Open(b.TempDir())
	if err != nil {
		b.Fatal(err)
	}
	defer s.Close()
	lock, err := s.LockImports()
	if err != nil {
		b.Fatal(err)
	}
	defer lock.Unlock()
	b.ResetTimer()
	st, err := s.NewStage(ctx, lock, SheetInfo{
		Supplier: "Brackwell", Kind: catalog.SupplierSheet, Name: "bench.csv", SHA256: "bench", Mapping: "{}",
		Fields: []string{"number"}, ImportedAt: "2026-01-02T03:04:05Z", File: strings.NewReader(""),
	})
	if err != nil {
		b.Fatal(err)
	}
	defer st.Discard()
	for i := range b.N {
		part, app := i/perPart, (i*7919)%20_000
		row := &catalog.PartRow{
			Number: fmt.Sprintf("BK-%06d", part),
			Facts: []catalog.Fact{
				{Field: "type", Word: "thermostat", Text: "Thermostat"},
				{Field: "description", Word: fmt.Sprintf("Thermostat no. %d", part%500), Text: fmt.Sprintf("Thermostat no. %d", part%500)},
				{Field: "opening_temp", Int: 82_000, Text: "82"},
				{Field: "flange_diameter", Int: 54_000_000, Text: "54.0"},
				{Field: "price", Int: int64(part%4000) * 100, Word: "EUR", Text: fmt.Sprintf("%d.%02d", part%40, part%100)},
			},
			Fitments: []catalog.Fitment{{
				Make: fmt.Sprintf("Make %d", app%40), Model: fmt.Sprintf("Model %d", app%900), Engine: fmt.Sprintf("E%d", app%3000),
				Years: units.ModelYears{Ranges: []units.YearRange{units.Years(1990+app%20, 1995+app%25)}},
			}},
		}
		if err := st.Add(ctx, catalog.SheetRow{Line: i + 2, Part: row}); err != nil {
			b.Fatal(err)
		}
	}
	staged := b.Elapsed()
	if _, err := st.Commit(ctx, Counts{Read: b.N, Taken: b.N}, nil, ""); err != nil {
		b.Fatal(err)
	}
	b.StopTimer()
	if _, err := s.write.Exec("PRAGMA wal_checkpoint(TRUNCATE)"); err != nil {
		b.Fatal(err)
	}
	info, err := os.Stat(s.path())
	if err != nil {
		b.Fatal(err)
	}
	b.ReportMetric(float64(b.N)/b.Elapsed().Seconds(), "rows/s")
	b.ReportMetric(float64(b.N)/(b.Elapsed()-staged).Seconds(), "committed-rows/s")
	b.ReportMetric(float64(info.Size())/float64(b.N), "bytes/row")
}
