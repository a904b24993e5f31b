package importers

import (
	"os"
	"path/filepath"
	"reflect"
	"slices"
	"strings"
	"testing"
)

var importStructs = map[string]reflect.Type{
	"supplier": reflect.TypeFor[supplierRow](), "engines": reflect.TypeFor[enginesRow](), "vehicles": reflect.TypeFor[vehiclesRow](),
	"purchases": reflect.TypeFor[purchasesRow](), "returns": reflect.TypeFor[returnsRow](), "fills": reflect.TypeFor[fillsRow](),
	"fitted": reflect.TypeFor[fittedSheetRow](),
}

// A native number would make a count out of "1.23E+11" and an octal number out
// of "010": only types of this package may stand in an import struct.
func TestImportStructsHoldOnlyOwnCellTypes(t *testing.T) {
	own := []reflect.Type{reflect.TypeFor[word](), reflect.TypeFor[whole](), reflect.TypeFor[flag](), reflect.TypeFor[day](), reflect.TypeFor[money]()}
	if len(importStructs) != len(kinds()) {
		t.Fatalf("%d import structs for %d kinds of sheet", len(importStructs), len(kinds()))
	}
	for _, k := range kinds() {
		typ := importStructs[string(k.kind)]
		tags := map[string]bool{}
		for i := range typ.NumField() {
			f := typ.Field(i)
			if !slices.Contains(own, f.Type) {
				t.Errorf("%s.%s has type %s", typ, f.Name, f.Type)
			}
			tags[f.Tag.Get("csv")] = true
		}
		for _, f := range k.fields {
			if !tags[f.name] {
				t.Errorf("%s has no cell for field %s", typ, f.name)
			}
			delete(tags, f.name)
		}
		if delete(tags, rowColumn); len(tags) > 0 {
			t.Errorf("%s has cells without a field: %v", typ, tags)
		}
	}
}

func TestNoOtherSwitchOfGocsvIsTouched(t *testing.T) {
	files, err := filepath.Glob("*.go")
	if err != nil || len(files) < 20 {
		t.Fatal(files, err)
	}
	for _, name := range files {
		text, err := os.ReadFile(name)
		if err != nil {
			t.Fatal(err)
		}
		for _, word := range []string{"Set", "TagName", "TagSeparator", "FieldsCombiner", "ShouldAlign", "Unmarshaller", "ToChan", "Callback"} {
			if strings.Contains(string(text), "gocsv."+word) {
				t.Errorf("%s uses %s of the library", name, word)
			}
		}
	}
}

func TestCellTypesRefuseWhatIsNotCanonical(t *testing.T) {
	type cell interface{ UnmarshalCSV(string) error }
	for _, tc := range []struct {
		cell cell
		good []string
		bad  []string
	}{
		{&whole{}, []string{"", "0", "-5", "12500"}, []string{"1.5", "1,5", "+5", "1e3", " 5", "0x10", "1_000"}},
		{&flag{}, []string{"", "0", "1"}, []string{"yes", "true", "2"}},
		{&day{}, []string{"", "2026-03-04"}, []string{"4.3.2026", "2026-02-30", "45933"}},
		{&money{}, []string{"", "125000", "125000 EUR"}, []string{"12.50", "EUR", "125000EUR", "125000 eur", "125000 "}},
	} {
		for _, s := range tc.good {
			if err := tc.cell.UnmarshalCSV(s); err != nil {
				t.Errorf("%T: %v", tc.cell, err)
			}
		}
		for _, s := range tc.bad {
			if tc.cell.UnmarshalCSV(s) == nil {
				t.Errorf("%T took %q", tc.cell, s)
			}
		}
	}
	for _, n := range []int64{0, 1, -1, 125000, -125000} {
		if got, known := some(n).value(); got != n || !known {
			t.Errorf("%d is kept as %d, %v", n, got, known)
		}
	}
	if _, known := optional(0).value(); known {
		t.Error("nothing counts as stated")
	}
}
