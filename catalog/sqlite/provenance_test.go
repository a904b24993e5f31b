package sqlite

import (
	"context"
	"slices"
	"strings"
	"testing"

	"fitfill/catalog"
)

// A row that is lost, or comes to stand on another line, between the sheet and
// the catalogue stops the import, wherever it happens; nothing of it is kept.
func TestACommitThatLosesARowChangesNothing(t *testing.T) {
	ctx := context.Background()
	held := []catalog.HeldRow{{Line: 4, Code: "years", Reason: "the years run backwards", Raw: "T-300;;KR6"}}
	with := func(h catalog.HeldRow) []catalog.HeldRow { return []catalog.HeldRow{h} }
	for name, tc := range map[string]struct {
		staged string // done to the staging file before the commit
		live   string // done to the catalogue before the commit
		held   []catalog.HeldRow
		want   string
	}{
		"all is well":                  {held: held},
		"a staged fact is gone":        {staged: "DELETE FROM fact WHERE line = 2", held: held, want: "statements"},
		"a staged fact changed lines":  {staged: "UPDATE fact SET line = 3 WHERE line = 2", held: held, want: "statements"},
		"a staged fitment came twice":  {staged: "INSERT INTO fitment SELECT * FROM fitment", held: held, want: "statements"},
		"a fact is lost on the way":    {live: "CREATE TRIGGER t BEFORE INSERT ON fact WHEN new.line = 2 BEGIN SELECT raise(IGNORE); END", held: held, want: "1 of 2 rows came into the table fact"},
		"a fitment is lost on the way": {live: "CREATE TRIGGER t BEFORE INSERT ON fitment WHEN new.line = 3 BEGIN SELECT raise(IGNORE); END", held: held, want: "1 of 2 rows came into the table fitment"},
		"a part is lost on the way":    {live: "CREATE TRIGGER t BEFORE INSERT ON sheet_part WHEN new.sheet_id = 2 BEGIN SELECT raise(IGNORE); END", held: held, want: "0 of 2 parts"},
		"a held row is lost":           {live: "CREATE TRIGGER t BEFORE INSERT ON held BEGIN SELECT raise(IGNORE); END", held: held, want: "0 of 1 held rows"},
		"a held row without a reason":  {held: with(catalog.HeldRow{Line: 4, Code: "years", Raw: "T-300;;KR6"}), want: "no reason"},
		"a held row of another line":   {held: with(catalog.HeldRow{Line: 3, Code: "years", Reason: "why", Raw: "T-300;;KR6"}), want: "does not stand there"},
		"a held row past the end":      {held: with(catalog.HeldRow{Line: 9, Code: "years", Reason: "why", Raw: "T-300;;KR6"}), want: "no such line"},
	} {
		t.Run(name, func(t *testing.T) {
			s := newStore(t)
			supplierSheet("Ostrel", "a.csv", "T-100;82;KR6").load(t, s)
			if tc.live != "" {
				if _, err := s.write.Exec(tc.live); err != nil {
					t.Fatal(err)
				}
			}
			lock, err := s.LockImports()
			if err != nil {
				t.Fatal(err)
			}
			defer lock.Unlock()
			sh := supplierSheet("Ostrel", "b.csv", "T-100;95;KR6", "T-200;95;KR6", "T-300;;KR6")
			st, err := s.NewStage(ctx, lock, sh.info)
			if err != nil {
				t.Fatal(err)
			}
			defer st.Discard()
			for _, r := range sh.rows[:2] {
				if err := st.Add(ctx, r); err != nil {
					t.Fatal(err)
				}
			}
			if _, _, err := st.Plan(ctx); err != nil {
				t.Fatal(err)
			}
			if tc.staged != "" {
				if _, err := st.db.Exec(tc.staged); err != nil {
					t.Fatal(err)
				}
			}
			_, err = st.Commit(ctx, Counts{Read: 3, Taken: 2, Held: 1}, tc.held, "")
			got := listed(t, s, "KR6")["Ostrel T-100"]
			if tc.want == "" {
				if err != nil || !strings.HasPrefix(got, "95 ") {
					t.Errorf("%v; T-100 reads %q", err, got)
				}
				return
			}
			if err == nil || !strings.Contains(err.Error(), tc.want) || !strings.Contains(err.Error(), "nothing was imported") {
				t.Errorf("got %v, want %q", err, tc.want)
			}
			if !strings.HasPrefix(got, "82 ") {
				t.Errorf("a refused commit changed the catalogue: %q", got)
			}
		})
	}
}

func TestAnEngineNamedTwiceInOneRowIsOneStatement(t *testing.T) {
	s := newStore(t)
	sh := supplierSheet("Ostrel", "a.csv", "T-100;82;KR6")
	part := sh.rows[0].Part
	part.Fitments = append(part.Fitments, part.Fitments[0])
	sh.load(t, s)
	if got := listed(t, s, "KR6"); len(got) != 1 {
		t.Errorf("%v", got)
	}
}

func TestDamageInTheCatalogueIsFound(t *testing.T) {
	bought := sheet{info: SheetInfo{Kind: catalog.PurchasesSheet, Name: "bought.csv", SHA256: "b", File: strings.NewReader("b"), Mapping: "{}", ImportedAt: "2026-01-02T03:04:05Z"}}
	for i := range 3 {
		bought.rows = append(bought.rows, catalog.SheetRow{Line: i + 2, Purchase: &catalog.Purchase{Date: catalog.Date(i), Supplier: "Ostrel", Number: "T-100", Quantity: catalog.CountOf(1000)}})
	}
	for damage, want := range map[string]string{
		"":                                    "",
		"DELETE FROM purchase WHERE line = 3": "bought.csv) counts 3 rows taken, and 2 are kept",
		"UPDATE fact SET part_id = 77":        "rows of the table fact point to no part",
		"INSERT INTO held (sheet_id, line, field, text, reason, code, raw, key) VALUES (1, 3, '','','','','','')": "counts 0 held rows, and 1 are kept",
	} {
		s := newStore(t)
		supplierSheet("Ostrel", "a.csv", "T-100;82;KR6").load(t, s)
		bought.load(t, s)
		if _, err := s.write.Exec(damage); err != nil {
			t.Fatal(err)
		}
		var wrong []string
		err := s.View(context.Background(), func(v *View) (err error) {
			wrong, err = v.Check(context.Background())
			return err
		})
		found := slices.ContainsFunc(wrong, func(w string) bool { return strings.Contains(w, want) })
		if err != nil || found != (want != "") || want == "" && len(wrong) > 0 {
			t.Errorf("%s: %v, %v", damage, wrong, err)
		}
	}
}

func TestAHeldRowIsComparedWithItsLine(t *testing.T) {
	for _, tc := range []struct {
		row, line string
		want      bool
	}{
		{"A-1;x", "A-1;x", true}, {"A-1;\"x\ny\"", "A-1;\"x", true}, {"A-1;xx", "A-1;xxxxx", true}, {"A-1;x", "\uFEFFA-1;x", true},
		{"A-1;Kühler", "A-1;K\xfchler", true}, {"A-1;x\x1a", "A-1;x", true},
		{"A-1;x", "A-2;x", false}, {"A-1;x", "", false}, {"", "A-1;x", false}, {"A-1;Kühler", "A-2;K\xfchler", false},
	} {
		if StandsIn(tc.row, tc.line) != tc.want {
			t.Errorf("%q in %q: %v", tc.row, tc.line, !tc.want)
		}
	}
}
