package importers

import (
	"bufio"
	"bytes"
	"encoding/csv"
	"fmt"
	"io"
	"os"
	"path/filepath"
	"runtime/debug"
	"runtime/metrics"
	"testing"
	"time"

	"fitfill/catalog"
	"fitfill/data"
)

// priceList is a supplier's list of n rows and twelve columns.
func priceList(n int) []byte {
	var b bytes.Buffer
	b.Grow(120 * n)
	writePriceList(&b, n)
	return b.Bytes()
}

func writePriceList(b io.Writer, n int) {
	io.WriteString(b, "Part No.,Description,Type,Brand,Price EUR,Pack,Opening °C,Flange OD (mm),Flange thickness (mm),Engine,Years,Barcode\n")
	for i := range n {
		fmt.Fprintf(b, "N-%07d,\"Thermostat, %d type\",thermostat,Ostrel,%d.%02d,1,%d,%d.%d,1.6,KR%d,1998-2003,%013d\n",
			i, i%97, 5+i%40, i%100, 82+i%3*5, 52+i%4, i%10, i%50, 4_000_000_000_000+i)
	}
}

// priceFile writes such a list to a file, as a large one lies on disk.
func priceFile(b *testing.B, n int) File {
	f, err := os.Create(filepath.Join(b.TempDir(), "list.csv"))
	if err != nil {
		b.Fatal(err)
	}
	b.Cleanup(func() { f.Close() })
	w := bufio.NewWriter(f)
	writePriceList(w, n)
	if err := w.Flush(); err != nil {
		b.Fatal(err)
	}
	size, err := f.Seek(0, io.SeekEnd)
	if err != nil {
		b.Fatal(err)
	}
	return io.NewSectionReader(f, 0, size)
}

// peakHeap runs do and returns the most that lay on the heap meanwhile.
func peakHeap(do func()) uint64 {
	sample := []metrics.Sample{{Name: "/memory/classes/heap/objects:bytes"}, {Name: "/memory/classes/heap/unused:bytes"}}
	stop, peak := make(chan struct{}), make(chan uint64)
	go func() {
		var most uint64
		for {
			metrics.Read(sample)
			most = max(most, sample[0].Value.Uint64()+sample[1].Value.Uint64())
			select {
			case <-stop:
				peak <- most
				return
			case <-time.After(2 * time.Millisecond):
			}
		}
	}()
	do()
	close(stop)
	return <-peak
}

func confirmed(b *testing.B, ref catalog.Reference, raw []byte) Mapping {
	s, err := Open(ref, "list.csv", raw, nil)
	if err != nil {
		b.Fatal(err)
	}
	m, questions := Propose(ref, catalog.SupplierSheet, s, Options{})
	if len(questions) > 0 {
		b.Fatal(questions)
	}
	return m
}

func csvPass(b *testing.B, f File) {
	r := csv.NewReader(io.NewSectionReader(f, 0, f.Size()))
	r.ReuseRecord = true
	for {
		if _, err := r.Read(); err == io.EOF {
			return
		} else if err != nil {
			b.Fatal(err)
		}
	}
}

// BenchmarkRead opens, maps and binds a list by a mapping that was confirmed
// earlier, out of a file, beside a pass of encoding/csv over the same file. The
// peak is all that lay on the heap. Of the longest list, the collector runs when half
// as much was added as is in use, as it does while the program reads a huge sheet.
func BenchmarkRead(b *testing.B) {
	for _, rows := range []int{100_000, 1_000_000, 3_000_000} {
		b.Run(fmt.Sprint(rows), func(b *testing.B) {
			ref, err := data.Reference()
			if err != nil {
				b.Fatal(err)
			}
			if rows > 1_000_000 {
				defer debug.SetGCPercent(debug.SetGCPercent(50))
			}
			file := priceFile(b, rows)
			m := confirmed(b, ref, priceList(1000))
			var plain, open, read time.Duration
			var peak uint64
			b.ReportAllocs()
			for b.Loop() {
				start := time.Now()
				csvPass(b, file)
				plain += time.Since(start)
				peak = max(peak, peakHeap(func() {
					start = time.Now()
					s, err := OpenFile(ref, "list.csv", file, nil, Settings{"limit-file": "1GiB"})
					open += time.Since(start)
					if err != nil {
						b.Fatal(err)
					}
					start = time.Now()
					report, err := Read(ref, s, m, func(catalog.SheetRow) error { return nil })
					read += time.Since(start)
					if err != nil || report.RowsTaken != rows {
						b.Fatal(report.RowsTaken, report.Held[:min(3, len(report.Held))], err)
					}
				}))
			}
			total := float64(rows * b.N)
			b.ReportMetric(total/(open+read).Seconds(), "rows/s")
			b.ReportMetric(total/read.Seconds(), "bound-rows/s")
			b.ReportMetric(total/plain.Seconds(), "csv-rows/s")
			b.ReportMetric((open+read).Seconds()/plain.Seconds(), "times-csv")
			b.ReportMetric(float64(peak)/1e6, "peak-MB")
		})
	}
}

func BenchmarkPropose(b *testing.B) {
	const rows = 100_000
	ref, err := data.Reference()
	if err != nil {
		b.Fatal(err)
	}
	s, err := Open(ref, "list.csv", priceList(rows), nil)
	if err != nil {
		b.Fatal(err)
	}
	for b.Loop() {
		if _, questions := Propose(ref, catalog.SupplierSheet, s, Options{}); len(questions) > 0 {
			b.Fatal(questions)
		}
	}
	b.ReportMetric(float64(rows*b.N)/b.Elapsed().Seconds(), "rows/s")
}
