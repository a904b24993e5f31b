package importers

import (
	"testing"

	"fitfill/data"
)

// BenchmarkOpen reads a sheet of a million rows and twelve columns.
func BenchmarkOpen(b *testing.B) {
	const rows = 1_000_000
	ref, err := data.Reference()
	if err != nil {
		b.Fatal(err)
	}
	raw := priceList(rows)
	b.ReportAllocs()
	b.SetBytes(int64(len(raw)))
	for b.Loop() {
		s, err := Open(ref, "list.csv", raw, nil)
		if err != nil || s.Rows() != rows {
			b.Fatal(err)
		}
	}
	b.ReportMetric(float64(rows*b.N)/b.Elapsed().Seconds(), "rows/s")
}
