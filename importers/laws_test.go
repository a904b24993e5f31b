package importers

import (
	"bytes"
	"compress/gzip"
	"fmt"
	"os"
	"path/filepath"
	"runtime"
	"slices"
	"strings"
	"testing"

	"fitfill/catalog"

	"github.com/google/go-cmp/cmp"
	"pgregory.net/rapid"
)

// account reads a sheet under a mapping: its rows and held rows, each with its
// line moved by shift, in the order of the lines.
func account(t testing.TB, s *Sheet, m Mapping, shift int) (lines []string) {
	t.Helper()
	report, err := readWithVocabulary(testVocabulary(t), s, m, Options{}, func(r catalog.SheetRow) error {
		lines = append(lines, fmt.Sprintf("%d %s", r.Line-shift, say(r)))
		return nil
	})
	if err != nil {
		t.Fatal(err)
	}
	for _, h := range report.Held {
		lines = append(lines, fmt.Sprintf("%d held %s %q", h.Line-shift, h.Code, h.Raw))
	}
	for _, k := range report.Skipped {
		lines = append(lines, fmt.Sprintf("%d %s", k.Line-shift, k.Class))
	}
	return lines
}

// manyRows is a sheet of several chunks with a damaged row here and there.
func manyRows() string {
	var b strings.Builder
	for i := range 2*aloneUpTo + 300 {
		switch {
		case i%97 == 5:
			fmt.Fprintf(&b, "P-%d;3/4\" bore;1,5x\n", i)
		case i%101 == 7:
			fmt.Fprintf(&b, "P-%d;cell;2,50;too many\n", i)
		case i%103 == 9:
			b.WriteString("\n")
		case i%107 == 11:
			fmt.Fprintf(&b, "P-%d;\"two\nlines\";2,50\n", i)
		case i%109 == 13:
			fmt.Fprintf(&b, "P-%d;again;2,50\n", i-13)
		default:
			fmt.Fprintf(&b, "P-%d;Thermostat %d;%d,50\n", i, i%9, i%40)
		}
	}
	return b.String()
}

// F14: what becomes of a row depends neither on where the chunks of the reader
// begin, nor on the number of goroutines, nor on the blocks of an archive.
func TestNoVerdictDependsOnChunksGoroutinesOrBlocks(t *testing.T) {
	const head = "Part No;Description;Price EUR\n"
	body := manyRows()
	read := func(raw []byte, shift int) []string {
		s, err := openSheet(testVocabulary(t), "list.csv", raw, nil)
		if err != nil {
			t.Fatal(err)
		}
		m := suggestWith(testVocabulary(t), specOf(catalog.SupplierSheet), s, Options{}).Mapping
		paged, err := openFile(testVocabulary(t), "list.csv", bytes.NewReader(raw), smallPages(500), nil)
		if err != nil {
			t.Fatal(err)
		}
		defer paged.Close()
		if d := cmp.Diff(account(t, s, m, shift), account(t, paged, m, shift)); d != "" {
			t.Errorf("by pages out of a file (-in memory +out of a file):\n%s", d)
		}
		lines := slices.DeleteFunc(account(t, s, m, shift), func(l string) bool { return strings.HasPrefix(l, "-") || strings.HasPrefix(l, "1 ") })
		slices.Sort(lines)
		return lines
	}
	want := read([]byte(head+body), 0)
	for _, rows := range []int{1, 7, chunkRows - 1, chunkRows} {
		var first strings.Builder
		for i := range rows {
			fmt.Fprintf(&first, "F-%d;Cap;1,00\n", i)
		}
		got := slices.DeleteFunc(read([]byte(head+first.String()+body), rows), func(l string) bool { return strings.Contains(l, " part F-") })
		if d := cmp.Diff(want, got); d != "" {
			t.Errorf("behind %d rows more (-want +got):\n%s", rows, d)
		}
	}
	before := runtime.GOMAXPROCS(0)
	defer runtime.GOMAXPROCS(before)
	for _, n := range []int{1, 2, 3, 8} {
		runtime.GOMAXPROCS(n)
		if d := cmp.Diff(want, read([]byte(head+body), 0)); d != "" {
			t.Errorf("on %d processors (-want +got):\n%s", n, d)
		}
	}
	runtime.GOMAXPROCS(before)
	for _, size := range []int{1, 7, 1000} {
		raw := []byte(head + body)
		if size == 1 {
			raw = raw[:len(head)+400] // a block for every byte grows
		}
		var b bytes.Buffer
		w := gzip.NewWriter(&b)
		for part := range slices.Chunk(raw, size) {
			w.Write(part)
			w.Flush()
		}
		w.Close()
		if d := cmp.Diff(read(raw, 0), read(b.Bytes(), 0)); d != "" {
			t.Errorf("in blocks of %d (-want +got):\n%s", size, d)
		}
	}
}

