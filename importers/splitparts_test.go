package importers

import (
	"bytes"
	"slices"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"
	"pgregory.net/rapid"
)

// It makes no difference in how many parts at once, and in what pages, a text is cut
// into records, also where a part begins inside a cell of several lines.
func TestRecordsOfPartsAreThoseOfTheWhole(t *testing.T) {
	pieces := []string{"a;b;c\n", "1;\"two\nlines\";3\n", "1;\"x\n\n\n\ny\";3\r\n", "\"open;2;3\n", "4;5\"6;7\n", "\n", "\r", "8;9\r\r\n", "\"\";\"\";\"\"\n",
		strings.Repeat("long", 30) + "\n", "\"" + strings.Repeat("q\n", 60) + "\";1;2\n"}
	rapid.Check(t, func(t *rapid.T) {
		raw := strings.Join(rapid.SliceOfN(rapid.SampledFrom(pieces), 1, 60).Draw(t, "pieces"), "")
		width := rapid.SampledFrom([]int{0, 1, 3}).Draw(t, "width")
		limits := usualLimits()
		limits.line, limits.field = int64(rapid.SampledFrom([]int{50, 1000}).Draw(t, "line")), int64(rapid.SampledFrom([]int{5, 200}).Draw(t, "field"))
		records := func(whole *text, parts int) []Record {
			s := &Sheet{Encoding: utf8Name, text: whole, Dialect: Dialect{Delimiter: ";", Quote: '"'}, Delimiter: ';', sizes: limits}
			s.records = s.splitParts(width, whole.size, parts)
			var list []Record
			for _, r := range s.Records() {
				list = append(list, r)
			}
			return list
		}
		want := records(textOf([]byte(raw)), 1)
		var all []byte
		for _, r := range want {
			all = append(all, raw[r.Offset:r.Offset+int64(r.Length)]...)
		}
		if !bytes.Equal(all, []byte(raw)) {
			t.Fatalf("the records of %q are %q", raw, all)
		}
		for _, parts := range []int{2, 3, 7} {
			if got := records(textOf([]byte(raw)), parts); !slices.Equal(want, got) {
				t.Fatalf("%q in %d parts (-whole +parts):\n%s", raw, parts, cmp.Diff(want, got))
			}
			paged, err := textIn(bytes.NewReader([]byte(raw)), smallPages(rapid.IntRange(1, 40).Draw(t, "page")))
			if err != nil {
				t.Fatal(err)
			}
			if got := records(paged, parts); !slices.Equal(want, got) || paged.err() != nil {
				t.Fatalf("%q in %d parts by pages (%v, -whole +parts):\n%s", raw, parts, paged.err(), cmp.Diff(want, got))
			}
		}
	})
}
