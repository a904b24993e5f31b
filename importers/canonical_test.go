package importers

import (
	"strings"
	"testing"

	"fitfill/catalog"
	"fitfill/catalog/units"

	"pgregory.net/rapid"
)

func columnOf(t testing.TB, kind catalog.SheetKind, c Column) *planColumn {
	t.Helper()
	voc, err := newVocabulary(reference(t))
	if err != nil {
		t.Fatal(err)
	}
	f, ok := specOf(kind).field(c.Field)
	if !ok {
		t.Fatalf("no field %s", c.Field)
	}
	col := &planColumn{Column: c, field: f, voc: voc, cache: map[string]*seenCell{}}
	switch f.kind {
	case catalog.KindBool:
		col.list = voc.yesNo(f.name)
	case catalog.KindText:
		col.list = voc.listFor(f.name)
	}
	return col
}

// The damage that spreadsheets do to part numbers is common practice; that
// numbers and names turn into dates and floats is counted in "Gene name errors:
// Lessons not learned", PLOS Computational Biology 2021, e1008984.
func TestPartNumbersAreTextAndDamageIsSeen(t *testing.T) {
	col := columnOf(t, catalog.SupplierSheet, Column{Field: "number"})
	for cell, want := range map[string]string{
		"0004711": "0004711", " 00123\u00a0": "00123", `="00123"`: "00123", "1_000": "1_000", "0x10": "0x10", "010": "010",
		"12E3": "12E3", "AB 12-3/4": "AB 12-3/4", "MAR-10": "MAR-10", "1.5": "1.5", "E10-3": "E10-3", "N-A": "N-A", "DEC": "DEC",
		"12345678901234567890": "12345678901234567890", "MAY 12 B": "MAY 12 B", "4711.0": "4711.0", "#12": "#12", "54,0": "54,0",
		`=HYPERLINK("http://x.invalid","P-1")`: "P-1", `=hyperlink("x"; "A ""B"" 1")`: `A "B" 1`,
	} {
		if got := col.read(cell); got.problem != nil || got.text != want {
			t.Errorf("%q: %q %+v", cell, got.text, got.problem)
		}
	}
	for cell, code := range map[string]string{
		"1.23E+11": "part-exponent", "1,23E+11": "part-exponent", "1E+11": "part-exponent", "1.2e11": "part-exponent",
		"3-Oct": "part-date", "03-oct": "part-date", "Oct-03": "part-date", "3. Okt": "part-date", "Mrz 10": "part-date", "03/10/2025": "part-date",
		"2025-10-03": "part-date", "3-Oct-2025": "part-date", "######": "sheet-error", "#N/A": "sheet-error", "#REF!": "sheet-error", "#DIV/0!": "sheet-error",
		"=A1*2": "formula", `=HYPERLINK(A1;"P-1")`: "formula", `=HYPERLINK("x";A2)`: "formula", `="=1+1"`: "formula", `="1.23E+11"`: "part-exponent", "---": "part-number", "\u0410-12": "part-lookalike", "A\x0012": "control-char",
	} {
		if got := col.read(cell); got.problem == nil || got.problem.code != code {
			t.Errorf("%q: %q %+v, want %s", cell, got.text, got.problem, code)
		}
	}
}

func TestPartNumbersKeepEveryDigit(t *testing.T) {
	col := columnOf(t, catalog.SupplierSheet, Column{Field: "number"})
	rapid.Check(t, func(t *rapid.T) {
		number := rapid.StringMatching(`[0-9]{1,20}(\.[0-9]{1,3})?|0[xX]?[0-9]{2,6}|[0-9]{2}E[0-9]{2}`).Draw(t, "number")
		if got := col.read(number); got.problem != nil || got.text != number {
			t.Fatalf("%q became %q (%+v)", number, got.text, got.problem)
		}
	})
}

