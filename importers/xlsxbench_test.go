package importers

import (
	"bufio"
	"encoding/csv"
	"errors"
	"fmt"
	"os"
	"path/filepath"
	"testing"

	"github.com/xuri/excelize/v2"
)

// twins writes one list of n rows and twelve columns as a workbook, its numbers as
// numbers, and as text.
func twins(b *testing.B, n int) (workbook, text string) {
	b.Helper()
	dir := b.TempDir()
	workbook, text = filepath.Join(dir, "list.xlsx"), filepath.Join(dir, "list.csv")
	f := excelize.NewFile()
	defer f.Close()
	w, err := f.NewStreamWriter("Sheet1")
	if err != nil {
		b.Fatal(err)
	}
	out, err := os.Create(text)
	if err != nil {
		b.Fatal(err)
	}
	defer out.Close()
	buffered := bufio.NewWriter(out)
	c := csv.NewWriter(buffered)
	head := []string{"Part No.", "Description", "Type", "Price EUR", "Stock", "Opens (°C)", "Flange diameter (mm)", "Make", "Model", "Years", "Engine", "Condition"}
	for i := range n + 1 {
		row := head
		if i > 0 {
			row = []string{fmt.Sprintf("TX-%06d", i), fmt.Sprintf("thermostat %d", i%977), "thermostat", fmt.Sprintf("%d.%02d", 5+i%40, i%100), fmt.Sprint(i % 30),
				fmt.Sprint(80 + i%15), fmt.Sprintf("%d.%d", 48+i%20, i%10), "Tarvok", fmt.Sprintf("Sandrel %d", i%50), "1995-2004", fmt.Sprintf("TK%03d", i%300), "without air bleed"}
		}
		cells := make([]any, len(row))
		for k, text := range row {
			cells[k] = text
		}
		if i > 0 {
			cells[3], cells[4], cells[5], cells[6] = float64(500+i%40*100+i%100)/100, i%30, 80+i%15, float64(480+i%20*10+i%10)/10
		}
		at, _ := excelize.CoordinatesToCellName(1, i+1)
		if err := errors.Join(w.SetRow(at, cells), c.Write(row)); err != nil {
			b.Fatal(err)
		}
	}
	c.Flush()
	if err := errors.Join(w.Flush(), f.SaveAs(workbook), c.Error(), buffered.Flush()); err != nil {
		b.Fatal(err)
	}
	return workbook, text
}

// BenchmarkOpenWorkbook opens a list of 200,000 rows of twelve cells from its file,
// as a workbook and as text; peak-MB is the most that lay on the heap
// meanwhile.
func BenchmarkOpenWorkbook(b *testing.B) {
	ref := reference(b)
	workbook, text := twins(b, 200_000)
	for _, file := range []string{workbook, text} {
		b.Run(filepath.Ext(file)[1:], func(b *testing.B) {
			f, err := os.Open(file)
			if err != nil {
				b.Fatal(err)
			}
			defer f.Close()
			info, err := f.Stat()
			if err != nil {
				b.Fatal(err)
			}
			scratch := func() (ScratchFile, error) { return os.CreateTemp(b.TempDir(), "scratch") }
			rows := 0
			peak := peakHeap(func() {
				for b.Loop() {
					s, err := OpenFile(ref, filepath.Base(file), sizedFile{f, info.Size()}, scratch, nil)
					if err != nil {
						b.Fatal(err)
					}
					rows += s.Len()
					if err := s.Close(); err != nil {
						b.Fatal(err)
					}
				}
			})
			b.ReportMetric(float64(rows)/b.Elapsed().Seconds(), "rows/s")
			b.ReportMetric(float64(peak)/1e6, "peak-MB")
		})
	}
}

type sizedFile struct {
	*os.File
	size int64
}

func (f sizedFile) Size() int64 { return f.size }
