package sqlite

import (
	"context"
	"fmt"
	"strings"
	"testing"

	"fitfill/catalog"
	"fitfill/catalog/units"
)

func newStore(t *testing.T) *Store {
	t.Helper()
	s, err := Open(t.TempDir())
	if err != nil {
		t.Fatal(err)
	}
	t.Cleanup(func() { s.Close() })
	return s
}

type sheet struct {
	info SheetInfo
	rows []catalog.SheetRow
	held []catalog.HeldRow
}

// supplierSheet builds a sheet with one line per part; each line is
// "number;rating in °C;engine", an empty cell states nothing.
func supplierSheet(supplier, name string, lines ...string) sheet {
	raw := "number;rating;engine\n" + strings.Join(lines, "\n") + "\n"
	sh := sheet{info: SheetInfo{
		Supplier: supplier, Kind: catalog.SupplierSheet, Name: name, SHA256: fmt.Sprintf("%x", raw), File: strings.NewReader(raw),
		Mapping: "{}", Fields: []string{"number", "opening_temp", "engine"}, ImportedAt: "2026-01-02T03:04:05Z",
	}}
	for i, l := range lines {
		cells := strings.Split(l, ";")
		row := &catalog.PartRow{Number: cells[0]}
		if cells[1] != "" {
			var c float64
			fmt.Sscan(cells[1], &c)
			row.Facts = append(row.Facts, catalog.Fact{Field: "opening_temp", Int: units.Celsius(c).MilliCelsius(), Text: cells[1]})
		}
		if cells[2] != "" {
			row.Fitments = append(row.Fitments, catalog.Fitment{Make: "Tarn", Engine: cells[2]})
		}
		sh.rows = append(sh.rows, catalog.SheetRow{Line: i + 2, Part: row})
	}
	return sh
}

func (sh sheet) load(t *testing.T, s *Store) (replaced []Replaced, changes Changes, docs []string) {
	t.Helper()
	ctx := context.Background()
	lock, err := s.LockImports()
	if err != nil {
		t.Fatal(err)
	}
	defer lock.Unlock()
	st, err := s.NewStage(ctx, lock, sh.info)
	if err != nil {
		t.Fatal(err)
	}
	defer st.Discard()
	for _, r := range sh.rows {
		if err := st.Add(ctx, r); err != nil {
			t.Fatal(err)
		}
	}
	replaced, changes, err = st.Plan(ctx)
	if err != nil {
		t.Fatal(err)
	}
	err = st.SearchDocs(ctx, func(d catalog.SearchDoc) error {
		docs = append(docs, d.Key+" "+strings.Join(d.Engines, ","))
		return nil
	})
	if err != nil {
		t.Fatal(err)
	}
	counts := Counts{Read: len(sh.rows) + len(sh.held), Taken: len(sh.rows), Held: len(sh.held)}
	if _, err := st.Commit(ctx, counts, sh.held, "folder-"+sh.info.Name); err != nil {
		t.Fatal(err)
	}
	if err := s.Purge(ctx, lock); err != nil {
		t.Fatal(err)
	}
	return replaced, changes, docs
}

func listed(t *testing.T, s *Store, engine string) map[string]string {
	t.Helper()
	got := map[string]string{}
	err := s.View(context.Background(), func(v *View) error {
		ctx := context.Background()
		fits, err := v.ListedFor(ctx, []string{catalog.Key(engine)})
		if err != nil {
			return err
		}
		var ids []int64
		for id := range fits {
			ids = append(ids, id)
		}
		parts, err := v.Parts(ctx, ids)
		if err != nil {
			return err
		}
		for _, p := range parts {
			text, err := v.TextAt(ctx, fits[p.ID][0].Origin)
			if err != nil {
				return err
			}
			got[p.Supplier+" "+p.Number] = fmt.Sprintf("%s @%d %s", p.OpeningTemp.Text, fits[p.ID][0].Origin.Line, text)
		}
		return nil
	})
	if err != nil {
		t.Fatal(err)
	}
	return got
}
