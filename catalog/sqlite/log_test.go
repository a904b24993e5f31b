package sqlite

import (
	"context"
	"errors"
	"testing"

	"fitfill/catalog"
	"fitfill/catalog/units"
)

// An entry of the log need not wait for an import, and comes back as it went in.
func TestLogNeedsNoImportLock(t *testing.T) {
	ctx := context.Background()
	s, err := Open(t.TempDir())
	if err != nil {
		t.Fatal(err)
	}
	defer s.Close()
	lock, err := s.LockImports()
	if err != nil {
		t.Fatal(err)
	}
	defer lock.Unlock()
	fill := catalog.Fill{Date: catalog.DateOf(2026, 3, 20), Vehicle: "D 01", Circuit: "engine", Number: "BX-500", Note: "low",
		Strength: catalog.Say(units.Percents(50), "50%", catalog.Origin{}), Volume: catalog.Say(units.Litres(0.5), "0.5L", catalog.Origin{})}
	id, err := s.Log(ctx, catalog.Logged{At: "2026-03-20T10:00:00Z", Fill: &fill})
	if err != nil {
		t.Fatal(err)
	}
	fills := func() []catalog.Fill {
		var list []catalog.Fill
		err := s.View(ctx, func(v *View) (err error) {
			list, err = v.Fills(ctx, "d-01")
			return err
		})
		if err != nil {
			t.Fatal(err)
		}
		return list
	}
	got := fills()
	want := catalog.Origin{Sheet: "logged by hand 2026-03-20", Line: int(id)}
	if len(got) != 1 || got[0].Origin != want || !got[0].Origin.ByHand() || got[0].Volume.Value != fill.Volume.Value ||
		got[0].Strength.Text != "50%" || got[0].Drained.Known || got[0].Note != "low" {
		t.Errorf("%+v", got)
	}
	if err := s.TakeBack(ctx, catalog.LogFitted, id, "2026-03-20T10:01:00Z"); !errors.Is(err, ErrNotFound) {
		t.Errorf("taken back as another kind: %v", err)
	}
	if err := s.TakeBack(ctx, catalog.LogFill, id, "2026-03-20T10:01:00Z"); err != nil {
		t.Fatal(err)
	}
	if got := fills(); len(got) != 0 {
		t.Errorf("taken back: %+v", got)
	}
	if err := s.TakeBack(ctx, catalog.LogFill, id, "2026-03-20T10:02:00Z"); !errors.Is(err, ErrNotFound) {
		t.Errorf("taken back twice: %v", err)
	}
}

// The same answer on the same day is kept once; another day it is said again.
func TestSaidIsKeptOnceADay(t *testing.T) {
	ctx := context.Background()
	s, err := Open(t.TempDir())
	if err != nil {
		t.Fatal(err)
	}
	defer s.Close()
	d := catalog.Said{At: "2026-03-20T10:00:00Z", Date: catalog.DateOf(2026, 3, 20), How: catalog.SaidAsked, Vehicle: "D 01", Number: "TX-1", Supplier: "Ostrel", Outcome: "yes", First: "fits"}
	next := d
	next.Date++
	for _, list := range [][]catalog.Said{{d, d}, {d}, {next}} {
		if err := s.Say(ctx, list); err != nil {
			t.Fatal(err)
		}
	}
	err = s.View(ctx, func(v *View) error {
		got, err := v.Said(ctx, "tx1", "d01")
		if len(got) != 2 || got[0] != d || got[1] != next {
			t.Errorf("%+v", got)
		}
		return err
	})
	if err != nil {
		t.Fatal(err)
	}
}
