package app

import (
	"context"
	"os"
	"path/filepath"
	"reflect"
	"testing"
)

// What is looked for ahead of a question, or in the store because the index is not
// open, changes nothing in its answer.
func TestAnIndexOpenedAheadAnswersAlike(t *testing.T) {
	s := rosterShop(t)
	ctx := context.Background()
	parts := 0
	for _, words := range []string{"thermostat 82 Mak", "thermostat 82 Tolm 2000", "seal 82 Mak", "clamp 30 mm Mak", "thermostat 99 Vrin", "Mak",
		"XQ-1", "XQ-10", "XQ-105", "X", "XQ-2", "Q-10", "105", "XQ-10 Mak", "XQ-99", "thermostat 82 RK103"} {
		q := FindQuestion{Words: words, Limit: 5}
		if err := s.indexes.forget(); err != nil {
			t.Fatal(err)
		}
		cold, err := s.Find(ctx, q)
		if err != nil {
			t.Fatal(err)
		}
		parts += cold.Total
		for range 3 { // the last ones are answered by what the first ones left
			warm, err := s.Find(ctx, q)
			if err != nil {
				t.Fatal(err)
			}
			if !reflect.DeepEqual(cold, warm) {
				t.Errorf("%s: first %+v, then %+v", words, cold, warm)
			}
		}
		if s.indexes.now != nil && s.indexes.now.users != 0 {
			t.Errorf("%s: the index was not given back: %+v", words, s.indexes.now)
		}
	}
	if parts == 0 {
		t.Error("no part was found")
	}
}

// An index that is damaged and was only opened ahead is the trouble of no
// question that does not ask it; the next one that does builds it anew.
func TestADamagedIndexOpenedAheadIsBuiltAnewWhenItIsAsked(t *testing.T) {
	s := rosterShop(t)
	ctx := context.Background()
	if err := s.indexes.forget(); err != nil {
		t.Fatal(err)
	}
	formats, err := filepath.Glob(filepath.Join(s.store.IndexDir(), "*", "fitfill-format"))
	if err != nil || len(formats) == 0 {
		t.Fatal(formats, err)
	}
	for _, f := range formats {
		if err := os.WriteFile(f, []byte("0"), 0o644); err != nil {
			t.Fatal(err)
		}
	}
	if a, err := s.Find(ctx, FindQuestion{Words: "Tolm Hadl 1 2005 diesel", Limit: 5}); err != nil {
		t.Fatal(a, err)
	}
	a, err := s.Find(ctx, FindQuestion{Words: "thermostat 82 Mak", Limit: 5})
	if err != nil || a.Total == 0 {
		t.Errorf("%d parts, %v", a.Total, err)
	}
}
