package importers

import (
	"bytes"
	"encoding/csv"
	"fmt"
	"slices"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"
	"pgregory.net/rapid"
)

func cellsOf(raw string, delim byte, width int) (rows [][]string, records []Record) {
	return cellsIn(raw, Dialect{Delimiter: string(delim), Quote: '"'}, width)
}

func cellsIn(raw string, d Dialect, width int) (rows [][]string, records []Record) {
	s := &Sheet{Encoding: utf8Name, raw: textOf([]byte(raw)), text: textOf([]byte(raw)), Dialect: d, Delimiter: rune(d.Delimiter[0]), sizes: usualLimits()}
	newSplitter(nil, d, width, s.sizes).stretch(s.text, 0, s.text.size, s.text.size, &s.records)
	for i := range s.records.n {
		rows = append(rows, s.Cells(i, nil))
	}
	for _, r := range s.Records() {
		records = append(records, r)
	}
	return rows, records
}

// The examples of RFC 4180 (Common Format and MIME Type for CSV Files, October
// 2005), section 2, rules 1, 2, 5, 6 and 7.
func TestExamplesOfRFC4180(t *testing.T) {
	for _, tc := range []struct {
		name, text string
		want       [][]string
	}{
		{"rule 1", "aaa,bbb,ccc\r\nzzz,yyy,xxx\r\n", [][]string{{"aaa", "bbb", "ccc"}, {"zzz", "yyy", "xxx"}}},
		{"rule 2", "aaa,bbb,ccc\r\nzzz,yyy,xxx", [][]string{{"aaa", "bbb", "ccc"}, {"zzz", "yyy", "xxx"}}},
		{"rule 5", "\"aaa\",\"bbb\",\"ccc\"\r\nzzz,yyy,xxx", [][]string{{"aaa", "bbb", "ccc"}, {"zzz", "yyy", "xxx"}}},
		{"rule 6", "\"aaa\",\"b\r\nbb\",\"ccc\"\r\nzzz,yyy,xxx", [][]string{{"aaa", "b\r\nbb", "ccc"}, {"zzz", "yyy", "xxx"}}},
		{"rule 7", "\"aaa\",\"b\"\"bb\",\"ccc\"", [][]string{{"aaa", `b"bb`, "ccc"}}},
	} {
		got, _ := cellsOf(tc.text, ',', 3)
		if d := cmp.Diff(tc.want, got); d != "" {
			t.Errorf("%s (-want +got):\n%s", tc.name, d)
		}
	}
}

func TestEveryKindOfLineEndGivesTheSameRecords(t *testing.T) {
	want := [][]string{{"a", "b"}, {"c", ""}, {"", "d"}}
	for name, end := range map[string]string{"LF": "\n", "CRLF": "\r\n", "CR": "\r", "CR CR LF": "\r\r\n"} {
		text := strings.Join([]string{"a,b", "c,", ",d"}, end)
		for _, last := range []string{"", end} {
			got, records := cellsOf(text+last, ',', 2)
			if d := cmp.Diff(want, got); d != "" {
				t.Errorf("%s (-want +got):\n%s", name, d)
			}
			for i, r := range records {
				if int(r.Line) != i+1 || r.Lines != 1 {
					t.Errorf("%s: record %d lies on line %d", name, i, r.Line)
				}
			}
		}
	}
}

func TestAQuoteThatIsNeverClosedCostsItsOwnRowOnly(t *testing.T) {
	var b strings.Builder
	for i := range 1000 {
		if i == 550 {
			fmt.Fprintf(&b, "N-%d,\"bore 54,5.00\n", i)
			continue
		}
		fmt.Fprintf(&b, "N-%d,3/4\" bore,5.00\n", i)
	}
	_, records := cellsOf(b.String(), ',', 3)
	var bad []int
	for _, r := range records {
		if r.Fault != NoFault || r.Width != 3 {
			bad = append(bad, int(r.Line))
		}
	}
	if len(records) != 1000 || !slices.Equal(bad, []int{551}) {
		t.Errorf("%d records, damaged lines %v", len(records), bad)
	}
}

func TestQuotesAreJudgedByTheRowTheyMake(t *testing.T) {
	for _, tc := range []struct {
		name, text string
		faults     []Fault
		lines      []int
	}{
		{"text of three lines", "a,b,c\n1,\"x\ny\nz\",2\n3,4,5\n", []Fault{NoFault, NoFault, NoFault}, []int{1, 2, 5}},
		{"first cell of two lines", "a,b,c\n\"x\ny\",1,2\n", []Fault{NoFault, NoFault}, []int{1, 2}},
		{"lines inside look like rows", "a,b,c\n1,\"x\n4,5,6\ny\",2\n7,8,9\n", []Fault{NoFault, QuoteBlock, NoFault}, []int{1, 2, 5}},
		{"two inch marks on neighbouring rows", "a,b,c\n1,\"3/4 in,2\n3,bore 3/4\",4\n5,6,7\n", []Fault{NoFault, QuoteBlock, NoFault}, []int{1, 2, 4}},
		{"joined row has another width", "a,b,c\n1,\"x\ny\"\n3,4,5\n", []Fault{NoFault, QuoteOpen, NoFault, NoFault}, []int{1, 2, 3, 4}},
		{"text behind the closing quote", "a,b,c\n1,\"x\"y,2\n", []Fault{NoFault, QuoteStray}, []int{1, 2}},
		{"open in the last row", "a,b,c\n1,2,3\n4,\"5,6", []Fault{NoFault, NoFault, QuoteOpen}, []int{1, 2, 3}},
	} {
		_, records := cellsOf(tc.text, ',', 3)
		var faults []Fault
		var lines []int
		for _, r := range records {
			faults, lines = append(faults, r.Fault), append(lines, int(r.Line))
		}
		if !slices.Equal(faults, tc.faults) || !slices.Equal(lines, tc.lines) {
			t.Errorf("%s: faults %v on lines %v, want %v on %v", tc.name, faults, lines, tc.faults, tc.lines)
		}
	}
}

// On sheets that the standard library's writer makes, the cells are those that
// its reader reads (package encoding/csv of the Go distribution).
func TestWellFormedSheetsReadLikeEncodingCSV(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		width := rapid.IntRange(2, 5).Draw(t, "width")
		cell := rapid.StringMatching(`[a-c"éø .;-]{0,6}`)
		rows := rapid.SliceOfN(rapid.SliceOfN(cell, width, width), 1, 8).Draw(t, "rows")
		for _, row := range rows {
			row[0] = "x" + row[0] // no blank rows: encoding/csv drops them
			if rapid.Bool().Draw(t, "several lines") {
				row[width-1] += "\nand\nmore"
			}
		}
		delim := rapid.SampledFrom([]byte{',', ';', '\t', '|'}).Draw(t, "separator")
		var b bytes.Buffer
		w := csv.NewWriter(&b)
		w.Comma, w.UseCRLF = rune(delim), false
		if err := w.WriteAll(rows); err != nil {
			t.Fatal(err)
		}
		r := csv.NewReader(bytes.NewReader(b.Bytes()))
		r.Comma = rune(delim)
		want, err := r.ReadAll()
		if err != nil {
			t.Fatal(err)
		}
		got, _ := cellsOf(b.String(), delim, width)
		if d := cmp.Diff(want, got); d != "" {
			t.Fatalf("%q (-encoding/csv +ours):\n%s", b.String(), d)
		}
	})
}
