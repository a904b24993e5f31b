package demo_test

import (
	"encoding/csv"
	"os"
	"slices"
	"strings"
	"testing"

	"fitfill/catalog"
	"fitfill/data"
	"fitfill/data/demo"
	"fitfill/importers"
)

// take imports a sheet of the demo garage by its own arguments.
func take(t *testing.T, s demo.Sheet) ([]catalog.SheetRow, importers.Report) {
	t.Helper()
	ref, err := data.Reference()
	if err != nil {
		t.Fatal(err)
	}
	raw, err := demo.FS.ReadFile(s.File)
	if err != nil {
		t.Fatal(err)
	}
	return takeBytes(t, ref, s, s.File, raw)
}

// takeBytes imports a file by the arguments of a sheet of the demo garage.
func takeBytes(t *testing.T, ref catalog.Reference, s demo.Sheet, name string, raw []byte) ([]catalog.SheetRow, importers.Report) {
	t.Helper()
	opt := importers.Options{Maps: pairs(t, s.Maps), Ignore: s.Ignore, Settings: pairs(t, s.Set)}
	sheet, err := importers.Open(ref, name, raw, opt.Settings)
	if err != nil {
		t.Fatal(err)
	}
	mapping, questions := importers.Propose(ref, catalog.SheetKind(s.As), sheet, opt)
	for _, q := range questions {
		t.Errorf("%s asks: %s %v", name, q.Question, q.Choices)
	}
	var rows []catalog.SheetRow
	rep, err := importers.Read(ref, sheet, mapping, func(r catalog.SheetRow) error {
		rows = append(rows, r)
		return nil
	})
	if err != nil {
		t.Fatal(err)
	}
	return rows, rep
}

func pairs(t *testing.T, list []string) map[string]string {
	t.Helper()
	m := map[string]string{}
	for _, p := range list {
		k, v, ok := strings.Cut(p, "=")
		if !ok {
			t.Fatalf("%q is no pair", p)
		}
		m[k] = v
	}
	return m
}

// planted are the texts of the rows that must be held, by file.
var planted = map[string][]string{
	"quillmar.csv":              {"QM-4048"},
	"ostrel.csv":                {"1.80E+11", "11-04", "3-Oct"},
	"later/quillmar-2026-2.csv": {"9O", "9O", "2.41E+08", "2.41E+08", "3-Feb", "QM-4048"},
}

func TestEverySheetImportsWithoutAQuestionAndHoldsWhatIsPlanted(t *testing.T) {
	for _, s := range append(slices.Clone(demo.Sheets), demo.Later) {
		_, rep := take(t, s)
		if rep.RowsRead != rep.RowsTaken+rep.RowsHeld+rep.RowsSkipped {
			t.Errorf("%s: %d rows read, %d taken, %d held, %d skipped", s.File, rep.RowsRead, rep.RowsTaken, rep.RowsHeld, rep.RowsSkipped)
		}
		want := planted[s.File]
		if len(rep.Held) != len(want) {
			t.Errorf("%s holds %d rows, want %d: %+v", s.File, len(rep.Held), len(want), rep.Held)
			continue
		}
		held := slices.Clone(rep.Held)
		for _, w := range want {
			i := slices.IndexFunc(held, func(h catalog.HeldRow) bool { return strings.Contains(h.Text+h.Raw, w) })
			if i < 0 {
				t.Errorf("%s: no row is held for %q", s.File, w)
				continue
			}
			held = slices.Delete(held, i, i+1)
		}
	}
}

// shop is what is in the suppliers' and engines' sheets.
type shop struct {
	parts    map[string]string // key -> supplier
	engines  map[string]bool
	fitments int
	rows     map[string]int // by kind of sheet
}