func TestCellsAreReadByTheReadingOfTheirColumn(t *testing.T) {
	for _, tc := range []struct {
		column Column
		cells  map[string]string // "!code" for a problem
	}{
		{Column{Field: "price", Currency: "EUR", Decimal: Comma}, map[string]string{
			"12,50": "125000 EUR", "1.234,56": "12345600 EUR", "1.234": "12340000 EUR", "€ 12,50": "125000 EUR", "12,50 USD": "125000 USD",
			"12.50": "!number-marks", "1,234.56": "!number-marks", "0": "", "0,00": "", "on request": "", "auf Anfrage": "", "-": "", "n/a": "", "#N/A": "!sheet-error",
			"-3,00": "-30000 EUR", "12,50-": "-125000 EUR", "(3,00)": "-30000 EUR", "3,00 CR": "-30000 EUR", "1'234,50": "12345000 EUR", "1 234,50": "12345000 EUR", "twelve": "!price", "0,1234": "1234 EUR",
			"12,50 EUR/Stk.": "125000 EUR", "12,50 €/St": "125000 EUR", "12,50 je Stück": "125000 EUR", "12,50 EUR/100": "!price", "12,50 EUR/l": "!price", "12,50/Pack": "!price",
			"12,-": "120000 EUR", "4.-": "40000 EUR", "CHF 12.--": "120000 CHF", "1.234,-- €": "12340000 EUR", "12,–": "120000 EUR", "-4,-": "!price", "12-": "-120000 EUR", "1,-2": "!price",
		}},
		{Column{Field: "price", Decimal: Point}, map[string]string{"1,234.56": "12345600", "1,234": "12340000", "1,00,000": "1000000000", "12,34,567.89": "12345678900", "1,0,000": "!number-marks", "1.234": "12340", "12,50": "!number-marks", "$4.50": "45000 USD|!"}},
		{Column{Field: "pack", Decimal: ""}, map[string]string{"10": "10000", "10 pcs": "10000", "10 Stk.": "10000", "2.5": "2500", "a few": "!count", "1e3": "!count"}},
		{Column{Field: "pack"}, map[string]string{"10-": "!count"}},
		{Column{Field: "opening_temp"}, map[string]string{"82": "82000", "195": "90556", "82 °C": "82000", "82/95": "82000", "40": "!temperature-unclear"}},
		{Column{Field: "flange_diameter", Unit: units.UnitMillimetre, Decimal: Comma}, map[string]string{"54,0": "54000000", `2-1/8"`: "53975000", "5,4 cm": "54000000"}},
		{Column{Field: "price", Currency: "EUR", Decimal: Comma, Mixed: true}, map[string]string{"12,50": "125000 EUR", "(3.00)": "-30000 EUR", "1.234": "!number-marks", "1.234,56": "12345600 EUR", "1,234.56": "!number-marks"}},
		{Column{Field: "pack_volume", Stated: true}, map[string]string{"5 l": "5000000000", "5000ml": "5000000000", "5": "!unit-missing"}},
		{Column{Field: "strength", Percent: Fraction}, map[string]string{"0.5": "500000", "0.333": "333000", "1": "1000000", "33 %": "330000", "1.5": "!percent"}},
		{Column{Field: "strength", Percent: Hundred}, map[string]string{"0.5": "5000", "50": "500000"}},
		{Column{Field: "years", Arrows: "timeline", Pairs: "years"}, map[string]string{">92": "to 1992", "03/04": "2003-2004"}},
		{Column{Field: "years", Arrows: "compare", Pairs: "month"}, map[string]string{">92": "from 1992", "03/04": "built 2004-03"}},
		{Column{Field: "years"}, map[string]string{">92": "!years-unclear", "03/04": "!years-unclear"}},
		{Column{Field: "description"}, map[string]string{"Seal &amp; ring<br>82&deg;": "Seal & ring 82°", "A & B": "A & B"}},
		{Column{Field: "flange_diameter"}, map[string]string{"54.0": "!length-unclear", "54.0 mm": "54000000"}},
		{Column{Field: "cap_pressure", Unit: units.UnitPSI}, map[string]string{"15": "103421359", "1.1 bar": "110000000"}},
		{Column{Field: "strength", Unit: percentUnit}, map[string]string{"50": "500000", "0.5": "5000", "33.3 %": "333000", "120": "!percent"}},
		{Column{Field: "strength"}, map[string]string{"0.5": "!percent-unclear", "50": "500000"}},
		{Column{Field: "seal_included"}, map[string]string{"ja": "1", "Yes": "1", "x": "1", "✓": "1", "ohne": "0", "none": "0", "0": "0", "?": "", "maybe": "!word-unknown"}},
		{Column{Field: "stock_date", Dates: "dmy"}, map[string]string{
			"03/04/2026": "2026-04-03", "3.4.26": "2026-04-03", "3.4.69": "2069-04-03", "3.4.70": "1970-04-03", "2026-04-03": "2026-04-03", "20260403": "2026-04-03",
			"2026-04-03T10:15:00": "2026-04-03", "3 Apr 2026": "2026-04-03", "3. April 2026": "2026-04-03", "Apr 3, 2026": "2026-04-03",
			"31/04/2026": "!date-impossible", "04/13/2026": "!date-impossible", "45933": "!date", "soon": "!date",
		}},
		{Column{Field: "stock_date"}, map[string]string{"03/04/2026": "!date-order", "13/04/2026": "2026-04-13", "04/13/2026": "2026-04-13", "04/04/2026": "2026-04-04"}},
		{Column{Field: "stock_date", Dates: "mdy"}, map[string]string{"03/04/2026": "2026-03-04"}},
		{Column{Field: "chemistry"}, map[string]string{
			"OAT": "oat", "Si-OAT": "si-oat", "P-OAT": "p-hoat", "NOAT": "noat", "Silicated OAT": "si-oat", "unknown": "unknown",
			"HOAT": "!word-unclear", "conventional green": "!word-unclear", "Long Life": "!word-unclear", "green stuff": "!word-unknown",
		}},
		{Column{Field: "glycol"}, map[string]string{"MEG": "ethylene", "EG": "ethylene", "propylene glycol": "propylene", "glycerin": "!word-unknown"}},
		{Column{Field: "form"}, map[string]string{"Konzentrat": "concentrate", "50/50": "premix", "gel": "!word-unknown"}},
		{Column{Field: "type"}, map[string]string{
			"Thermostats": "thermostat", "Seal, thermostat": "seal", "seal for thermostat": "seal", "thermostat with seal": "thermostat", "Radiator cap 15 lb": "Radiator cap 15 lb",
			"lower radiator hose": "hose", "Thermostatgehäuse": "housing", "head gasket": "other", "oil filter": "other", "Wheel bearing": "Wheel bearing",
		}},
		{Column{Field: "colour"}, map[string]string{"grün": "green", "GREEN": "green", "blue-green": "blue-green"}},
		{Column{Field: "cap_form"}, map[string]string{"Bajonett": "bayonet", "screw-on": "thread", "magnet": "!word-unknown"}},
		{Column{Field: "relation"}, map[string]string{"supersedes": "replaces", "superseded by": "replaced_by", "OE": "same"}},
		{Column{Field: "price_per"}, map[string]string{"each": "each", "Stk.": "each", "VPE": "pack", "Liter": "litre", "100": "100", "per 10": "10", "je 100 Stk.": "100", "per C": "100", "per 1": "each", "0": "!word-unknown", "per 100 miles": "!word-unknown"}},
		{Column{Field: "years"}, map[string]string{"1998-2003": "1998-2003", "now and then": "!years"}},
		{Column{Field: "notes"}, map[string]string{"n/a": "", "k.A.": "", "  fits\twell ": "fits well", "=1+1": "!formula"}},
		{Column{Field: "currency"}, map[string]string{"€": "EUR", "euro": "EUR", "sek": "SEK", "BRL": "BRL", "beads": "!currency"}},
	} {
		col := columnOf(t, catalog.SupplierSheet, tc.column)
		for cell, want := range tc.cells {
			for range 2 { // the second reading comes from memory
				out := col.read(cell)
				got := out.text
				if out.problem != nil {
					got = "!" + out.problem.code
					if !strings.Contains(out.problem.why, " ") {
						t.Errorf("%s %q: the reason %q is no sentence", tc.column.Field, cell, out.problem.why)
					}
				}
				if got != want && !strings.HasPrefix(want, got+"|") && !(strings.HasSuffix(want, "|!") && out.problem != nil) {
					t.Errorf("%s %q: %s, want %s (%+v)", tc.column.Field, cell, got, want, out.problem)
				}
			}
		}
	}
}

func TestReadingACanonicalNumberAgainGivesTheSame(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		n := rapid.Int64Range(1, 9_999_999).Draw(t, "cents")
		whole, cents := n/100, n%100
		for _, decimal := range []string{Comma, Point} {
			mark, group := ".", ","
			if decimal == Comma {
				mark, group = ",", "."
			}
			digits := decimals(whole)
			if len(digits) > 3 {
				digits = digits[:len(digits)-3] + group + digits[len(digits)-3:]
			}
			text := digits + mark + decimals(cents/10) + decimals(cents%10)
			p, ok := plain(text, decimal, true, false)
			got, fits := scaled(p, 4)
			if again, _ := plain(p, Point, true, false); !ok || !fits || got != n*100 || again != p {
				t.Fatalf("%q as %s: %q, %d", text, decimal, p, got)
			}
		}
	})
}