// F9, and F8 on the whole way: columns in another order, with their headings,
// and rows in another order give the same rows. Whether cells stand beside their
// columns depends on what is beside: the setting "rows" leaves that out.
func TestColumnsAndRowsInAnotherOrderGiveTheSameRows(t *testing.T) {
	headings := []string{"Part No", "Description", "Price EUR", "Flange mm", "Opening temp °C", "Replaces", "Stock as of"}
	cells := [][]string{
		nil, {"Thermostat", "", "a,b", "3/4\" bore"}, {"12,50", "1.234,50", "x", "", "on request"}, {"54,0", "44.5", "55", "", "wide"},
		{"82", "88 °C", "hot", ""}, {"R-1", "", "R-2; R-3"}, {"13.04.2026", "2026-04-14", "31.02.2026", ""},
	}
	voc := testVocabulary(t)
	rapid.Check(t, func(t *rapid.T) {
		rows := [][]string{{"A-0", "Cap", "2,50", "54,5", "82", "", "14.04.2026"}, {"A-1", "Cap", "2,75", "44,5", "82", "", "15.04.2026"}}
		for i := range rapid.IntRange(1, 12).Draw(t, "rows") {
			row := []string{fmt.Sprintf("B-%d", i)}
			for _, choices := range cells[1:] {
				row = append(row, rapid.SampledFrom(choices).Draw(t, "cell"))
			}
			rows = append(rows, row)
		}
		inOrder := func(columns, order []int) []string {
			all := [][]string{headings}
			for _, i := range order {
				all = append(all, rows[i])
			}
			for i, row := range all {
				mixed := make([]string, len(row))
				for j, c := range columns {
					mixed[j] = row[c]
				}
				all[i] = mixed
			}
			s, err := openSheet(voc, "list.csv", []byte(written(all)), Settings{"separator": "comma", "rows": fmt.Sprintf("2-%d", len(all))})
			if err != nil {
				t.Fatal(err)
			}
			p := suggestWith(voc, specOf(catalog.SupplierSheet), s, Options{Settings: Settings{"decimal": Comma, "dates": "dmy"}})
			m := p.Mapping
			if len(p.Questions) > 0 {
				t.Fatalf("%+v", p.Questions)
			}
			var got []string
			report, err := readWithVocabulary(voc, s, m, Options{}, func(r catalog.SheetRow) error {
				facts := strings.Fields(say(r))
				slices.Sort(facts)
				got = append(got, strings.Join(facts, " "))
				return nil
			})
			if err != nil {
				t.Fatal(err)
			}
			for _, h := range report.Held {
				cells := s.Cells(h.Line-1, nil)
				got = append(got, "held "+cells[slices.Index(columns, 0)])
			}
			slices.Sort(got)
			return got
		}
		straight := func(n int) (order []int) {
			for i := range n {
				order = append(order, i)
			}
			return order
		}
		columns, order := straight(len(headings)), straight(len(rows))
		want := inOrder(columns, order)
		if d := cmp.Diff(want, inOrder(rapid.Permutation(columns).Draw(t, "columns"), rapid.Permutation(order).Draw(t, "order"))); d != "" {
			t.Fatalf("(-straight +mixed):\n%s", d)
		}
	})
}

// F15: a column more that is empty changes no suggestion and no question.
func TestAnEmptyColumnChangesNoSuggestionForAnySheet(t *testing.T) {
	var names []string
	for _, pattern := range []string{"*.csv", "*.tsv", "cells/*.csv"} {
		found, err := filepath.Glob(filepath.Join("..", "testdata", "sheets", pattern))
		if err != nil || len(found) == 0 {
			t.Fatal(pattern, err)
		}
		names = append(names, found...)
	}
	voc := testVocabulary(t)
	for _, name := range names {
		raw, err := os.ReadFile(name)
		if err != nil {
			t.Fatal(err)
		}
		plain, err := openSheet(voc, name, raw, nil)
		if err != nil {
			t.Fatal(err)
		}
		suggest := func(at int, heading string) []string {
			rows := [][]string{slices.Clone(plain.Header)}
			for i, r := range plain.Records() {
				if r.Class == ClassData && r.Fault == NoFault {
					rows = append(rows, plain.Cells(i, nil))
				}
			}
			for i := range rows {
				for len(rows[i]) < len(plain.Header) {
					rows[i] = append(rows[i], "")
				}
				if at >= 0 {
					cell := ""
					if i == 0 {
						cell = heading
					}
					rows[i] = slices.Insert(rows[i], min(at, len(rows[i])), cell)
				}
			}
			s, err := openSheet(voc, name, []byte(written(rows)), Settings{"header": "1", "separator": "comma"})
			if err != nil {
				t.Fatal(err)
			}
			kind, _ := voc.guessKind(plain.Header)
			p := suggestWith(voc, specOf(kind), s, Options{})
			var said []string
			for _, c := range p.Mapping.Columns {
				c.Index = 0
				said = append(said, fmt.Sprintf("%+v", c))
			}
			for _, q := range p.Questions {
				said = append(said, q.Code+" "+q.Command)
			}
			slices.Sort(said)
			return said
		}
		want := suggest(-1, "")
		for _, at := range []int{0, 1, 99} {
			for _, heading := range []string{"", "Remarks of the warehouse"} {
				if d := cmp.Diff(want, suggest(at, heading)); d != "" {
					t.Errorf("%s, %q at %d (-without +with):\n%s", name, heading, at, d)
				}
			}
		}
	}
}
