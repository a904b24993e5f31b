package data

import (
	"bufio"
	"maps"
	"strings"
	"testing"
	"testing/fstest"

	"github.com/google/go-cmp/cmp"

	"fitfill/catalog"
)

func TestEveryShippedTableLoadsWithItsSources(t *testing.T) {
	ref, err := Reference()
	if err != nil {
		t.Fatal(err)
	}
	for name, rows := range ref {
		if len(rows) == 0 {
			t.Errorf("table %s has no rows", name)
		}
	}
}

func TestARowWithoutAKnownSourceIsRefused(t *testing.T) {
	sources := "key,title,edition,mark\nhandbook,A handbook,1990,read\n"
	for name, tc := range map[string]struct{ sources, table, want string }{
		"unknown key":   {sources, "size,source\n1,other\n", `limits.csv, line 2: source "other"`},
		"no key":        {sources, "size,source\n1,\n", `limits.csv, line 2: source ""`},
		"no column":     {sources, "size\n1\n", `limits.csv, line 2: source ""`},
		"unknown mark":  {"key,title,edition,mark\na,A,,heard\n", "size,source\n1,a\n", `mark "heard"`},
		"double key":    {sources + "handbook,Again,,read\n", "size,source\n1,handbook\n", "stands there twice"},
		"missing title": {"key,title,edition,mark\na,,,read\n", "size,source\n1,a\n", "needs a key and a title"},
	} {
		t.Run(name, func(t *testing.T) {
			_, err := Load(fstest.MapFS{
				"sources.csv": {Data: []byte(tc.sources)},
				"limits.csv":  {Data: []byte(tc.table)},
			})
			if err == nil || !strings.Contains(err.Error(), tc.want) {
				t.Fatalf("got %v, want an error with %q", err, tc.want)
			}
		})
	}
}

func TestRowsKeepTheirLineAndSource(t *testing.T) {
	ref, err := Load(fstest.MapFS{
		"sources.csv": {Data: []byte("key,title,edition,mark\nhandbook,A handbook,1990,read\n")},
		"limits.csv":  {Data: []byte("size,source\n# a remark\n1.5,handbook\n")},
	})
	if err != nil {
		t.Fatal(err)
	}
	row := ref["limits"][0]
	if row.Line != 3 || row.Source.Title != "A handbook" || row.Source.Mark != catalog.Read {
		t.Errorf("got line %d, source %+v", row.Line, row.Source)
	}
	if v, err := row.Float("size"); err != nil || v != 1.5 {
		t.Errorf("size read as %v, %v", v, err)
	}
	if _, err := row.Float("weight"); err == nil || !strings.Contains(err.Error(), "line 3") {
		t.Errorf("a missing column gave %v", err)
	}
}

// sameRow compares rows by all of their cells, wherever they stand.
var sameRow = cmp.Comparer(func(a, b catalog.RefRow) bool {
	return a.Table == b.Table && a.Line == b.Line && a.Source == b.Source && cmp.Equal(a.Own, b.Own) && maps.Equal(a.Map(), b.Map())
})

// What is read on demand is what is read as a whole.
func TestShippedTablesAreTheReference(t *testing.T) {
	ref, err := Reference()
	if err != nil {
		t.Fatal(err)
	}
	for name, rows := range ref {
		for range 2 { // read, then kept
			got, err := Shipped().Table(name)
			if diff := cmp.Diff(rows, got, sameRow); err != nil || diff != "" {
				t.Fatalf("table %s: %v (-whole +on demand):\n%s", name, err, diff)
			}
		}
	}
	for _, name := range []string{"", "no_such_table", "sources", "tables"} {
		_, want := ref.Table(name)
		if _, err := Shipped().Table(name); err == nil || err.Error() != want.Error() {
			t.Errorf("table %q: %v, want %v", name, err, want)
		}
	}
}

// A source that no row rests on says that a row was meant to.
func TestEverySourceIsUsed(t *testing.T) {
	ref, err := Reference()
	if err != nil {
		t.Fatal(err)
	}
	used := map[string]bool{}
	for _, rows := range ref {
		for _, r := range rows {
			used[r.Source.Key] = true
		}
	}
	sources, err := loadSources(tables, bufio.NewReader(nil))
	if err != nil {
		t.Fatal(err)
	}
	for key := range sources {
		if !used[key] {
			t.Errorf("no row rests on %s", key)
		}
	}
}

// A row finds its cells in the order of the columns as it does by their names.
func TestRowsFindTheirCellsEitherWay(t *testing.T) {
	ref, err := Reference()
	if err != nil {
		t.Fatal(err)
	}
	for name, rows := range ref {
		got, err := Shipped().Table(name)
		if err != nil {
			t.Fatal(err)
		}
		for i, r := range rows {
			if got[i].Cells != nil || len(r.Cells) == 0 {
				t.Fatalf("table %s keeps a map for each row when it is read on demand", name)
			}
			for column, cell := range r.Cells {
				if got[i].Cell(column) != cell || got[i].Get(column) != r.Get(column) {
					t.Errorf("table %s, line %d, %s: %q, want %q", name, r.Line, column, got[i].Cell(column), cell)
				}
			}
			if got[i].Cell("no such column") != "" || r.Get("no such column") != "" {
				t.Errorf("table %s, line %d has a column that is not there", name, r.Line)
			}
		}
	}
}

// BenchmarkOnDemand reads the tables of one question about a part.
func BenchmarkOnDemand(b *testing.B) {
	b.ReportAllocs()
	for b.Loop() {
		d := &onDemand{fsys: tables, read: map[string][]catalog.RefRow{}}
		for _, name := range []string{"fit_limits", "fit_gland_metric", "fit_elastomers", "fit_coolant_columns", "fit_thermostat_ratings", "fit_note_words", "fit_d2000", "fit_sockets", "fit_thread_limits", "fit_clamp_sizes", "import_words", "returns_reasons"} {
			if _, err := d.Table(name); err != nil {
				b.Fatal(err)
			}
		}
	}
}