func open(t *testing.T) shop {
	s := shop{map[string]string{}, map[string]bool{}, 0, map[string]int{}}
	for _, sheet := range demo.Sheets {
		rows, _ := take(t, sheet)
		s.rows[sheet.As] += len(rows)
		for _, r := range rows {
			switch {
			case r.Engine != nil:
				s.engines[r.Engine.Family] = true
			case r.Part != nil:
				s.parts[catalog.Key(r.Part.Number)] = sheet.Supplier
				s.fitments += len(r.Part.Fitments)
				for _, f := range r.Part.Fitments {
					s.engines[f.Engine] = true
				}
			}
		}
	}
	return s
}

func TestTheGarageIsLargeEnough(t *testing.T) {
	s := open(t)
	if len(s.parts) < 120 || s.fitments < 300 || len(s.engines) < 10 || s.rows["purchases"] < 2000 {
		t.Errorf("%d parts, %d fitments, %d engines, %d purchases", len(s.parts), s.fitments, len(s.engines), s.rows["purchases"])
	}
	sold := map[string]int{}
	for _, supplier := range s.parts {
		sold[supplier]++
	}
	if len(sold) < 5 {
		t.Errorf("%d suppliers: %v", len(sold), sold)
	}
}

func TestEveryPurchaseIsOfAPartOnAList(t *testing.T) {
	s := open(t)
	for _, sheet := range demo.Sheets {
		if sheet.As != "purchases" && sheet.As != "returns" && sheet.As != "fitted" {
			continue
		}
		rows, _ := take(t, sheet)
		for _, r := range rows {
			number, supplier := "", ""
			switch {
			case r.Purchase != nil:
				number, supplier = r.Purchase.Number, r.Purchase.Supplier
			case r.Return != nil:
				number, supplier = r.Return.Number, r.Return.Supplier
			case r.Fitted != nil:
				number, supplier = r.Fitted.Number, r.Fitted.Supplier
			}
			for _, a := range demo.Aliases {
				if supplier == a.Also {
					supplier = a.Supplier
				}
			}
			if s.parts[catalog.Key(number)] != supplier {
				t.Errorf("%s, line %d: %s is not on a list of %s", sheet.File, r.Line, number, supplier)
			}
		}
	}
}

func TestEveryCaseAsksAboutWhatIsThere(t *testing.T) {
	s := open(t)
	f, err := demo.FS.Open("cases.csv")
	if err != nil {
		t.Fatal(err)
	}
	defer f.Close()
	records, err := csv.NewReader(f).ReadAll()
	if err != nil {
		t.Fatal(err)
	}
	readme, err := os.ReadFile("README.md")
	if err != nil {
		t.Fatal(err)
	}
	seen := map[string]bool{}
	for _, r := range records[1:] {
		id, words := r[0], strings.Fields(r[2])
		if seen[id] || !strings.Contains(string(readme), "| "+id+" |") {
			t.Errorf("case %s stands twice, or not in README.md", id)
		}
		seen[id] = true
		if words[0] == "fit" && !s.engines[words[1]] && r[3] != "4" { // 4: cannot say which engine
			t.Errorf("case %s: engine %s is in no sheet", id, words[1])
		}
		for i, w := range words[:len(words)-1] {
			next := words[i+1]
			switch {
			case w == "--engine" && !s.engines[next]:
				t.Errorf("case %s: engine %s is in no sheet", id, next)
			case (w == "--part" || w == "--add" && next != "water" && !strings.HasPrefix(next, "approved:")) && s.parts[catalog.Key(next)] == "":
				t.Errorf("case %s: part %s is on no list", id, next)
			}
		}
		for _, o := range strings.Split(r[4], "|") {
			if (words[0] == "fit" || words[0] == "mix") && o != "" && !slices.Contains([]string{"yes", "no", "caution", "cannot-say"}, o) {
				t.Errorf("case %s expects %q", id, o)
			}
		}
	}
	for _, group := range []string{"Fit", "Mix", "Returns", "Sheets"} {
		if !slices.ContainsFunc(records, func(r []string) bool { return r[1] == group }) {
			t.Errorf("no case of group %s", group)
		}
	}
}
