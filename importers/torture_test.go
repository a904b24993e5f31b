package importers

import (
	"bytes"
	"compress/gzip"
	goflag "flag"
	"fmt"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"sync"
	"testing"

	"fitfill/data"

	"github.com/google/go-cmp/cmp"
)

var update = goflag.Bool("update", false, "write the golden files of the damaged sheets anew")

const tortureDir = "../testdata/sheets/torture"

// damagedSheet is one sheet with a defect, and what reading must make of it:
// how many spans of each class, which lines are held and why, what is asked and
// noted. The golden file beside it has the ledger and the rows.
type damagedSheet struct {
	name     string
	classes  string
	held     string
	ask      string
	notes    string
	settings Settings
	raw      func() []byte // instead of a file, where the sheet is large
	variants string        // L other line ends, G inside gzip, B with a byte order mark
	why      string        // why a variant is left out
}

func damagedSheets() []damagedSheet {
	return []damagedSheet{
		{name: "01-plain", classes: "data 3, header 1", variants: "LGB"},
		{name: "02-crlf", classes: "data 3, header 1", variants: "LGB"},
		{name: "03-cr", classes: "data 3, header 1", variants: "LGB"},
		{name: "04-mixed-ends", classes: "data 3, header 1", variants: "LGB"},
		{name: "05-no-final-end", classes: "data 3, header 1", variants: "LGB"},
		{name: "06-blank-end", classes: "blank 2, data 3, header 1", variants: "LGB"},
		{name: "08-header-only", classes: "header 1", variants: "LGB"},
		{name: "09-one-row", classes: "data 1, header 1", variants: "LGB"},
		{name: "10-bom-quoted-header", classes: "data 1, header 1", variants: "LG", why: "it has a byte order mark"},
		{name: "11-bom-spaced-header", classes: "data 1, header 1", variants: "LG", why: "it has a byte order mark"},
		{name: "12-utf16le-bom", classes: "data 3, header 1", variants: "G", why: "bytes of UTF-16 are no lines, and it has a mark"},
		{name: "13-utf16be-plain", classes: "data 3, header 1", variants: "G", why: "bytes of UTF-16 are no lines, and a UTF-8 mark would be a lie"},
		{name: "14-windows-1252", classes: "data 1000, header 1", ask: "encoding", variants: "LG", why: "a UTF-8 mark would be a lie"},
		{name: "15-windows-1250", classes: "data 3, header 1", ask: "encoding", variants: "LG", why: "a UTF-8 mark would be a lie"},
		{name: "15-windows-1250", classes: "data 3, header 1", settings: Settings{"encoding": "windows-1250"}, variants: "LG", why: "a UTF-8 mark would be a lie"},
		{name: "16-one-1252-line", classes: "data 4, header 1", held: "4 encoding-error", variants: "LGB"},
		{name: "17-twice-encoded", classes: "data 3, header 1", ask: "twice-encoded", notes: "twice-encoded", variants: "LGB"},
		{name: "17-twice-encoded", classes: "data 3, header 1", settings: Settings{"encoding": "utf-8-twice"}, variants: "LGB"},
		{name: "18-decimal-comma", classes: "data 3, header 1", variants: "LGB"},
		{name: "19-tabs", classes: "data 3, header 1", variants: "LGB"},
		{name: "20-pipes", classes: "data 3, header 1", variants: "LGB"},
		{name: "21-sep-hint", classes: "data 3, dialect-hint 1, header 1", variants: "LGB"},
		{name: "22-title-lines", classes: "blank 1, data 3, header 1, preamble 4", variants: "LGB"},
		{name: "23-two-row-header", classes: "data 2, header 2", ask: "heading-rows", variants: "LGB"},
		{name: "24-no-header", classes: "data 3", ask: "no-heading", variants: "LGB"},
		{name: "25-repeated-header", classes: "data 120, header 1, repeated-header 2", variants: "LGB"},
		{name: "26-second-table", classes: "blank 1, data 6, header 1", held: "6 other-table, 7 other-table, 8 other-table", notes: "other-table", variants: "LGB"},
		{name: "27-sections", classes: "data 3, header 1, section 2", notes: "sections", variants: "LGB"},
		{name: "28-total", classes: "data 3, footer 1, header 1", variants: "LGB"},
		{name: "29-double-same", classes: "data 2, header 1", notes: "duplicate-label", variants: "LGB"},
		{name: "30-double-empty", classes: "data 2, header 1", notes: "duplicate-label", variants: "LGB"},
		{name: "31-blank-heading", classes: "data 2, header 1", notes: "blank-label", variants: "LGB"},
		{name: "32-empty-columns", classes: "data 2, header 1", notes: "blank-column, blank-column, blank-column", variants: "LGB"},
		{name: "33-extra-cell", classes: "data 3, header 1", held: "3 extra-cell", variants: "LGB"},
		{name: "34-extra-empty", classes: "data 3, header 1", variants: "LGB"},
		{name: "35-merged-cells", classes: "data 4, header 1", held: "3 missing-cell", variants: "LGB"},
		{name: "36-trimmed-tails", classes: "data 5, header 1", ask: "tail", variants: "LGB"},
		{name: "36-trimmed-tails", classes: "data 5, header 1", settings: Settings{"tail": "hold"}, notes: "separator-doubt",
			held: "3 missing-cell, 4 missing-cell, 5 missing-cell, 6 missing-cell", variants: "LGB"},
		{name: "37-comma-in-comma", classes: "data 3, header 1", held: "2 extra-cell, 3 extra-cell, 4 extra-cell", variants: "LGB"},
		{name: "38-inch-marks", classes: "data 3, header 1", variants: "LGB"},
		{name: "39-stray-quote", classes: "data 1000, header 1", held: "551 quote-open", raw: strayQuote, variants: "LGB"},
		{name: "40-three-lines", classes: "data 5, header 1", variants: "LGB"},
		{name: "41-open-in-last-row", classes: "data 3, header 1", held: "4 quote-open", variants: "LGB"},
		{name: "42-backslash-quotes", classes: "data 3, header 1", variants: "LGB"},
		{name: "43-apostrophe-quotes", classes: "data 3, header 1", variants: "LGB"},
		{name: "44-control-characters", classes: "data 3, header 1", held: "3 control-char", notes: "end-of-file", variants: "GB", why: "a line end behind 0x1A is text"},
		{name: "45-long-field", classes: "data 3, header 1", held: "3 field-too-long", raw: longField, variants: "LGB"},
		{name: "46-endless-line", classes: "data 2, header 1", held: "3 line-too-long", raw: endlessLine, variants: "LB", why: "so long a run of one letter is stopped as an archive made to do harm"},
	}
}

