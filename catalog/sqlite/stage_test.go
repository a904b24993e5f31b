package sqlite

import (
	"context"
	"errors"
	"fmt"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"

	"fitfill/catalog"
)

func TestWhatWasStagedIsReadBackWithSheetLineAndText(t *testing.T) {
	s := newStore(t)
	supplierSheet("Ostrel", "a.csv", "T-100;82;KR6", "T-200;;KR6", "T-300;88;VN4").load(t, s)
	want := map[string]string{"Ostrel T-100": "82 @2 T-100;82;KR6", "Ostrel T-200": " @3 T-200;;KR6"}
	if diff := cmp.Diff(want, listed(t, s, "kr-6")); diff != "" {
		t.Error(diff)
	}
}

func TestANewVersionReplacesTheOldOneAndAnotherListStandsBeside(t *testing.T) {
	s := newStore(t)
	supplierSheet("Ostrel", "jan.csv", "T-100;82;KR6", "T-200;82;KR6").load(t, s)

	replaced, changes, docs := supplierSheet("Ostrel", "feb.csv", "T-100;88;KR6", "T-200;82;KR6", "T-300;88;VN4").load(t, s)
	if len(replaced) != 1 || replaced[0].Name != "jan.csv" {
		t.Errorf("replaced %v", replaced)
	}
	if want := (Changes{Added: 1, Changed: 1, Unchanged: 1}); changes != want {
		t.Errorf("changes %+v, want %+v", changes, want)
	}
	if len(docs) != 3 {
		t.Errorf("documents %v", docs)
	}
	if got := listed(t, s, "KR6")["Ostrel T-100"]; !strings.HasPrefix(got, "88 ") {
		t.Errorf("after the new version T-100 reads %q", got)
	}

	replaced, changes, docs = supplierSheet("Ostrel", "hoses.csv", "H-1;;KR6").load(t, s)
	if len(replaced) != 0 || changes != (Changes{Added: 1}) || len(docs) != 4 {
		t.Errorf("a list of other parts replaced %v, changed %+v, documents %v", replaced, changes, docs)
	}
	if got := listed(t, s, "KR6"); len(got) != 3 {
		t.Errorf("both lists should count: %v", got)
	}

	_, changes, _ = supplierSheet("Ostrel", "mar.csv", "T-100;88;KR6", "T-200;82;KR6").load(t, s)
	if want := (Changes{Unchanged: 2, Withdrawn: 1}); changes != want {
		t.Errorf("changes %+v, want %+v", changes, want)
	}
	if got := listed(t, s, "VN4"); len(got) != 0 {
		t.Errorf("a part that the new version no longer lists still fits: %v", got)
	}
}

func TestTheGenerationBeforeThePresentOneIsKeptAndOlderOnesGo(t *testing.T) {
	s := newStore(t)
	for _, name := range []string{"1.csv", "2.csv", "3.csv", "4.csv"} {
		supplierSheet("Ostrel", name, "T-100;82;KR6", "X-"+name+";;KR6").load(t, s)
	}
	var names string
	err := s.read.QueryRow("SELECT group_concat(name || ':' || active) FROM (SELECT name, active FROM sheet ORDER BY id)").Scan(&names)
	if err != nil || names != "3.csv:0,4.csv:1" {
		t.Errorf("kept sheets %q, %v", names, err)
	}
}

func TestCommitRefusesSumsThatDoNotAddUp(t *testing.T) {
	s := newStore(t)
	supplierSheet("Ostrel", "a.csv", "T-100;82;KR6").load(t, s)
	ctx := context.Background()
	for name, counts := range map[string]Counts{
		"a row is missing":     {Read: 2, Taken: 1},
		"taken but not staged": {Read: 2, Taken: 2},
		"held but not listed":  {Read: 2, Taken: 1, Held: 1},
	} {
		t.Run(name, func(t *testing.T) {
			lock, err := s.LockImports()
			if err != nil {
				t.Fatal(err)
			}
			defer lock.Unlock()
			sh := supplierSheet("Ostrel", "b.csv", "T-100;95;KR6")
			st, err := s.NewStage(ctx, lock, sh.info)
			if err != nil {
				t.Fatal(err)
			}
			defer st.Discard()
			if err := st.Add(ctx, sh.rows[0]); err != nil {
				t.Fatal(err)
			}
			if _, err := st.Commit(ctx, counts, nil, ""); err == nil || !strings.Contains(err.Error(), "do not add up") {
				t.Errorf("got %v", err)
			}
			if got := listed(t, s, "KR6")["Ostrel T-100"]; !strings.HasPrefix(got, "82 ") {
				t.Errorf("a refused commit changed the catalogue: %q", got)
			}
		})
	}
}

