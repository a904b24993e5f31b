package importers

import (
	"bufio"
	"bytes"
	"encoding/csv"
	"fmt"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"
)

func seedDamaged(f *testing.F, add func([]byte)) {
	names, err := filepath.Glob(filepath.Join(tortureDir, "*.csv"))
	if err != nil || len(names) == 0 {
		f.Fatal("no damaged sheets", err)
	}
	for _, name := range names {
		raw, err := os.ReadFile(name)
		if err != nil {
			f.Fatal(err)
		}
		add(raw[:min(len(raw), 4<<10)])
	}
	for _, s := range []string{"", "\"", "a\r\r\nb", "a,\"b\nc,d\n\"e", "\xEF\xBB\xBF\"x\",y\r\n1,\"2\"3\n", "sep=;\nnumber;price\n1;2",
		"number\n\x1a", ",\"\n,\"", "\xFF\xFEa\x00,\x00b", "\xFE\xFF\x00a\xD8\x00", "a, b\n\"1\" , 2,\n", "'a','b'\n'1''','2'\n", "a,b\n\"\\\"\",\\\n", "a;=\"\"\n"} {
		add([]byte(s))
	}
}

// fuzzedSettings are the profiles under which any bytes must add up.
var fuzzedSettings = []Settings{nil, {"separator": "comma-space", "escape": "backslash"}, {"quote": "single", "header": "none"},
	{"quote": "none", "tail": "trimmed"}, {"encoding": "dos-850", "limit-line": "40", "limit-field": "8"}, {"encoding": "utf-16le", "limit-columns": "3", "header": "1-2"}}

// F1, F2, F3 and F14: any bytes are refused with a sentence, or their lines lie
// end to end in the file, every one with a class, and every row imported or
// held; the spans together are the file; the cells are text, as many as were
// counted; and reading again, now by
// pages out of a file, finds the same.
func FuzzOpen(f *testing.F) {
	seedDamaged(f, func(raw []byte) {
		for k := range fuzzedSettings {
			f.Add(raw, uint8(k))
			f.Add(raw, uint8(k+len(fuzzedSettings)*30))
		}
	})
	voc := testVocabulary(f)
	f.Fuzz(func(t *testing.T, raw []byte, profile uint8) {
		set := fuzzedSettings[int(profile)%len(fuzzedSettings)]
		in, err := inspect(voc, "fuzz.csv", raw, set)
		if err != nil {
			if in.Sheet != nil || err.Error() == "" {
				t.Fatalf("an error beside a sheet: %v", err)
			}
			return
		}
		var joined []byte
		for span := range in.Sheet.Spans(nil) {
			joined = append(joined, in.Sheet.raw.slice(int(span.Offset), int(span.Offset+span.Length))...)
		}
		if !bytes.Equal(joined, in.Sheet.raw.bytes()) {
			t.Fatal("the spans are not the file")
		}
		for i, r := range in.Sheet.Records() {
			cells := in.Sheet.Cells(i, nil)
			if len(cells) != int(r.Width) {
				t.Fatalf("record %d counts %d cells and has %d: %q", i, r.Width, len(cells), in.Sheet.Text(i))
			}
			for _, c := range cells {
				if r.Fault == NoFault && strings.ToValidUTF8(c, "") != c {
					t.Fatalf("record %d holds what is no text: %q", i, c)
				}
			}
			if r.Class == ClassData && r.Fault == NoFault && strings.Contains(strings.Join(cells, ""), "\uFFFD") {
				t.Fatalf("record %d lets a lost letter in: %q", i, cells)
			}
		}
		again, err := inspectFile(voc, "fuzz.csv", bytes.NewReader(raw), smallPages(1+int(profile)/len(fuzzedSettings)), set)
		if err != nil || describeInspection(again) != describeInspection(in) {
			t.Fatalf("read again: %v\n%s", err, cmp.Diff(describeInspection(in), describeInspection(again)))
		}
	})
}

var commaSheet = Dialect{Delimiter: ",", Quote: '"'}

// F4: what strict encoding/csv of the Go distribution reads with one width, we
// read the same, but for lone CR, CRLF inside quotes and blank lines. A block
// that we hold in doubt is no other reading.
func FuzzStrictCSV(f *testing.F) {
	seedDamaged(f, func(raw []byte) { f.Add(raw) })
	f.Fuzz(func(t *testing.T, raw []byte) {
		want, err := csv.NewReader(bytes.NewReader(raw)).ReadAll()
		if err != nil || len(want) == 0 || len(want[0]) < 2 || bytes.Contains(raw, []byte("\r")) {
			return
		}
		for len(raw) > 0 && raw[0] == '\n' {
			raw = raw[1:]
		}
		rows, records := cellsIn(string(raw), commaSheet, len(want[0]))
		var got [][]string
		for i, r := range records {
			if r.Fault != NoFault {
				return
			}
			if !(r.Width == 1 && rows[i][0] == "") {
				got = append(got, rows[i])
			}
		}
		if d := cmp.Diff(want, got); d != "" {
			t.Fatalf("%q (-encoding/csv +ours):\n%s", raw, d)
		}
	})
}

