package app

import (
	"context"
	"errors"
	"fmt"
	"path/filepath"
	"strings"
	"testing"
)

// Whoever stops an import in the middle of its rows reads why it was stopped, not
// what the store made of it, and nothing of it is left.
func TestAStoppedImportSaysWhy(t *testing.T) {
	s := garage(t)
	var b strings.Builder
	b.WriteString("Part No;Type;Price EUR\n")
	for i := range 3 * progressEvery {
		fmt.Fprintf(&b, "L-%d;thermostat;%d,50\n", i, i)
	}
	ctx, stop := context.WithCancelCause(t.Context())
	defer stop(nil)
	why := errors.New("the shop is closing")
	_, err := s.Import(ctx, ImportQuestion{Name: "list.csv", Raw: []byte(b.String()), Supplier: "Ostrel", Progress: func(done, all int) { stop(why) }})
	if !errors.Is(err, why) || err.Error() != why.Error() {
		t.Errorf("got %v, want %v alone", err, why)
	}
	if left, _ := filepath.Glob(filepath.Join(s.store.Dir(), "staging", "*")); len(left) > 0 {
		t.Errorf("left behind: %v", left)
	}
	if found, err := s.Find(t.Context(), FindQuestion{Words: "L-1", Limit: 5}); err != nil || found.Total != 0 {
		t.Errorf("found %d, %v", found.Total, err)
	}
}
