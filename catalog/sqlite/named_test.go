package sqlite

import (
	"context"
	"testing"
)

// A make, a model or an engine that the newest lists no longer name is gone
// with the generation that named it; before, it leads to its engines.
func TestNamesLeadToEnginesAsLongAsAListHasThem(t *testing.T) {
	s := newStore(t)
	ctx := context.Background()
	supplierSheet("Quern", "a.csv", "TX-1;82;KR6", "TX-2;82;SH1", "TX-3;82;SH2", "TX-4;82;SH3").load(t, s)
	look := func(engine string) (apps, names int) {
		t.Helper()
		err := s.View(ctx, func(v *View) error {
			list, err := v.Applications(ctx, []string{"TARN"}, nil)
			if err != nil {
				return err
			}
			for _, a := range list {
				if a.Engine == engine {
					apps++
				}
			}
			found, err := v.VehicleNames(ctx, []string{"TARN", "NOBODY"})
			if err != nil {
				return err
			}
			for _, n := range found {
				if n.Make && !n.Model {
					names++
				}
			}
			return nil
		})
		if err != nil {
			t.Fatal(err)
		}
		return apps, names
	}
	if apps, names := look("KR6"); apps != 1 || names != 1 {
		t.Errorf("%d applications, %d names", apps, names)
	}
	// Three generations later nothing names the first engine any more, and the
	// purge must not stumble over its folded name.
	for _, engine := range []string{"VN4", "VN5", "VN6"} {
		supplierSheet("Quern", "a.csv", "TX-1;82;"+engine, "TX-2;82;SH1", "TX-3;82;SH2", "TX-4;82;SH3").load(t, s)
	}
	if apps, _ := look("KR6"); apps != 0 {
		t.Errorf("%d applications of an engine that no list names", apps)
	}
	err := s.View(ctx, func(v *View) error {
		names, err := v.EngineNames(ctx, []string{"KR6", "VN6"})
		if len(names) != 1 || names["VN6"] != "VN6" {
			t.Errorf("engine names %v", names)
		}
		return err
	})
	if err != nil {
		t.Fatal(err)
	}
}
