package importers

import (
	"os"
	"path/filepath"
	"testing"

	"fitfill/catalog"
)

func seedSheets(f *testing.F) {
	names, err := filepath.Glob(filepath.Join("..", "testdata", "sheets", "*.?sv"))
	if err != nil || len(names) == 0 {
		f.Fatal("no sample sheets", err)
	}
	for _, name := range names {
		raw, err := os.ReadFile(name)
		if err != nil {
			f.Fatal(err)
		}
		f.Add(raw)
	}
	for _, s := range []string{"", "\"", "a\r\r\nb", "a,\"b\nc,d\n\"e", "\xEF\xBB\xBF\"x\",y\r\n1,\"2\"3\n", "sep=;\nnumber;price\n1;2", "number\n\x1a", ",\"\n,\"", "number;note\nA-1;=\"\"\n"} {
		f.Add([]byte(s))
	}
}

// For any bytes and any mapping that Propose makes, every row is accounted for,
// and what was taken can be kept by the catalogue.
func FuzzRead(f *testing.F) {
	seedSheets(f)
	voc := testVocabulary(f)
	f.Fuzz(func(t *testing.T, raw []byte) {
		s, err := openSheet(voc, "fuzz.csv", raw, nil)
		if err != nil {
			return
		}
		kind, _ := voc.guessKind(s.Header)
		m := suggestWith(voc, specOf(kind), s, Options{}).Mapping
		if lacksColumns(m) {
			return
		}
		taken := 0
		report, err := readWithVocabulary(voc, s, m, Options{}, func(r catalog.SheetRow) error {
			taken++
			if r.Part != nil {
				var p catalog.Part
				for _, fact := range r.Part.Facts {
					if err := p.Apply(fact); err != nil {
						t.Fatal(err)
					}
				}
				if catalog.Key(r.Part.Number) == "" {
					t.Fatalf("a part without a number on line %d", r.Line)
				}
			}
			return nil
		})
		if err != nil {
			t.Fatal(err)
		}
		if taken != report.RowsTaken || len(report.Held) != report.RowsHeld || len(report.Skipped) != report.RowsSkipped ||
			report.RowsRead != s.Rows() || report.RowsRead != report.RowsTaken+report.RowsHeld+report.RowsSkipped {
			t.Fatalf("%+v", report)
		}
		for _, h := range report.Held {
			if h.Code == "internal-bind" || h.Reason == "" {
				t.Fatalf("%+v", h)
			}
		}
	})
}

// readWithVocabulary is ReadWith without building the vocabulary anew, which would
// take most of the time of a fuzz run.
func readWithVocabulary(voc *vocabulary, s *Sheet, m Mapping, opt Options, emit func(catalog.SheetRow) error) (Report, error) {
	if err := m.fits(s); err != nil {
		return Report{}, err
	}
	r := &reading{src: &source{Sheet: s}, mapping: m, opt: opt, emit: emit, records: s.records.n, voc: voc}
	if err := r.run(nil); err != nil {
		return r.report, err
	}
	r.report.RowsRead = s.Rows()
	return r.close()
}

// lacksColumns reports whether a column that the kind needs was not found.
func lacksColumns(m Mapping) bool {
	for _, name := range specOf(m.Kind).required {
		if column(m, name).Index < 0 {
			return true
		}
	}
	return false
}
