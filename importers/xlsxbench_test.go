package importers

import (
	"bytes"
	"encoding/csv"
	"fmt"
	"runtime"
	"runtime/debug"
	"testing"

	"github.com/xuri/excelize/v2"
)

// twins writes one list of n rows and twelve columns as a workbook and as text.
func twins(b *testing.B, n int) (workbook, text []byte) {
	b.Helper()
	f := excelize.NewFile()
	defer f.Close()
	w, err := f.NewStreamWriter("Sheet1")
	if err != nil {
		b.Fatal(err)
	}
	var csvText, xlsx bytes.Buffer
	c := csv.NewWriter(&csvText)
	head := []string{"Part No.", "Description", "Type", "Price EUR", "Stock", "Opens (°C)", "Flange diameter (mm)", "Make", "Model", "Years", "Engine", "Condition"}
	for i := range n + 1 {
		row := head
		if i > 0 {
			row = []string{fmt.Sprintf("TX-%06d", i), fmt.Sprintf("thermostat %d", i%977), "thermostat", fmt.Sprintf("%d.%02d", 5+i%40, i%100), fmt.Sprint(i % 30),
				fmt.Sprint(80 + i%15), fmt.Sprintf("%d.%d", 48+i%20, i%10), "Tarvok", fmt.Sprintf("Sandrel %d", i%50), "1995-2004", fmt.Sprintf("TK%03d", i%300), ""}
		}
		cells := make([]any, len(row))
		for k, text := range row {
			cells[k] = text
		}
		at, _ := excelize.CoordinatesToCellName(1, i+1)
		if err := w.SetRow(at, cells); err != nil {
			b.Fatal(err)
		}
		if err := c.Write(row); err != nil {
			b.Fatal(err)
		}
	}
	c.Flush()
	if err := w.Flush(); err != nil {
		b.Fatal(err)
	}
	if err := f.Write(&xlsx); err != nil {
		b.Fatal(err)
	}
	return xlsx.Bytes(), csvText.Bytes()
}

// BenchmarkOpenWorkbook opens a list of 200,000 rows of twelve cells as a
// workbook and as text; heap-MB is what stands in memory right afterwards
// beside the file.
func BenchmarkOpenWorkbook(b *testing.B) {
	ref := reference(b)
	workbook, text := twins(b, 200_000)
	for name, raw := range map[string][]byte{"xlsx": workbook, "csv": text} {
		b.Run(name, func(b *testing.B) {
			var s *Sheet
			for range b.N {
				var err error
				if s, err = Open(ref, "list."+name, raw, nil); err != nil {
					b.Fatal(err)
				}
			}
			b.ReportMetric(float64(s.records.n)*float64(b.N)/b.Elapsed().Seconds(), "rows/s")
			debug.FreeOSMemory()
			var m runtime.MemStats
			runtime.ReadMemStats(&m)
			b.ReportMetric(float64(m.HeapAlloc)/1e6, "heap-MB")
		})
	}
}
