package sqlite

import (
	"context"
	"slices"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"

	"fitfill/catalog"
)

func vehicleSheet(name string, at string, list ...catalog.Vehicle) sheet {
	sh := sheet{info: SheetInfo{Kind: catalog.VehiclesSheet, Name: name, SHA256: name, File: strings.NewReader(name), Mapping: "{}",
		Fields: []string{"engine", "vehicle", name}, ImportedAt: at}}
	for i := range list {
		sh.rows = append(sh.rows, catalog.SheetRow{Line: i + 2, Vehicle: &list[i]})
	}
	return sh
}

func engineSheet(name string, rows ...catalog.EngineRow) sheet {
	sh := sheet{info: SheetInfo{Kind: catalog.EnginesSheet, Name: name, SHA256: name, File: strings.NewReader(name), Mapping: "{}",
		Fields: []string{"family", name}, ImportedAt: "2026-01-02T03:04:05Z"}}
	for i := range rows {
		sh.rows = append(sh.rows, catalog.SheetRow{Line: i + 2, Engine: &rows[i]})
	}
	return sh
}

// Which vehicles have an engine, or a mark, is the same whether the rows are
// looked up or all are read; a newer description counts, however it spells the
// mark and whether a sheet or the log gives it.
func TestVehiclesLookedUpAreThoseOfAll(t *testing.T) {
	ctx := context.Background()
	s := newStore(t)
	vehicleSheet("one", "2026-01-01T00:00:00Z",
		catalog.Vehicle{Mark: "V 17", Engine: "KR6", FirstFill: "green"}, catalog.Vehicle{Mark: "V18", Engine: "KR-6"},
		catalog.Vehicle{Mark: "V19", Engine: "VN4"}, catalog.Vehicle{Mark: "V20"}).load(t, s)
	vehicleSheet("two", "2026-02-01T00:00:00Z", catalog.Vehicle{Mark: "v-17", Engine: "VN4"}, catalog.Vehicle{Mark: "V21", Engine: "kr 6"}).load(t, s)
	for _, v := range []catalog.Vehicle{{Mark: "V-20", Engine: "KR6"}, {Mark: "W1", Engine: "KR6"}, {Mark: "V18", FirstFill: "pink"}} {
		if _, err := s.Log(ctx, catalog.Logged{At: "2026-03-01T00:00:00Z", Vehicle: &v}); err != nil {
			t.Fatal(err)
		}
	}
	err := s.View(ctx, func(v *View) error {
		for _, engine := range []string{"KR6", "VN4", "ZZ9"} {
			got, err := v.VehiclesWith(ctx, []string{engine})
			if err != nil {
				return err
			}
			all, err := (&View{kept: &kept{sheets: v.sheets, words: map[int64]string{}}, with: v.with}).Vehicles(ctx)
			if err != nil {
				return err
			}
			want := slices.DeleteFunc(all, func(c catalog.Vehicle) bool { return catalog.Key(c.Engine) != engine })
			if diff := cmp.Diff(len(want), len(got)); diff != "" || len(want) > 0 && cmp.Diff(want, got) != "" {
				t.Errorf("vehicles with a %s: %v, want %v", engine, got, want)
			}
		}
		for range 2 * askedOften { // looked up first, and then out of all that was read
			got, err := v.VehiclesMarked(ctx, []string{"V17", "V20", "NOBODY", "W1", "V17"})
			if err != nil {
				return err
			}
			var said []string
			for _, c := range got {
				said = append(said, c.Mark+" "+c.Engine+" "+c.FirstFill)
			}
			if diff := cmp.Diff([]string{"V 17 VN4 green", "V20 KR6 ", "W1 KR6 "}, said); diff != "" {
				t.Error(diff)
			}
		}
		return nil
	})
	if err != nil {
		t.Fatal(err)
	}
}

// The names of the families that can be meant are those of all families, one of
// an earlier sheet and one of several in a cell among them.
func TestFamilyNamesLookedUpAreThoseOfAll(t *testing.T) {
	ctx := context.Background()
	s := newStore(t)
	engineSheet("one",
		catalog.EngineRow{Family: "KR6", Facts: []catalog.Fact{{Field: "also_known_as", Word: "LX-9; Vortex 3,8"}, {Field: "make", Word: "Tarn, Ostrel"}, {Field: "model", Word: "Bay|Cove"}}},
		catalog.EngineRow{Family: "VN4", Facts: []catalog.Fact{{Field: "make", Word: "Tarn"}}}, catalog.EngineRow{Family: "SH1"}).load(t, s)
	engineSheet("two", catalog.EngineRow{Family: "kr-6", Facts: []catalog.Fact{{Field: "model", Word: "Dune"}}}).load(t, s)
	err := s.View(ctx, func(v *View) error {
		all, err := v.readFamilyNames(ctx, "", nil)
		if err != nil {
			return err
		}
		for key, want := range map[string][]string{
			"KR6": {"KR6"}, "LX9": {"KR6"}, "VORTEX38": {"KR6"}, "TARN": {"KR6", "VN4"}, "OSTREL": {"KR6"}, "COVE": {"KR6"}, "DUNE": {"KR6"}, "SH1": {"SH1"}, "NOBODY": nil,
		} {
			for range 2 {
				v.famAsked, v.called = 0, nil
				got, err := v.FamilyNamesFor(ctx, []string{key})
				if err != nil {
					return err
				}
				var names []string
				for _, n := range got {
					names = append(names, n.Family)
					if i := slices.IndexFunc(all, func(a FamilyName) bool { return a.Family == n.Family }); i < 0 || cmp.Diff(all[i], n, cmp.AllowUnexported(FamilyName{})) != "" {
						t.Errorf("%s: %+v is not what it is among all", key, n)
					}
				}
				if !slices.Equal(names, want) {
					t.Errorf("%s means %v, want %v", key, names, want)
				}
			}
		}
		return nil
	})
	if err != nil {
		t.Fatal(err)
	}
}

