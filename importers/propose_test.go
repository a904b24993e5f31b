package importers

import (
	"encoding/json"
	"slices"
	"strings"
	"testing"

	"fitfill/catalog"
	"fitfill/catalog/units"

	"github.com/google/go-cmp/cmp"
)

func propose(t *testing.T, kind catalog.SheetKind, raw string, opt Options) (*Sheet, Mapping, []Question) {
	t.Helper()
	ref := reference(t)
	s, err := Open(ref, "list.csv", []byte(raw), opt.Settings)
	if err != nil {
		t.Fatal(err)
	}
	m, questions := Propose(ref, kind, s, opt)
	return s, m, questions
}

func column(m Mapping, field string) Column {
	i := slices.IndexFunc(m.Columns, func(c Column) bool { return c.Field == field })
	if i < 0 {
		return Column{Index: -1}
	}
	return m.Columns[i]
}

func TestWhatWouldBeGuessedIsAsked(t *testing.T) {
	for name, tc := range map[string]struct {
		kind    catalog.SheetKind
		raw     string
		opt     Options
		want    string // in the question
		choice  string
		command string
	}{
		"unknown column": {catalog.SupplierSheet, "Part No,Price,Flange colour code\nA-1,5.50,x7\n", Options{},
			`"Flange colour code" (x7)`, "flange_diameter", `--ignore "Flange colour code"`},
		"no part number": {catalog.SupplierSheet, "foo,Price\nA-1,5.50\n", Options{}, "looks most like number, which a supplier sheet needs", "number", `--map number="foo"`},
		"filled column without heading": {catalog.SupplierSheet, "Part No,Price,\nA-1,5.50,x\n", Options{},
			`"column 3"`, "ignore", `--ignore "column 3"`},
		"two prices that differ": {catalog.SupplierSheet, "Part No,Price,Price\nA-1,5.50,6.50\n", Options{},
			`"Price" and "Price#2"`, "Price#2", `--map price="Price"`},
		"decimal mark": {catalog.SupplierSheet, "Part No;Price\nA-1;1.234\nA-2;7\n", Options{}, "like 1.234", Comma, "--set decimal=comma"},
		"decimal comma of a length": {catalog.SupplierSheet, "Part No;Flange mm\nA-1;1,234\n", Options{}, "like 1,234", Comma,
			"--set decimal=comma"},
		"order of dates": {catalog.ReturnsSheet, "date,supplier,number,reason\n03/04/2026,Ostrel,A-1,leaks\n", Options{}, "like 03/04/2026", "mdy", "--set dates=dmy"},
		"both orders proven": {catalog.ReturnsSheet, "date,supplier,number,reason\n13/04/2026,Ostrel,A-1,leaks\n04/13/2026,Ostrel,A-1,leaks\n", Options{},
			"day first", "dmy", "--set dates=dmy"},
		"unit of lengths":  {catalog.SupplierSheet, "Part No,Flange\nA-1,54.0\n", Options{}, "without a unit", "mm", `--set unit=mm or --set unit=cm`},
		"unit of pressure": {catalog.SupplierSheet, "Part No,Cap pressure\nA-1,15\n", Options{}, "without a unit", "psi", `--set unit=kPa or --set unit=bar`},
		"map of an unknown field": {catalog.SupplierSheet, "Part No,Odd\nA-1,5\n", Options{Maps: map[string]string{"flange": "Odd"}, Ignore: []string{"Odd"}},
			`"flange" is not a field`, "flange_diameter", `--map FIELD="Odd"`},
		"map of an unknown heading":    {catalog.SupplierSheet, "Part No\nA-1\n", Options{Maps: map[string]string{"price": "Cost"}}, `no column "Cost"`, "Part No", "--map price="},
		"ignore of an unknown heading": {catalog.SupplierSheet, "Part No\nA-1\n", Options{Ignore: []string{"Cost"}}, `no column "Cost"`, "Part No", ""},
		"unknown kind":                 {"wheels", "Part No\nA-1\n", Options{}, "no kind of sheet", "engines", "--as supplier"},
	} {
		t.Run(name, func(t *testing.T) {
			_, _, questions := propose(t, tc.kind, tc.raw, tc.opt)
			if len(questions) != 1 && name != "no part number" {
				t.Fatalf("questions: %+v", questions)
			}
			q := questions[len(questions)-1]
			if !strings.Contains(q.Question, tc.want) || !slices.Contains(q.Choices, tc.choice) || !strings.Contains(q.Command, tc.command) {
				t.Errorf("got %+v", q)
			}
		})
	}
}

