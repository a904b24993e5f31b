package app

import (
	"context"
	"testing"
)

// What takes long tells how far it is, and ends at the whole.
func TestLongLooksTellHowFarTheyAre(t *testing.T) {
	s, err := Open(t.TempDir(), nil)
	if err != nil {
		t.Fatal(err)
	}
	defer s.Close()
	ctx := context.Background()
	const sheet = "number,type,description,price,currency,engine,make,years\nX-1,thermostat,thermostat 82,9.00,EUR,E1,Mak,1996-2004\nX-2,seal,o-ring,1.00,EUR,E2,Mak,2001-\n"
	if a, err := s.Import(ctx, ImportQuestion{Name: "a.csv", Raw: []byte(sheet), Supplier: "Newby"}); err != nil || a.Status != Imported {
		t.Fatal(a.Status, a.Open, err)
	}
	for name, look := range map[string]func(func(done, all int)) error{
		"audit":  func(p func(done, all int)) error { _, err := s.Audit(ctx, "", p); return err },
		"doctor": func(p func(done, all int)) error { _, err := s.Doctor(ctx, p); return err },
	} {
		last, whole := 0, 0
		err := look(func(done, all int) {
			if done <= last || done > all {
				t.Errorf("%s: %d of %d after %d", name, done, all, last)
			}
			last, whole = done, all
		})
		if err != nil || last == 0 || last != whole {
			t.Errorf("%s: ended at %d of %d, %v", name, last, whole, err)
		}
	}
}
