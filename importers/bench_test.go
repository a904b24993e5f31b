package importers

import (
	"bytes"
	"fmt"
	"testing"

	"fitfill/catalog"
	"fitfill/data"
)

// priceList writes a supplier's list of n rows and twelve columns.
func priceList(n int) []byte {
	var b bytes.Buffer
	b.WriteString("Part No.,Description,Type,Brand,Price EUR,Pack,Opening °C,Flange OD (mm),Flange thickness (mm),Engine,Years,Barcode\n")
	for i := range n {
		fmt.Fprintf(&b, "N-%07d,\"Thermostat, %d type\",thermostat,Ostrel,%d.%02d,1,%d,%d.%d,1.6,KR%d,1998-2003,%013d\n",
			i, i%97, 5+i%40, i%100, 82+i%3*5, 52+i%4, i%10, i%50, 4_000_000_000_000+i)
	}
	return b.Bytes()
}

func BenchmarkRead(b *testing.B) {
	const rows = 100_000
	ref, err := data.Reference()
	if err != nil {
		b.Fatal(err)
	}
	s, err := Open(ref, "list.csv", priceList(rows), nil)
	if err != nil {
		b.Fatal(err)
	}
	m, questions := Propose(ref, catalog.SupplierSheet, s, Options{})
	if len(questions) > 0 {
		b.Fatal(questions)
	}
	b.ReportAllocs()
	for b.Loop() {
		report, err := Read(ref, s, m, func(catalog.SheetRow) error { return nil })
		if err != nil || report.RowsTaken != rows {
			b.Fatal(report.RowsTaken, report.Held[:min(3, len(report.Held))], err)
		}
	}
	b.ReportMetric(float64(rows*b.N)/b.Elapsed().Seconds(), "rows/s")
}

func BenchmarkOpenAndPropose(b *testing.B) {
	const rows = 100_000
	ref, err := data.Reference()
	if err != nil {
		b.Fatal(err)
	}
	raw := priceList(rows)
	for b.Loop() {
		s, err := Open(ref, "list.csv", raw, nil)
		if err != nil {
			b.Fatal(err)
		}
		if _, questions := Propose(ref, catalog.SupplierSheet, s, Options{}); len(questions) > 0 {
			b.Fatal(questions)
		}
	}
	b.ReportMetric(float64(rows*b.N)/b.Elapsed().Seconds(), "rows/s")
}
