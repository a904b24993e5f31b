package importers

import (
	"slices"
	"testing"

	"fitfill/catalog"
	"fitfill/catalog/units"
)

// F3: under any mapping, right or wrong, every row is taken, held or skipped,
// each line once, and nothing is bound that the program cannot keep.
func FuzzAnyMapping(f *testing.F) {
	seedSheets(f)
	voc := testVocabulary(f)
	units := []units.Unit{"", units.UnitMillimetre, units.UnitInch, units.UnitCelsius, units.UnitFahrenheit, units.UnitLitre, "kPa", "psi"}
	f.Fuzz(func(t *testing.T, raw []byte) {
		seed := uint32(2166136261)
		for _, b := range raw {
			seed = (seed ^ uint32(b)) * 16777619
		}
		pick := func(n int) int {
			seed = seed*1664525 + 1013904223
			return int(seed>>8) % n
		}
		s, err := openSheet(voc, "fuzz.csv", raw, fuzzedSettings[pick(len(fuzzedSettings))])
		if err != nil {
			return
		}
		k := kinds()[pick(len(kinds()))]
		m := Mapping{Kind: k.kind}
		free := slices.Clone(k.fields)
		for _, name := range k.required { // in front, so that a narrow sheet has them
			i := slices.IndexFunc(free, func(f field) bool { return f.name == name })
			free[0], free[i] = free[i], free[0]
		}
		for i := range s.Header {
			if len(free) == 0 || pick(5) == 0 && len(m.Columns) >= len(k.required) {
				continue
			}
			n := 0
			if len(m.Columns) >= len(k.required) {
				n = pick(len(free))
			} else {
				n = slices.IndexFunc(free, func(f field) bool { return f.name == k.required[len(m.Columns)] })
			}
			m.Columns = append(m.Columns, Column{Heading: s.columnName(i), Index: i, Field: free[n].name, Unit: units[pick(len(units))], Stated: pick(2) == 0,
				Currency: []string{"", "EUR"}[pick(2)], Decimal: []string{"", Comma, Point}[pick(3)], Mixed: pick(4) == 0, Dates: append(dateOrders, "")[pick(4)],
				Percent: []string{"", Hundred, Fraction}[pick(3)], Arrows: []string{"", "timeline", "compare"}[pick(3)], Pairs: []string{"", "month", "years"}[pick(3)],
				PointZero: []string{"", "strip", "keep"}[pick(3)], Pad: pick(12)})
			free = slices.Delete(free, n, n+1)
		}
		if lacksColumns(m) {
			return
		}
		seen := map[int]string{}
		once := func(line int, what string) {
			if seen[line] != "" || line < 1 {
				t.Fatalf("line %d is %s and %s", line, seen[line], what)
			}
			seen[line] = what
		}
		report, err := readWithVocabulary(voc, s, m, Options{}, func(r catalog.SheetRow) error {
			once(r.Line, "taken")
			return nil
		})
		if err != nil {
			t.Fatal(err)
		}
		for _, h := range report.Held {
			once(h.Line, "held")
			if h.Code == "internal-bind" || h.Code == "" || h.Reason == "" || h.Raw == "" {
				t.Fatalf("%+v", h)
			}
		}
		for _, k := range report.Skipped {
			once(k.Line, "skipped")
		}
		if len(seen) != s.Rows() || report.RowsRead != s.Rows() || report.RowsRead != report.RowsTaken+report.RowsHeld+report.RowsSkipped {
			t.Fatalf("%d rows, %d lines: %+v", s.Rows(), len(seen), report)
		}
		if _, err := CheckLedger(s.Spans(&report), s.File().Size(), &report); err != nil {
			t.Fatal(err)
		}
	})
}