// A folded word goes with the word, and is not left to the next one that gets
// its number.
func TestFoldedWordsGoWithTheirWords(t *testing.T) {
	ctx := context.Background()
	s := newStore(t)
	vehicleSheet("one", "2026-01-01T00:00:00Z", catalog.Vehicle{Mark: "AB 123", VIN: "AB 124", Engine: "KR6"}, catalog.Vehicle{Mark: "CD 45", Engine: "KR6"}).load(t, s)
	lock, err := s.LockImports()
	if err != nil {
		t.Fatal(err)
	}
	defer lock.Unlock()
	is := func(text string) bool { return strings.HasPrefix(catalog.Key(text), "AB12") }
	_, err = s.Forget(ctx, lock, Forget{
		As: "forgotten 1", Keys: []string{"AB123", "AB124"}, Is: is, Cells: func(_ int64, cells []string) []string { return cells },
		Clean: func(text string) string {
			if is(text) {
				return ""
			}
			return text
		},
	}, "2026-01-02T00:00:00Z")
	if err != nil {
		t.Fatal(err)
	}
	var wrong int
	if err := s.read.QueryRow("SELECT count(*) FROM folded f LEFT JOIN word w ON w.id = f.word_id WHERE w.id IS NULL OR f.key <> trade_key(w.text)").Scan(&wrong); err != nil || wrong > 0 {
		t.Errorf("%d folded texts are not those of their words, %v", wrong, err)
	}
	err = s.View(ctx, func(v *View) error {
		for mark, want := range map[string]string{"AB 123": "", "forgotten-1": "forgotten 1", "cd45": "CD 45"} {
			got, err := v.VehiclesMarked(ctx, []string{catalog.Key(mark)})
			if err != nil {
				return err
			}
			if first(got).Mark != want {
				t.Errorf("%s is %v, want %q", mark, got, want)
			}
		}
		return nil
	})
	if err != nil {
		t.Fatal(err)
	}
}

// A part that an earlier sheet called otherwise is found by either type: which
// one counts now is read with its facts. Lists of other types are left out.
func TestListingsOfATypeAreLookedUp(t *testing.T) {
	ctx := context.Background()
	s := newStore(t)
	typed := func(name string, types map[string]string) {
		var lines []string
		for number := range types {
			lines = append(lines, number+";82;KR6")
		}
		slices.Sort(lines)
		sh := supplierSheet("Quern", name, lines...)
		for _, r := range sh.rows {
			r.Part.Facts = append(r.Part.Facts, catalog.Fact{Field: "type", Word: types[r.Part.Number]})
		}
		sh.load(t, s)
	}
	typed("a.csv", map[string]string{"TX-1": "thermostat", "TX-2": "seal", "TX-3": "thermostat"})
	typed("a.csv", map[string]string{"TX-1": "seal", "TX-2": "seal", "TX-3": "thermostat"})
	err := s.View(ctx, func(v *View) error {
		for _, c := range []struct {
			types, want []string
		}{{nil, []string{"TX-1", "TX-2", "TX-3"}}, {[]string{"thermostat"}, []string{"TX-1", "TX-3"}}, {[]string{"seal"}, []string{"TX-1", "TX-2"}}, {[]string{"hose"}, nil}} {
			listed, err := v.ListedFor(ctx, []string{"KR6"}, c.types...)
			if err != nil {
				return err
			}
			var numbers []string
			for id := range listed {
				parts, err := v.Parts(ctx, []int64{id})
				if err != nil {
					return err
				}
				numbers = append(numbers, parts[0].Number)
			}
			slices.Sort(numbers)
			if !slices.Equal(numbers, c.want) {
				t.Errorf("listed of type %v: %v, want %v", c.types, numbers, c.want)
			}
		}
		seals, err := v.PartIDsOfType(ctx, "seal")
		if err != nil || len(seals) != 2 { // TX-1 was none before
			t.Errorf("%d parts are seals, %v", len(seals), err)
		}
		types, err := v.PartTypes(ctx)
		if !slices.Equal(types, []string{"seal", "thermostat"}) {
			t.Errorf("the types are %v", types)
		}
		return err
	})
	if err != nil {
		t.Fatal(err)
	}
}