func strayQuote() []byte {
	var b bytes.Buffer
	b.WriteString("Part,Description,Price\n")
	for i := 1; i <= 1000; i++ {
		if i == 550 {
			fmt.Fprintf(&b, "N-%d,\"bore 54,5.00\n", i)
			continue
		}
		fmt.Fprintf(&b, "N-%d,3/4\" bore,5.00\n", i)
	}
	return b.Bytes()
}

func longField() []byte {
	return []byte("Part;Description;Price\nA-1;Hose;1.00\nA-2;\"" + strings.Repeat("x", 70<<10) + "\";2.00\nA-3;Cap;3.00\n")
}

func endlessLine() []byte {
	return []byte("Part;Description;Price\nA-1;Hose;1.00\nA-2;" + strings.Repeat("x", 3<<20))
}

func (d damagedSheet) bytes(t *testing.T) []byte {
	t.Helper()
	if d.raw != nil {
		return d.raw()
	}
	raw, err := os.ReadFile(filepath.Join(tortureDir, d.name+".csv"))
	if err != nil {
		t.Fatal(err)
	}
	return raw
}

var onceVocabulary = sync.OnceValues(func() (*vocabulary, error) {
	ref, err := data.Reference()
	if err != nil {
		return nil, err
	}
	return newVocabulary(ref)
})

func testVocabulary(t testing.TB) *vocabulary {
	t.Helper()
	voc, err := onceVocabulary()
	if err != nil {
		t.Fatal(err)
	}
	return voc
}