func TestColumnsShowTheirOwnDecimalMarkAndDateOrder(t *testing.T) {
	_, m, questions := propose(t, catalog.SupplierSheet, "Part No;Price;Flange mm;Stock as of\nA-1;1.234;54,0;03/04/2026\nA-2;1.234,50;44.5;23/04/2026\nA-3;7;53,9;01/02/2026\n", Options{})
	if len(questions) > 0 {
		t.Fatal(questions)
	}
	if c := column(m, "price"); c.Decimal != Comma {
		t.Errorf("price: %+v", c)
	}
	if c := column(m, "flange_diameter"); c.Decimal != Comma || c.Unit != units.UnitMillimetre {
		t.Errorf("flange: %+v", c)
	}
	if c := column(m, "stock_date"); c.Dates != "dmy" {
		t.Errorf("stock date: %+v", c)
	}
}

func TestUnitsAndCurrenciesAreReadFromHeadings(t *testing.T) {
	for heading, want := range map[string]Column{
		"Flange OD (mm)":        {Field: "flange_diameter", Unit: units.UnitMillimetre},
		"flange_od_in":          {Field: "flange_diameter", Unit: units.UnitInch},
		"Flange in mm":          {Field: "flange_diameter", Unit: units.UnitMillimetre},
		"Flange in":             {Field: "flange_diameter", Unit: units.UnitInch},
		"Opening °C":            {Field: "opening_temp", Unit: units.UnitCelsius},
		"Start-to-open temp, F": {Field: "opening_temp", Unit: units.UnitFahrenheit},
		"opening_temp":          {Field: "opening_temp"},
		"Price EUR":             {Field: "price", Currency: "EUR"},
		"Net price [£]":         {Field: "price", Currency: "GBP"},
		"Preis in EUR":          {Field: "price", Currency: "EUR"},
		"Prix HT €":             {Field: "price", Currency: "EUR"},
		"Cap pressure (psi)":    {Field: "cap_pressure", Unit: units.UnitPSI},
		"Contents US gal":       {Field: "pack_volume", Unit: units.UnitUSGallon},
		"Öffnungstemperatur":    {Field: "opening_temp"},
		"Strength %":            {Field: "strength", Unit: percentUnit},
	} {
		voc, err := newVocabulary(reference(t))
		if err != nil {
			t.Fatal(err)
		}
		f, unit, currency, ok := voc.resolve(specOf(catalog.SupplierSheet), heading)
		if got := (Column{Field: f.name, Unit: unit, Currency: currency}); !ok || got != want {
			t.Errorf("%s: %+v, want %+v", heading, got, want)
		}
	}
}

