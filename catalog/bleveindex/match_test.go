package bleveindex

import (
	"context"
	"encoding/binary"
	"errors"
	"fmt"
	"os"
	"path/filepath"
	"slices"
	"testing"

	"pgregory.net/rapid"

	"fitfill/catalog"
)

func TestTheFirstPlacesAreKeptInWhateverOrderTheyCome(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		places := rapid.SliceOfDistinct(rapid.Uint32Range(0, 99), rapid.ID[uint32]).Draw(t, "places")
		most := rapid.IntRange(0, 30).Draw(t, "most")
		o := &order{count: 100}
		for n := range uint32(100) {
			o.places = binary.LittleEndian.AppendUint32(o.places, n)
			o.parts = binary.LittleEndian.AppendUint64(o.parts, uint64(n))
		}
		first := firstPlaces{order: o, most: most}
		for _, p := range places {
			if err := first.add(int(p)); err != nil {
				t.Fatal(err)
			}
		}
		var want []int64
		slices.Sort(places)
		for _, p := range places[:min(most, len(places))] {
			want = append(want, int64(p))
		}
		if got := first.found(len(places)); !slices.Equal(got.IDs, want) || got.Total != len(places) {
			t.Errorf("got %+v, want %v of %d", got, want, len(places))
		}
	})
}

func TestAnOrderThatDoesNotFitIsDamage(t *testing.T) {
	for name, spoil := range map[string]func(file string) error{
		"gone":     os.Remove,
		"cut off":  func(file string) error { return os.Truncate(file, placeBytes+partBytes+1) },
		"of fewer": func(file string) error { return os.Truncate(file, placeBytes+partBytes) },
		"out of range": func(file string) error {
			return os.WriteFile(file, slices.Repeat([]byte{255}, 2*(placeBytes+partBytes)), 0o644)
		},
	} {
		t.Run(name, func(t *testing.T) {
			dir := t.TempDir()
			build(t, dir, "one", part(1, "TX-1", "thermostat", "Thermostat"), part(2, "TX-2", "thermostat", "Thermostat"))
			if err := spoil(filepath.Join(dir, "one", orderFile)); err != nil {
				t.Fatal(err)
			}
			x, err := Open(dir, []string{"one"})
			if err != nil {
				t.Fatal(err)
			}
			defer x.Close()
			if found, err := x.Search(context.Background(), Query{Prefix: "TX"}, 10); !errors.Is(err, ErrDamaged) {
				t.Errorf("got %+v, %v", found, err)
			}
		})
	}
}

func TestASearchThatNobodyWaitsForEnds(t *testing.T) {
	x := twoSuppliers(t)
	ctx, cancel := context.WithCancel(context.Background())
	cancel()
	if _, err := x.Search(ctx, Query{Prefix: "TX"}, 10); !errors.Is(err, context.Canceled) {
		t.Errorf("got %v", err)
	}
}

func TestPartsForManyEnginesAreThoseOfEach(t *testing.T) {
	dir := t.TempDir()
	var docs []catalog.SearchDoc
	for n := range 300 {
		docs = append(docs, part(int64(n+1), fmt.Sprintf("A-%03d", n), []string{"thermostat", "seal"}[n%2], "Part", fmt.Sprintf("E%d", n%30), fmt.Sprintf("F%d", n%7)))
	}
	build(t, dir, "one", docs...)
	x, err := Open(dir, []string{"one"})
	if err != nil {
		t.Fatal(err)
	}
	defer x.Close()
	rapid.Check(t, func(t *rapid.T) {
		engines := rapid.SliceOfNDistinct(rapid.SampledFrom([]string{"E0", "E1", "E2", "E3", "E4", "E5", "E6", "E7", "E8", "E9", "F0", "F1", "F2", "none"}), 1, -1, rapid.ID[string]).Draw(t, "engines")
		q := Query{EngineKeys: engines}
		if rapid.Bool().Draw(t, "with a type") {
			q.Types = []string{"seal"}
		}
		var want []int64
		for _, d := range docs {
			if (q.Types == nil || d.Type == "seal") && slices.ContainsFunc(d.Engines, func(e string) bool { return slices.Contains(engines, e) }) {
				want = append(want, d.ID)
			}
		}
		found, types, _, err := x.SearchCounted(context.Background(), q, len(docs))
		if err != nil || !slices.Equal(found[0].IDs, want) || found[0].Total != len(want) {
			t.Fatalf("%v: got %+v, want %v, %v", engines, found, want, err)
		}
		sum := 0
		for _, v := range types {
			sum += v.Count
		}
		if sum != len(want) {
			t.Errorf("%d parts by type of %d", sum, len(want))
		}
	})
}

func TestReopenTakesOverWhatIsOpen(t *testing.T) {
	dir := t.TempDir()
	build(t, dir, "one", part(1, "TX-1", "thermostat", "Thermostat"))
	build(t, dir, "two", part(2, "TX-2", "thermostat", "Thermostat"))
	build(t, dir, "new", part(3, "TX-3", "thermostat", "Thermostat"))
	was, err := Open(dir, []string{"one", "two"})
	if err != nil {
		t.Fatal(err)
	}
	now, err := was.Reopen(dir, []string{"one", "new"})
	if err != nil {
		t.Fatal(err)
	}
	if now.open[0] != was.open[0] {
		t.Error("the folder was opened twice")
	}
	for _, tc := range []struct {
		x    *Index
		want []int64
	}{{was, []int64{1, 2}}, {now, []int64{1, 3}}} {
		found, err := tc.x.Search(context.Background(), Query{Prefix: "TX"}, 10)
		if err != nil {
			t.Fatal(err)
		}
		if got := []int64{found[0].IDs[0], found[1].IDs[0]}; !slices.Equal(got, tc.want) {
			t.Errorf("got %v, want %v", got, tc.want)
		}
		if err := tc.x.Close(); err != nil { // the first closes while the second goes on
			t.Error(err)
		}
	}
	if _, err := documentCount(was.open[1]); err == nil {
		t.Error("an index that nobody uses is still open")
	}
}