func TestAnEventThatIsInTheCatalogueIsNotTakenTwice(t *testing.T) {
	s := newStore(t)
	purchases := func(name string, days ...int) sheet {
		sh := sheet{info: SheetInfo{Kind: catalog.PurchasesSheet, Name: name, SHA256: name, File: strings.NewReader(name), Mapping: "{}",
			Fields: []string{"date", "supplier", "number", "quantity"}, ImportedAt: "2026-01-02T03:04:05Z"}}
		for i, d := range days {
			sh.rows = append(sh.rows, catalog.SheetRow{Line: i + 2, Purchase: &catalog.Purchase{
				Date: catalog.Date(d), Supplier: "Ostrel", Number: "T-100", Quantity: catalog.CountOf(1000)}})
		}
		return sh
	}
	count := func() (n int) {
		err := s.View(context.Background(), func(v *View) error {
			list, err := v.Purchases(context.Background())
			n = len(list)
			return err
		})
		if err != nil {
			t.Fatal(err)
		}
		return n
	}
	purchases("to-march", 1, 2, 3, 3, 4, 5).load(t, s)
	if n := count(); n != 6 {
		t.Fatalf("two equal sales on one day are two sales: %d", n)
	}
	purchases("april", 5, 10, 11).load(t, s)
	if n := count(); n != 8 {
		t.Errorf("day 5 stands in both sheets and happened once: %d", n)
	}
	if replaced, _, _ := purchases("rolling", 4, 5, 10, 11, 12).load(t, s); len(replaced) != 1 || replaced[0].Name != "april" {
		t.Errorf("days 1 to 3 stand in no other sheet, but it took the place of %v", replaced)
	}
	if n := count(); n != 9 {
		t.Errorf("a rolling list leaves the days before it in place: %d", n)
	}
	replaced, changes, _ := purchases("whole-year", 1, 2, 3, 3, 4, 5, 10, 11, 20).load(t, s)
	if want := (Changes{Added: 1, Unchanged: 8, Withdrawn: 1}); len(replaced) != 2 || changes != want {
		t.Errorf("the sheet of the whole year replaced %v and changed %+v, want %+v", replaced, changes, want)
	}
	if n := count(); n != 9 {
		t.Errorf("the sheet of the whole year replaces its parts: %d", n)
	}
}

func TestAListForOtherEnginesDoesNotTakeThePlaceOfTheFirst(t *testing.T) {
	s := newStore(t)
	supplierSheet("Ostrel", "make-a.csv", "C-1;;A1", "C-2;;A1", "C-3;;A1").load(t, s)
	other := supplierSheet("Ostrel", "make-b.csv", "C-1;;B1", "C-2;;B1", "D-3;;B1")
	replaced, _, _ := other.load(t, s)
	if len(replaced) != 0 || len(listed(t, s, "A1")) != 3 {
		t.Errorf("replaced %v, left %v", replaced, listed(t, s, "A1"))
	}
	decided := supplierSheet("Ostrel", "make-c.csv", "C-1;;C9", "C-2;;C9", "C-3;;C9")
	decided.info.Place = Replaces
	if replaced, _, _ := decided.load(t, s); len(replaced) != 2 {
		t.Errorf("a person said that it takes the place of both, it took that of %v", replaced)
	}
}

func TestASecondImportIsToldThatTheCatalogueIsBusy(t *testing.T) {
	s := newStore(t)
	lock, err := s.LockImports()
	if err != nil {
		t.Fatal(err)
	}
	if _, err := s.LockImports(); !errors.Is(err, ErrBusy) {
		t.Errorf("got %v", err)
	}
	if err := lock.Unlock(); err != nil {
		t.Fatal(err)
	}
	again, err := s.LockImports()
	if err != nil {
		t.Fatal(err)
	}
	again.Unlock()
}

func TestTheRawSheetIsKeptByteForByte(t *testing.T) {
	for _, raw := range []string{"", "a", "a\r\nb\rc\n\nd", strings.Repeat("x;y\r\r\n", 3*linesPerBlock) + "last", strings.Repeat("x;y\n", 3*linesPerBlock) + "last"} {
		var joined string
		for _, b := range splitLines([]byte(raw)) {
			joined += string(b)
		}
		if joined != raw {
			t.Errorf("%.20q came back as %.20q", raw, joined)
		}
	}
	if got, ok := lineOf([]byte("a\r\nb\rc\n\nd"), 2); !ok || got != "c" {
		t.Errorf("line 2 is %q", got)
	}
	if got, ok := lineOf([]byte("a\r\r\nb\r\r\nc"), 1); !ok || got != "b" {
		t.Errorf("line 1 is %q", got)
	}
	if _, ok := lineOf([]byte("a\n"), 5); ok {
		t.Error("a line past the end was found")
	}
}

func TestStagingLeavesNothingBehind(t *testing.T) {
	s := newStore(t)
	supplierSheet("Ostrel", "a.csv", "T-100;82;KR6").load(t, s)
	left, err := filepath.Glob(filepath.Join(s.dir, stageFolder, "*"))
	if err != nil || len(left) != 0 {
		t.Errorf("left %v, %v", left, err)
	}
	if _, err := os.Stat(s.path()); err != nil {
		t.Error(err)
	}
}

// The tables without foreign keys must point to what exists all the same.
func TestEveryNumberPointsToARow(t *testing.T) {
	s := newStore(t)
	for _, name := range []string{"1.csv", "2.csv", "3.csv"} {
		supplierSheet("Ostrel", name, "T-100;82;KR6", "T-200;82;KR6", "X-"+name+";88;VN4").load(t, s)
	}
	supplierSheet("Quern", "q.csv", "T-100;82;KR6").load(t, s)
	for _, ref := range pointers {
		var rows, dangling int
		err := s.read.QueryRow(fmt.Sprintf("SELECT count(*), coalesce(sum(%[2]s IS NOT NULL AND %[2]s NOT IN (SELECT id FROM %[3]s)), 0) FROM %[1]s",
			ref.table, ref.column, ref.to)).Scan(&rows, &dangling)
		if err != nil || rows == 0 || dangling > 0 {
			t.Errorf("%s.%s: %d rows, %d point to no %s, %v", ref.table, ref.column, rows, dangling, ref.to, err)
		}
	}
}
