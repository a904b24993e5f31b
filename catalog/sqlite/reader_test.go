package sqlite

import (
	"context"
	"errors"
	"slices"
	"testing"
)

func supplierNamesIn(t *testing.T, s *Store) (names []string) {
	t.Helper()
	err := s.View(context.Background(), func(v *View) error {
		list, err := v.Suppliers(context.Background())
		for _, sup := range list {
			names = append(names, sup.Name)
		}
		return err
	})
	if err != nil {
		t.Fatal(err)
	}
	return names
}

func TestWhatIsKeptGoesWhenTheCatalogueChanges(t *testing.T) {
	s := newStore(t)
	other, err := Open(s.dir)
	if err != nil {
		t.Fatal(err)
	}
	defer other.Close()
	if names := supplierNamesIn(t, s); len(names) != 0 {
		t.Errorf("suppliers %v", names)
	}
	made := 0
	keep := func() int {
		t.Helper()
		var got int
		err := s.View(context.Background(), func(v *View) (err error) {
			got, err = Keep(v, "made", func() (int, error) { made++; return made, nil })
			return err
		})
		if err != nil {
			t.Fatal(err)
		}
		return got
	}
	if a, b := keep(), keep(); a != 1 || b != 1 {
		t.Errorf("made %d and %d", a, b)
	}
	supplierSheet("Quern", "a.csv", "TX-1;82;KR6").load(t, other) // another process
	if names := supplierNamesIn(t, s); !slices.Equal(names, []string{"Quern"}) {
		t.Errorf("suppliers %v after another's import", names)
	}
	if got := keep(); got != 2 {
		t.Errorf("what was made of the catalogue before is still there: %d", got)
	}
	if err := s.AddSupplierName(context.Background(), "Quern", "Querns"); err != nil { // this process
		t.Fatal(err)
	}
	if got := keep(); got != 3 {
		t.Errorf("what was made of the catalogue before is still there: %d", got)
	}
}

func TestAViewShowsOneMomentWhateverIsImportedMeanwhile(t *testing.T) {
	s := newStore(t)
	ctx := context.Background()
	err := s.View(ctx, func(v *View) error {
		supplierSheet("Quern", "a.csv", "TX-1;82;KR6").load(t, s)
		list, err := v.Suppliers(ctx)
		if len(list) != 0 {
			t.Errorf("the view changed: %v", list)
		}
		if inner := supplierNamesIn(t, s); len(inner) != 1 { // a view within a view has its own connection
			t.Errorf("the newer view shows %v", inner)
		}
		return err
	})
	if err != nil {
		t.Fatal(err)
	}
}

func TestAQueryIsAskedAgainWhileItsRowsAreRead(t *testing.T) {
	s := newStore(t)
	ctx := context.Background()
	supplierSheet("Quern", "a.csv", "TX-1;82;KR6", "TX-2;82;KR6").load(t, s)
	const query = "SELECT key FROM part ORDER BY key"
	var got []string
	err := s.View(ctx, func(v *View) error {
		read := func(do func(key string) error) error {
			return v.each(ctx, query, nil, func(r record) error {
				var key string
				if err := r.Scan(&key); err != nil {
					return err
				}
				return do(key)
			})
		}
		return read(func(outer string) error {
			return read(func(inner string) error {
				got = append(got, outer+inner)
				return nil
			})
		})
	})
	if err != nil || !slices.Equal(got, []string{"TX1TX1", "TX1TX2", "TX2TX1", "TX2TX2"}) {
		t.Errorf("%v, %v", got, err)
	}
}

func TestAQuestionThatNobodyWaitsForLeavesTheNextOneAlone(t *testing.T) {
	s := newStore(t)
	supplierSheet("Quern", "a.csv", "TX-1;82;KR6").load(t, s)
	ctx, cancel := context.WithCancel(context.Background())
	err := s.View(ctx, func(v *View) error {
		cancel()
		_, err := v.PartIDs(ctx, "TX1")
		return err
	})
	if !errors.Is(err, context.Canceled) {
		t.Errorf("got %v", err)
	}
	if names := supplierNamesIn(t, s); len(names) != 1 {
		t.Errorf("suppliers %v", names)
	}
	if err := s.Close(); err != nil {
		t.Error(err)
	}
}

func TestTheVersionChangesWithTheCatalogueAlone(t *testing.T) {
	s := newStore(t)
	other, err := Open(s.dir)
	if err != nil {
		t.Fatal(err)
	}
	defer other.Close()
	version := func() int64 {
		t.Helper()
		cancelled, cancel := context.WithCancel(context.Background())
		cancel() // a question that is not waited for asks too
		n, err := s.Version(cancelled)
		if err != nil {
			t.Fatal(err)
		}
		return n
	}
	for n, writer := range []*Store{s, other, other, s} {
		before := version()
		supplierNamesIn(t, s)
		supplierNamesIn(t, other)
		if now := version(); now != before {
			t.Errorf("the version went from %d to %d by reading", before, now)
		}
		if _, err := writer.write.Exec("INSERT INTO supplier (name, index_folder) VALUES (?, '')", "Supplier "+string(rune('A'+n))); err != nil {
			t.Fatal(err)
		}
		if now := version(); now == before {
			t.Errorf("the version stays at %d when supplier %d is written", now, n)
		}
	}
}
