package bleveindex

import (
	"context"
	"encoding/binary"
	"errors"
	"os"
	"path/filepath"
	"slices"
	"testing"

	"github.com/blevesearch/bleve/v2/search"
	"pgregory.net/rapid"
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
			hit := &search.DocumentMatch{IndexInternalID: binary.BigEndian.AppendUint64(nil, uint64(p))}
			if err := first.add(hit); err != nil {
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
