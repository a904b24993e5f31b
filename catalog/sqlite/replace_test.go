package sqlite

import (
	"context"
	"errors"
	"path/filepath"
	"testing"
	"time"
)

func sheetsIn(t *testing.T, s *Store) (n int) {
	t.Helper()
	err := s.View(context.Background(), func(v *View) error {
		h, err := v.Holdings(context.Background())
		n = h.Sheets
		return err
	})
	if err != nil {
		t.Fatal(err)
	}
	return n
}

func copyOf(t *testing.T, s *Store) string {
	t.Helper()
	path := filepath.Join(t.TempDir(), "copy.db")
	if err := s.CopyTo(context.Background(), path); err != nil {
		t.Fatal(err)
	}
	return path
}

func TestACatalogueIsReplacedOnlyWhileNobodyHasItOpen(t *testing.T) {
	ctx := context.Background()
	dir := t.TempDir()
	s, err := Open(dir)
	if err != nil {
		t.Fatal(err)
	}
	supplierSheet("Varn", "a", "TX-1;82;KR6").load(t, s)
	before := copyOf(t, s)
	supplierSheet("Quern", "b", "TX-2;88;KR6").load(t, s)
	if n := sheetsIn(t, s); n != 2 {
		t.Fatal(n)
	}
	if _, err := OpenAlone(ctx, dir); !errors.Is(err, ErrOpen) {
		t.Fatalf("while it is open: %v", err)
	}
	if n := sheetsIn(t, s); n != 2 {
		t.Fatal("the refused one was in the way of a reader", n)
	}
	if err := s.Close(); err != nil {
		t.Fatal(err)
	}
	a, err := OpenAlone(ctx, dir)
	if err != nil {
		t.Fatal(err)
	}
	kept := filepath.Join(t.TempDir(), "catalogue.db")
	if err := a.KeepAs(ctx, kept); err != nil {
		t.Fatal(err)
	}
	stopped, stop := context.WithCancel(ctx)
	stop()
	if err := a.Become(stopped, before); !errors.Is(err, context.Canceled) {
		t.Error(err)
	}
	if err := a.Become(ctx, before); err != nil {
		t.Fatal(err)
	}
	if err := a.Close(); err != nil {
		t.Fatal(err)
	}
	for folder, want := range map[string]int{dir: 1, filepath.Dir(kept): 2} {
		s, err := Open(folder)
		if err != nil {
			t.Fatal(err)
		}
		defer s.Close()
		if n := sheetsIn(t, s); n != want {
			t.Errorf("%s holds %d sheets, want %d", folder, n, want)
		}
	}
}

// Whoever opens the catalogue while it is replaced waits, and finds the new one.
func TestWhoComesWhileACatalogueIsReplacedFindsTheNewOne(t *testing.T) {
	ctx := context.Background()
	dir := t.TempDir()
	s, err := Open(dir)
	if err != nil {
		t.Fatal(err)
	}
	supplierSheet("Varn", "a", "TX-1;82;KR6").load(t, s)
	before := copyOf(t, s)
	supplierSheet("Quern", "b", "TX-2;88;KR6").load(t, s)
	if err := s.Close(); err != nil {
		t.Fatal(err)
	}
	a, err := OpenAlone(ctx, dir)
	if err != nil {
		t.Fatal(err)
	}
	found := make(chan int, 1)
	go func() {
		s, err := Open(dir)
		if err != nil {
			t.Error(err)
			found <- -1
			return
		}
		defer s.Close()
		found <- sheetsIn(t, s)
	}()
	select {
	case n := <-found:
		t.Fatalf("it did not wait and found %d", n)
	case <-time.After(200 * time.Millisecond): // it is waiting by now
	}
	if err := a.Become(ctx, before); err != nil {
		t.Fatal(err)
	}
	if err := a.Close(); err != nil {
		t.Fatal(err)
	}
	if n := <-found; n != 1 {
		t.Errorf("%d sheets, want 1", n)
	}
}