func TestAPersonsWordGoesBeforeTheSavedMappingAndTheTable(t *testing.T) {
	raw := "Part No,Price,Cost,Odd,Aisle\nA-1,5.50,4.50,54.0,7\n"
	_, m, questions := propose(t, catalog.SupplierSheet, raw, Options{
		Maps: map[string]string{"price": "Cost", "flange_diameter": "Odd"}, Ignore: []string{"Aisle", "Price"}, Settings: Settings{"unit": "mm", "currency": "EUR"},
	})
	if len(questions) > 0 {
		t.Fatal(questions)
	}
	if c := column(m, "price"); c.Heading != "Cost" || c.Currency != "EUR" {
		t.Errorf("price: %+v", c)
	}
	text, err := json.Marshal(m)
	if err != nil {
		t.Fatal(err)
	}
	var saved Mapping
	if err := json.Unmarshal(text, &saved); err != nil {
		t.Fatal(err)
	}
	if d := cmp.Diff(m, saved); d != "" {
		t.Fatalf("the mapping changes when it is saved:\n%s", d)
	}
	moved := "Aisle,Odd,Price,Cost,Part No\n7,53.9,5.50,4.40,A-1\n"
	_, again, questions := propose(t, catalog.SupplierSheet, moved, Options{Saved: &saved})
	if len(questions) > 0 {
		t.Fatal(questions)
	}
	if c := column(again, "flange_diameter"); c.Index != 1 || c.Unit != units.UnitMillimetre {
		t.Errorf("columns that changed places are found by name: %+v", c)
	}
	if c := column(again, "price"); c.Index != 3 || c.Currency != "EUR" || !slices.Contains(again.Ignored, "Price") {
		t.Errorf("price: %+v, ignored %v", c, again.Ignored)
	}
	_, again, _ = propose(t, catalog.SupplierSheet, moved, Options{Saved: &saved, Maps: map[string]string{"price": "Price"}, Ignore: []string{"Cost"}})
	if c := column(again, "price"); c.Heading != "Price" {
		t.Errorf("the saved mapping overruled a person: %+v", c)
	}
}

func TestDoubleHeadingsNeverLetTheLastOneWin(t *testing.T) {
	for raw, want := range map[string]int{
		"Part No,Price,Price\nA-1,5.50,5.50\n": 1,
		"Part No,Price,Price\nA-1,5.50,\n":     1,
		"Part No,Price,Price\nA-1,,5.50\n":     2,
	} {
		_, m, questions := propose(t, catalog.SupplierSheet, raw, Options{})
		if c := column(m, "price"); len(questions) > 0 || c.Index != want {
			t.Errorf("%q: price from column %d, questions %v", raw, c.Index, questions)
		}
	}
	_, m, questions := propose(t, catalog.SupplierSheet, "Part No,Price,Price\nA-1,5.50,6.50\n", Options{Maps: map[string]string{"price": "Price#2"}, Ignore: []string{"Price"}})
	if c := column(m, "price"); len(questions) > 0 || c.Index != 2 {
		t.Errorf("Price#2 was chosen: %+v %v", c, questions)
	}
}

func TestTheProposalDoesNotDependOnAnEmptyColumn(t *testing.T) {
	_, plainMap, _ := propose(t, catalog.SupplierSheet, "Part No;Price EUR\nA-1;5,50\n", Options{})
	_, wider, questions := propose(t, catalog.SupplierSheet, "Part No;Price EUR;;Spare\nA-1;5,50;;\n", Options{})
	if d := cmp.Diff(plainMap.Columns, wider.Columns); d != "" || len(questions) > 0 {
		t.Errorf("%s %v", d, questions)
	}
	if !slices.Equal(wider.Ignored, []string{"column 3", "Spare"}) {
		t.Errorf("empty columns are listed: %q", wider.Ignored)
	}
}

// What a heading states of its own column beats what is said of the sheet, and
// fractions are taken for inches first.
func TestTheHeadingsOwnUnitBeatsTheSettingOfTheSheet(t *testing.T) {
	const raw = "Part No;Flange Diameter (in.);Flange Thickness\nA-1;2-1/8;1/16\nA-2;2-1/8;0.063\n"
	_, _, questions := propose(t, catalog.SupplierSheet, raw, Options{})
	if len(questions) != 1 || questions[0].Choices[0] != "in" {
		t.Errorf("questions %+v", questions)
	}
	_, m, _ := propose(t, catalog.SupplierSheet, raw, Options{Settings: Settings{"unit": "mm"}})
	if c := column(m, "flange_diameter"); c.Unit != units.UnitInch {
		t.Errorf("a diameter stated in inches is read in %s", c.Unit)
	}
}