// inspect is Inspect for a sheet in memory.
func inspect(voc *vocabulary, name string, raw []byte, settings Settings) (in Inspection, err error) {
	return inspectFile(voc, name, bytes.NewReader(raw), storage{keep: len(raw)}, settings)
}

func TestDamagedSheetsAreReadOrHeld(t *testing.T) {
	for _, d := range damagedSheets() {
		title := d.name
		for _, k := range []string{"encoding", "tail"} {
			if d.settings[k] != "" {
				title += "-" + d.settings[k]
			}
		}
		t.Run(title, func(t *testing.T) {
			raw := d.bytes(t)
			in, err := inspect(testVocabulary(t), d.name+".csv", raw, d.settings)
			if err != nil {
				t.Fatal(err)
			}
			got := outcome(in)
			want := []string{d.classes, d.held, d.ask, d.notes}
			if diff := cmp.Diff(want, got); diff != "" {
				t.Errorf("classes, held, asked, notes (-want +got):\n%s", diff)
			}
			golden(t, title, describeInspection(in))
			if strings.ContainsRune(describeInspection(in), '\uFFFD') {
				t.Error("U+FFFD in what was read")
			}
			d.again(t, raw, in)
		})
	}
}

// again reads the sheet in its variants: the lines must have the same classes
// and verdicts, and the rows the same cells.
func (d damagedSheet) again(t *testing.T, raw []byte, first Inspection) {
	variants := map[string][]byte{"the same bytes": raw}
	if strings.Contains(d.variants, "L") {
		plain := bytes.ReplaceAll(raw, []byte("\r\r\n"), []byte("\n"))
		plain = bytes.ReplaceAll(bytes.ReplaceAll(plain, []byte("\r\n"), []byte("\n")), []byte("\r"), []byte("\n"))
		for _, end := range []string{"\n", "\r\n", "\r", "\r\r\n"} {
			variants[fmt.Sprintf("line ends %q", end)] = bytes.ReplaceAll(plain, []byte("\n"), []byte(end))
		}
	}
	if strings.Contains(d.variants, "G") {
		var b bytes.Buffer
		w := gzip.NewWriter(&b)
		w.Write(raw)
		w.Close()
		variants["inside gzip"] = b.Bytes()
	}
	if strings.Contains(d.variants, "B") {
		variants["with a byte order mark"] = append([]byte("\xEF\xBB\xBF"), raw...)
	}
	if len(d.variants) < 3 && d.why == "" {
		t.Error("a variant is left out without a reason")
	}
	want := linesOf(first)
	for name, bytes := range variants {
		in, err := inspect(testVocabulary(t), d.name+".csv", bytes, d.settings)
		if err != nil {
			t.Errorf("%s: %v", name, err)
			continue
		}
		if diff := cmp.Diff(want, linesOf(in)); diff != "" {
			t.Errorf("%s (-want +got):\n%s", name, diff)
		}
		for _, page := range []int{7, 90} {
			d.inPages(t, name, bytes, page, in)
		}
	}
}

// inPages reads a variant out of a file by pages: everything must be as it is in
// memory, and the spans the bytes of the file.
func (d damagedSheet) inPages(t *testing.T, variant string, raw []byte, page int, inMemory Inspection) {
	t.Helper()
	in, err := inspectFile(testVocabulary(t), d.name+".csv", bytes.NewReader(raw), smallPages(page), d.settings)
	if err != nil {
		t.Errorf("%s in pages of %d bytes: %v", variant, page, err)
		return
	}
	if diff := cmp.Diff(describeInspection(inMemory), describeInspection(in)); diff != "" {
		t.Errorf("%s in pages of %d bytes (-in memory +in pages):\n%s", variant, page, diff)
	}
	if diff := cmp.Diff(slices.Collect(inMemory.Sheet.Spans(nil)), slices.Collect(in.Sheet.Spans(nil))); diff != "" || in.SHA256 != inMemory.SHA256 {
		t.Errorf("%s in pages of %d bytes, spans (-in memory +in pages):\n%s", variant, page, diff)
	}
	if err := in.Close(); err != nil {
		t.Error(err)
	}
}