// F5: what WriteRows writes is read back cell by cell.
func FuzzWriteRows(f *testing.F) {
	f.Add("a", "b,c", "\"", "d\ne")
	f.Add("", "'", "\r", "\r\n\"\"")
	f.Add("=1", " x ", "\t", ";|")
	voc := testVocabulary(f)
	f.Fuzz(func(t *testing.T, a, b, c, d string) {
		rows := [][]string{{"k1", a, b}, {"k2", c, d}, {"k3", a, d}}
		raw := "number,notes,description\r\n" + written(rows)
		in, err := inspect(voc, "rows.csv", []byte(raw), Settings{"separator": "comma", "quote": "double", "header": "1"})
		if err != nil || in.Counts.Held > 0 || in.Sheet.Encoding != utf8Name || in.Counts.Classes["data"] != 3 {
			return // held in doubt, or text that is none
		}
		var got [][]string
		for _, cells := range in.Rows() {
			got = append(got, slices.Clone(cells))
		}
		if diff := cmp.Diff(rows, got); diff != "" {
			t.Fatalf("%q (-written +read):\n%s", raw, diff)
		}
		var out bytes.Buffer
		if err := in.WriteRows(&out, true); err != nil || out.String() != raw {
			t.Fatalf("%v: %q was written again as %q", err, raw, out.String())
		}
	})
}

// structureOf reads text in a fixed profile: the verdict and the cells of the
// record that starts on each line of the sheet.
func structureOf(text string, width int) map[int]string {
	rows, records := cellsIn(text, commaSheet, width)
	shape := map[int]string{}
	for i, r := range records {
		verdict := "held"
		if r.Fault == NoFault && int(r.Width) == width {
			verdict = fmt.Sprintf("%q", rows[i])
		}
		shape[int(r.Line)] = verdict
	}
	return shape
}

// F6: a line without quotes put between two records changes no other record.
func FuzzInsertLine(f *testing.F) {
	f.Add("a,\"b\nc\"\nd,e\nf,\"g,h\"\n", uint8(1))
	f.Add("a,\"b\nc,d\n\"e,f\n", uint8(2))
	f.Fuzz(func(t *testing.T, text string, at uint8) {
		if strings.Contains(text, "\r") || !strings.HasSuffix(text, "\n") || strings.Count(text, "\n") > 20 {
			return
		}
		_, records := cellsIn(text, commaSheet, 2)
		k := int(at) % (len(records) + 1)
		off, line := len(text), strings.Count(text, "\n")+1
		if k < len(records) {
			off, line = int(records[k].Offset), int(records[k].Line)
		}
		if k > 0 && records[k-1].Fault != NoFault || strings.Contains(text[:off], "\"") && anyFault(records) {
			return // the line would stand inside a doubt
		}
		before, after := structureOf(text, 2), structureOf(text[:off]+"new key,1\n"+text[off:], 2)
		if after[line] != `["new key" "1"]` {
			t.Fatalf("the new line %d is %s", line, after[line])
		}
		for l, want := range before {
			got := after[l]
			if l >= line {
				got = after[l+1]
			}
			if got != want {
				t.Fatalf("%q, line %d: %s became %s", text, l, want, got)
			}
		}
	})
}

func anyFault(records []Record) bool {
	return slices.ContainsFunc(records, func(r Record) bool { return r.Fault != NoFault })
}

// F7: a stray quote put into one row never changes the content of another row
// that is imported. It may hold others with it.
func FuzzStrayQuote(f *testing.F) {
	f.Add("a", "b", "c d", "1\" x", uint16(3))
	f.Add("x,y", "p\"", ",x", "z", uint16(17))
	f.Add("0", `\n`, "\x01\x01\x01\x01\x01\x01", " \x14\x14\x14\x14\x14\xd1{", uint16(1))
	f.Fuzz(func(t *testing.T, a, b, c, d string, at uint16) {
		for _, cell := range []string{a, b, c, d} {
			if strings.ContainsAny(cell, "\r\n") {
				return
			}
		}
		rows := [][]string{{"k1", a, b}, {"k2", c, d}, {"k3", b, c}, {"k4", d, a}, {"k5", a, c}}
		text := strings.ReplaceAll(written(rows), "\r\n", "\n")
		pos := int(at) % len(text)
		line := 1 + strings.Count(text[:pos], "\n")
		before, after := structureOf(text, 3), structureOf(text[:pos]+"\""+text[pos:], 3)
		for l, got := range after {
			if l != line && got != "held" && got != before[l] {
				t.Fatalf("a quote on line %d of %q made line %d %s out of %s", line, text, l, got, before[l])
			}
		}
		// In the quoted cells a backslash that stands in the sheet is two of them.
		if got := after[line]; got != "held" && strings.Contains(strings.ReplaceAll(got, `\\`, ""), `\n`) {
			t.Fatalf("a quote on line %d of %q swallowed lines: %s", line, text, got)
		}
	})
}

// F8: rows in another order are the same rows.
func FuzzShuffle(f *testing.F) {
	f.Add("a", "b,c", "\"d\"", uint8(7))
	f.Fuzz(func(t *testing.T, a, b, c string, order uint8) {
		rows := [][]string{{"k1", a, b}, {"k2", c, a}, {"k3", b, c}, {"k4", a, c}}
		straight, records := cellsIn(written(rows), commaSheet, 3)
		if anyFault(records) {
			return
		}
		shuffled := slices.Clone(rows)
		for i := range shuffled {
			j := (i + int(order)*(i+1)) % len(shuffled)
			shuffled[i], shuffled[j] = shuffled[j], shuffled[i]
		}
		other, records := cellsIn(written(shuffled), commaSheet, 3)
		if anyFault(records) {
			return
		}
		byKey := func(x, y []string) int { return strings.Compare(x[0], y[0]) }
		slices.SortFunc(straight, byKey)
		slices.SortFunc(other, byKey)
		if d := cmp.Diff(straight, other); d != "" {
			t.Fatal(d)
		}
	})
}

// written are rows in the form of RFC 4180.
func written(rows [][]string) string {
	var b strings.Builder
	w := bufio.NewWriter(&b)
	for _, r := range rows {
		writeRecord(w, r)
	}
	w.Flush()
	return b.String()
}
