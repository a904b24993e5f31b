package app

import (
	"context"
	"database/sql"
	"path/filepath"
	"strings"
	"testing"
)

// A row that left the catalogue, or came to stand where no row is, is found by
// reading the kept sheet again.
func TestTheDoctorFindsRowsThatTheCatalogueLostOrInvented(t *testing.T) {
	list := "number;type;price (EUR);engine\nA-1;thermostat;5,00;ZQ9\nA-1;thermostat;5,00;ZQ9\nA-2;cap;6,00;\nA-3;;;\n3-Oct;cap;7,00;\nA-4;seal;8,00;ZQ8\n"
	for name, tc := range map[string]struct{ damage, want string }{
		"nothing":                   {"SELECT 1", ""},
		"a repeated row is no loss": {"DELETE FROM fact WHERE line = 3", ""},
		"facts are lost":            {"DELETE FROM fact WHERE line = 4", "1 row was taken, and nothing in the catalogue says so, the first on line 4"},
		"a part is lost":            {"DELETE FROM sheet_part WHERE part_id = (SELECT id FROM part WHERE key = 'A3')", "the first on line 5"},
		"a row with an engine":      {"DELETE FROM fitment WHERE line = 7; DELETE FROM fact WHERE line = 7", "the first on line 7"},
		"a held row is stated":      {"UPDATE fact SET line = 6 WHERE line = 4", "the catalogue states 1 line of it that it did not take, the first is line 6"},
		"the heading is stated":     {"UPDATE fact SET line = 1 WHERE line = 7", "the first is line 1"},
		"a held row is lost":        {"DELETE FROM held", "counts 1 held rows, and 0 are kept"},
		"a held row moved":          {"UPDATE held SET line = 4", "the held row of line 4 does not stand there"},
	} {
		t.Run(name, func(t *testing.T) {
			s := garage(t)
			a := s.mustImport(t, ImportQuestion{Name: "list.csv", Raw: []byte(list), Supplier: "Ostrel"}, Imported)
			if a.RowsTaken != 5 || a.RowsHeld != 1 {
				t.Fatalf("%d taken, %d held: %+v", a.RowsTaken, a.RowsHeld, a.Held)
			}
			db, err := sql.Open("sqlite", filepath.Join(filepath.Dir(s.store.IndexDir()), "catalogue.db"))
			if err != nil {
				t.Fatal(err)
			}
			defer db.Close()
			if _, err := db.Exec(tc.damage); err != nil {
				t.Fatal(err)
			}
			h, err := s.Doctor(context.Background(), nil)
			if said := strings.Join(h.Wrong, "\n"); err != nil || !strings.Contains(said, tc.want) || (tc.want == "") != (said == "") {
				t.Errorf("the doctor says %q, %v, want %q", said, err, tc.want)
			}
		})
	}
}
