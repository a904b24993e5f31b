package sqlite

import (
	"context"
	"database/sql"
	"fmt"
	"io/fs"
	"os"
	"slices"
	"strings"
	"testing"

	"fitfill/catalog"
)

func TestCheckFindsWhatIsDamaged(t *testing.T) {
	ctx := context.Background()
	s := newStore(t)
	supplierSheet("Varn", "a", "TX-1;82;KR6", "TX-2;88;KR6").load(t, s)
	check := func() (wrong []string) {
		err := s.View(ctx, func(v *View) (err error) { wrong, err = v.Check(ctx); return err })
		if err != nil {
			t.Fatal(err)
		}
		return wrong
	}
	if wrong := check(); len(wrong) > 0 {
		t.Fatalf("a sound catalogue: %q", wrong)
	}
	conn, err := s.write.Conn(ctx)
	if err != nil {
		t.Fatal(err)
	}
	for _, statement := range []string{
		"PRAGMA foreign_keys = 0",
		"UPDATE sheet SET rows_held = 3, rows_read = rows_taken + 3",
		"DELETE FROM part WHERE number = 'TX-2'",
		"UPDATE sheet SET supplier_id = 99",
	} {
		if _, err := conn.ExecContext(ctx, statement); err != nil {
			t.Fatal(err)
		}
	}
	conn.Close()
	wrong := strings.Join(check(), "\n")
	for _, want := range []string{"of the table sheet points to no supplier", "rows of the table fact point to no part", "counts 3 held rows, and 0 are kept"} {
		if !strings.Contains(wrong, want) {
			t.Errorf("no %q in\n%s", want, wrong)
		}
	}
}

// A check that is broken off is no clean bill.
func TestACheckThatIsBrokenOffFails(t *testing.T) {
	s := newStore(t)
	supplierSheet("Varn", "a", "TX-1;82;KR6").load(t, s)
	err := s.View(context.Background(), func(v *View) error {
		ctx, stop := context.WithCancel(context.Background())
		stop()
		_, err := v.Check(ctx)
		return err
	})
	if err == nil {
		t.Error("a check without its rows found nothing wrong")
	}
}

// What another program of a newer kind wrote is left alone, also where that one
// was the first to come by.
func TestANewerCatalogueIsRefused(t *testing.T) {
	dir := t.TempDir()
	s, err := Open(dir)
	if err != nil {
		t.Fatal(err)
	}
	if _, err := s.write.Exec("PRAGMA user_version = 900"); err != nil {
		t.Fatal(err)
	}
	if err := s.Close(); err != nil {
		t.Fatal(err)
	}
	if _, err := Open(dir); err == nil || !strings.Contains(err.Error(), "newer fitfill (schema 900") {
		t.Errorf("got %v", err)
	}
	db, err := sql.Open("sqlite", dir+"/"+fileName)
	if err != nil {
		t.Fatal(err)
	}
	defer db.Close()
	var version int
	if err := db.QueryRow("PRAGMA user_version").Scan(&version); err != nil || version != 900 {
		t.Errorf("its number became %d (%v)", version, err)
	}
}

func TestTheNewestOldIndexFolderStays(t *testing.T) {
	dir := t.TempDir()
	for _, name := range []string{
		"supplier-1-sheet-5", "supplier-1-sheet-5-again-9", "supplier-1-sheet-5-again-10", "supplier-1-sheet-5-again-11",
		"supplier-1-sheet-12", "supplier-2-sheet-3", "supplier-2-sheet-40", "half-built",
	} {
		if err := os.Mkdir(dir+"/"+name, 0o755); err != nil {
			t.Fatal(err)
		}
	}
	entries, err := fs.ReadDir(os.DirFS(dir), ".")
	if err != nil {
		t.Fatal(err)
	}
	stale := StaleFolders(entries, map[string]bool{"supplier-1-sheet-12": true, "supplier-2-sheet-40": true})
	slices.Sort(stale)
	want := []string{"half-built", "supplier-1-sheet-5", "supplier-1-sheet-5-again-10", "supplier-1-sheet-5-again-9"}
	if !slices.Equal(stale, want) {
		t.Errorf("%q, want %q", stale, want)
	}
}

// Two applications that differ in the VIN's letter alone read differently, and
// come in one order.
func TestAChangeOfTheVINsLetterCanBeRead(t *testing.T) {
	ctx := context.Background()
	s := newStore(t)
	of := func(name, vin8, place string) sheet {
		sh := supplierSheet("Varn", name, "TX-1;82;")
		sh.info.SHA256 = fmt.Sprintf("%s%s%s", name, vin8, place)
		sh.rows[0].Part.Fitments = []catalog.Fitment{{Make: "Tarn", Engine: "KR6", VIN8: vin8, WhereFitted: place, Quantity: "2"}}
		return sh
	}
	of("a", "K", "").load(t, s)
	lock, err := s.LockImports()
	if err != nil {
		t.Fatal(err)
	}
	defer lock.Unlock()
	next := of("a", "L", "front")
	next.info.Place = Replaces
	st, err := s.NewStage(ctx, lock, next.info)
	if err != nil {
		t.Fatal(err)
	}
	defer st.Discard()
	if err := st.Add(ctx, next.rows[0]); err != nil {
		t.Fatal(err)
	}
	c, err := st.Compare(ctx)
	if err != nil {
		t.Fatal(err)
	}
	want := []FieldChange{
		{Number: "TX-1", Field: ListedFor, New: "Tarn KR6 VIN L front quantity 2", Line: 2},
		{Number: "TX-1", Field: ListedFor, Old: "Tarn KR6 VIN K quantity 2"},
	}
	if !slices.Equal(c.Changes, want) || c.Fields[ListedFor] != 1 {
		t.Errorf("%+v, want %+v", c.Changes, want)
	}
}
