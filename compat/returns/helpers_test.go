package returns_test

import (
	"encoding/csv"
	"math"
	"os"
	"path/filepath"
	"strconv"
	"testing"

	"fitfill/catalog"
	"fitfill/compat/returns"
)

// row is a row of a table; what is read of it is noted (see TestMain).
type row struct {
	cells map[string]string
	read  *rowRead
}

func readTable(t testing.TB, path ...string) []row {
	t.Helper()
	f, err := os.Open(filepath.Join(append([]string{"..", ".."}, path...)...))
	if err != nil {
		t.Fatal(err)
	}
	defer f.Close()
	records, err := csv.NewReader(f).ReadAll()
	if err != nil {
		t.Fatal(err)
	}
	noted := notedTable(path[len(path)-1], records)
	var rows []row
	for n, rec := range records[1:] {
		r := row{map[string]string{}, &noted[n]}
		for i, h := range records[0] {
			r.cells[h] = rec[i]
		}
		rows = append(rows, r)
	}
	if len(rows) == 0 {
		t.Fatalf("%v has no rows", path)
	}
	return rows
}

func published(t *testing.T, name string) []row {
	t.Helper()
	return readTable(t, "testdata", "returns", name)
}

func (r row) text(column string) string {
	v, ok := r.cells[column]
	if !ok {
		panic("no column " + column)
	}
	delete(r.read.unread, column)
	return v
}

func (r row) num(t testing.TB, column string) float64 {
	t.Helper()
	v, err := strconv.ParseFloat(r.text(column), 64)
	if err != nil {
		t.Fatalf("column %s: %v", column, err)
	}
	return v
}

// near compares to a relative tolerance, absolute below 1e-3 of it.
func near(t *testing.T, what string, got, want, rel float64) {
	t.Helper()
	if math.IsNaN(got) != math.IsNaN(want) || (math.IsInf(got, 0) || math.IsInf(want, 0)) && got != want || math.Abs(got-want) > rel*math.Max(math.Abs(want), 1e-3) {
		t.Errorf("%s: got %.12g, want %.12g", what, got, want)
	}
}

func nearLimits(t *testing.T, what string, got returns.Interval, low, high, rel float64) {
	t.Helper()
	near(t, what+" low", got.Low, low, rel)
	near(t, what+" high", got.High, high, rel)
}

const exact = 1e-9 // quantiles against R

// settings reads the shipped table of settings.
func settings(t testing.TB) returns.Settings {
	t.Helper()
	values := map[string]float64{}
	for _, r := range readTable(t, "data", "returns_settings.csv") {
		values[r.text("setting")] = r.num(t, "value")
	}
	s, err := returns.SettingsFrom(func(name string) (float64, bool) { v, ok := values[name]; return v, ok })
	if err != nil {
		t.Fatal(err)
	}
	return s
}

func date(t *testing.T, s string) catalog.Date {
	t.Helper()
	d, err := catalog.ParseDate(s)
	if err != nil {
		t.Fatal(err)
	}
	return d
}

// shopReasons is the table of reasons of the invented shop.
var shopReasons = map[string]returns.Class{
	"dead on arrival": returns.DeadOnArrival, "leaked": returns.QualityFailure, "failed in service": returns.QualityFailure,
	"wrong part supplied": returns.SupplyError, "customer changed mind": returns.Neutral, "ordered wrong by us": returns.Neutral,
}

// shop reads the invented shop of five suppliers.
func shop(t *testing.T) returns.Books {
	t.Helper()
	b := returns.Books{AsOf: date(t, "2025-12-31")}
	for i, r := range published(t, "shop-sales.csv") {
		b.Sales = append(b.Sales, returns.Sale{Ref: i + 2, Supplier: r.text("supplier"), Part: r.text("part_number"), PartType: r.text("part_type"),
			Day: date(t, r.text("date")), Quantity: catalog.CountOf(int64(r.num(t, "quantity") * 1000)), ID: r.text("sale_id"), Job: r.text("job")})
	}
	for i, r := range published(t, "shop-returns.csv") {
		class, ok := shopReasons[r.text("reason")]
		if !ok {
			t.Fatalf("reason %q", r.text("reason"))
		}
		b.Returns = append(b.Returns, returns.Return{Ref: i + 2, Supplier: r.text("supplier"), Part: r.text("part_number"),
			Day: date(t, r.text("date")), Quantity: catalog.CountOf(int64(r.num(t, "quantity") * 1000)), Class: class, SaleID: r.text("sale_id")})
	}
	for _, r := range published(t, "shop-warranty.csv") {
		b.Warranties = append(b.Warranties, returns.Warranty{Supplier: r.text("supplier"), Days: int(r.num(t, "warranty_days"))})
	}
	return b
}
