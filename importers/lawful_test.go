package importers

import (
	"fmt"
	"strings"
	"testing"

	"fitfill/catalog"
	"fitfill/catalog/units"

	"pgregory.net/rapid"
)

// checkNumber is the law of part numbers: what comes out is what went in, or the
// row is held.
func checkNumber(t interface{ Fatalf(string, ...any) }, col *planColumn, cell string) {
	out := col.read(cell)
	switch {
	case out.problem != nil || out.text == trim(cell):
	case (out.note == "formula-text" || out.note == "formula-link") && strings.Contains(strings.ReplaceAll(cell, `""`, `"`), out.text):
	default:
		t.Fatalf("%q became %q", cell, out.text)
	}
	if out.problem == nil && out.text != "" && col.read(out.text).problem == nil && col.read(out.text).text != out.text {
		t.Fatalf("%q is read as %q, and that as %q", cell, out.text, col.read(out.text).text)
	}
}

func FuzzPartNumber(f *testing.F) {
	for _, s := range []string{"0004711", "1.23E+11", "12E3", "4711.0", "45933", "3-Oct", `="00123"`, `=HYPERLINK("x","P-1")`, "AB\u00a012", "\u0410-12", "010", "0x10", "1_000"} {
		f.Add(s)
	}
	col := columnOf(f, catalog.SupplierSheet, Column{Field: "number"})
	col.numbers = &numberModel{limits: col.voc.limits, dateable: 5, all: 9, usual: 7}
	f.Fuzz(func(t *testing.T, cell string) { checkNumber(t, col, cell) })
}

func TestNoDigitOfAPartNumberChanges(t *testing.T) {
	col := columnOf(t, catalog.SupplierSheet, Column{Field: "number"})
	for _, model := range []*numberModel{nil, {limits: col.voc.limits, dateable: 5, all: 9, usual: 7}, {limits: col.voc.limits, plainE: 3, all: 9}} {
		col.numbers = model
		rapid.Check(t, func(t *rapid.T) {
			checkNumber(t, col, rapid.StringMatching(`0{0,4}[0-9]{1,12}([.,][0-9]{1,3})?(E[+-]?[0-9]{1,2})?|[A-Z0-9 ./-]{1,12}|[0-9]{1,2}-[0-9]{1,2}`).Draw(t, "number"))
		})
	}
}

// checkAmount is the law of amounts: what was accepted, printed in the column's
// own way of writing, is the same amount again.
func checkAmount(t interface{ Fatalf(string, ...any) }, col *planColumn, cell string) {
	out := col.read(cell)
	if out.problem != nil || out.text == "" {
		return
	}
	var m money
	if err := m.UnmarshalCSV(out.text); err != nil {
		t.Fatalf("%q is read as %q: %v", cell, out.text, err)
	}
	n, currency, _ := m.fact()
	printed := units.MoneyOf(n, currency).Exact()
	if col.Decimal == Comma {
		printed = strings.Replace(printed, ".", ",", 1)
	}
	if again := col.read(printed); again.problem != nil || again.text != out.text {
		t.Fatalf("%q is read as %q; printed as %q it is read as %q (%+v)", cell, out.text, printed, again.text, again.problem)
	}
}

func amountColumns(t testing.TB) []*planColumn {
	var columns []*planColumn
	for _, c := range []Column{
		{Field: "price", Decimal: Comma, Currency: "EUR"}, {Field: "price", Decimal: Point}, {Field: "price", Decimal: Comma, Mixed: true}, {Field: "price", Currency: "USD"},
	} {
		columns = append(columns, columnOf(t, catalog.SupplierSheet, c))
	}
	return columns
}

func FuzzAmount(f *testing.F) {
	for _, s := range []string{"€ 12,50", "12.50-", "(3.00)", "1.234,56", "1,00,000", "1'234.5", "3.00 CR", "0", "-0,00", "12,505", "$4.50", "1.234"} {
		f.Add(s)
	}
	columns := amountColumns(f)
	f.Fuzz(func(t *testing.T, cell string) {
		for _, col := range columns {
			checkAmount(t, col, cell)
		}
	})
}

func TestAmountsPrintedInTheColumnsWayReadTheSame(t *testing.T) {
	columns := amountColumns(t)
	rapid.Check(t, func(t *rapid.T) {
		cell := rapid.StringMatching(`[(€-]?[0-9]{1,3}([.,' ][0-9]{3}){0,2}([.,][0-9]{1,4})?( EUR|-|\)| CR)?`).Draw(t, "cell")
		for _, col := range columns {
			checkAmount(t, col, cell)
		}
	})
}

func TestACanonicalDateReadsAsItself(t *testing.T) {
	var columns []*planColumn
	for _, order := range dateOrders {
		columns = append(columns, columnOf(t, catalog.SupplierSheet, Column{Field: "stock_date", Dates: order}))
	}
	rapid.Check(t, func(t *rapid.T) {
		cell := rapid.StringMatching(`[0-3]?[0-9][./-][01]?[0-9][./-](19|20)?[0-9]{2}|(19|20)[0-9]{2}-[01][0-9]-[0-3][0-9]|[0-3]?[0-9] (Mar|Oct|Dez) [0-9]{4}`).Draw(t, "cell")
		for _, col := range columns {
			out := col.read(cell)
			if out.problem != nil {
				continue
			}
			if again := col.read(out.text); again.problem != nil || again.text != out.text {
				t.Fatalf("%q is %q, and that %q (%+v)", cell, out.text, again.text, again.problem)
			}
		}
	})
}

func TestAPriceForManyPiecesKeepsItsBasisAndCountsThem(t *testing.T) {
	s, m, questions := propose(t, catalog.SupplierSheet, "Part No;Price EUR;Price per;Pack\nP-1;12,50;100;\nP-2;12,50;per C;100\nP-3;12,50;je 10 Stk.;50\nP-4;2,50;each;10\nP-5;12,55;1000;10\nP-6;12,55;1000;7\nP-7;;100;10\n", Options{})
	if len(questions) > 0 {
		t.Fatal(questions)
	}
	rows, report := readAll(t, s, m)
	var got []string
	for _, r := range rows {
		got = append(got, say(r))
	}
	want := []string{
		"part P-1: price=125000 EUR price_per=0 pack pack=100000", "part P-2: price=125000 EUR price_per=0 pack pack=100000",
		"part P-3: price=12500 EUR price_per=0 each pack=50000", "part P-4: price=25000 EUR price_per=0 each pack=10000",
		"part P-5: price=1255 EUR price_per=0 pack pack=10000", // 0.01255 for one, which no amount holds
		"part P-7: price_per=0 each pack=10000",
	}
	for i := range want {
		if normal := strings.ReplaceAll(strings.Join(strings.Fields(got[i]), " "), "price_per=pack", "price_per=0 pack"); strings.ReplaceAll(normal, "price_per=each", "price_per=0 each") != want[i] {
			t.Errorf("%s, want %s", got[i], want[i])
		}
	}
	if len(report.Held) != 1 || report.Held[0].Code != "price-basis" || report.Held[0].Line != 7 {
		t.Errorf("%+v", report.Held)
	}
	if f := rows[0].Part.Facts; f[len(f)-1].Text != "100" {
		t.Errorf("the pack does not say where it was read: %+v", f)
	}
}

func TestRemarksCountTheirRowsAcrossChunks(t *testing.T) {
	var b strings.Builder
	b.WriteString("Part No;Description;Price EUR\n")
	const rows = 3*aloneUpTo + 11
	for i := range rows {
		text := `"Seal &amp; ring"`
		if i%aloneUpTo == 7 {
			text = strings.Repeat("x", 255)
		}
		fmt.Fprintf(&b, "P-%d;%s;%d,50\n", i%(rows-3), text, i%2)
	}
	s, m, questions := propose(t, catalog.SupplierSheet, strings.ReplaceAll(b.String(), ";0,50", ";0,00"), Options{})
	if len(questions) > 0 {
		t.Fatal(questions)
	}
	_, report := readAll(t, s, m)
	got := map[string]int{}
	for _, r := range report.Remarks {
		got[r.Code] = r.Rows
	}
	if got["maybe-truncated"] != 4 || got["markup"] != rows-4 || got["price-zero"] != (rows+1)/2 {
		t.Errorf("%v", got)
	}
	if len(report.Repeats) != 3 || report.Repeats[0] != (Repeat{rows - 1, 2}) || report.RowsTaken != rows {
		t.Errorf("%d repeats, %d held, %d taken", len(report.Repeats), len(report.Held), report.RowsTaken)
	}
}

// F12: the canonical form of a text or a word reads as itself, in every such
// field of every kind of sheet. That of a quantity counts base units and is
// another grammar than the cell's.
func TestACanonicalCellReadsAsItself(t *testing.T) {
	var columns []*planColumn
	for _, k := range kinds() {
		for _, f := range k.fields {
			if f.kind != catalog.KindText {
				continue
			}
			for _, c := range []Column{{Decimal: Point, Dates: "dmy", Percent: Hundred, Currency: "EUR"}, {Decimal: Comma, Dates: "mdy", Percent: Fraction}} {
				c.Field = f.name
				columns = append(columns, columnOf(t, k.kind, c))
			}
		}
	}
	rapid.Check(t, func(t *rapid.T) {
		cell := rapid.OneOf(
			rapid.StringMatching(`[-~<>]?[0-9]{1,4}([.,][0-9]{1,3})?( ?(mm|cm|in|"|°C|F|l|ml|psi|kPa|bar|%|Nm|EUR))?`),
			rapid.SampledFrom([]string{"yes", "no", "oat", "si-oat", "1998-2003", "from 1997", "2-1/8\"", "5 l", "5000 ml", "50/50", "1:1", "&amp;", "&amp;lt;b&amp;gt;", "n/a", "x", "inlet", "thermostat", "Dichtung",
				"=\"00123\"", "18-22 Nm", "82-90 °C", "Konzentrat", "je 100 Stk.", "per C", "red; blue", "\u00a05", "A\u200bB", "½", "1 1/2\"", "e\u0301"}),
			rapid.String(),
		).Draw(t, "cell")
		col := rapid.SampledFrom(columns).Draw(t, "column")
		out := col.read(cell)
		if out.problem != nil || out.note == "markup" { // markup is taken off once
			return
		}
		if again := col.read(out.text); again.problem != nil || again.text != out.text {
			t.Fatalf("%s (%s): %q is %q, and that %q (%+v)", col.field.name, col.Decimal, cell, out.text, again.text, again.problem)
		}
	})
}

// A heading that says for how many pieces its prices are is read like a column
// that says so in every row. The headings are common practice.
func TestAHeadingSaysForHowManyPiecesAPriceIs(t *testing.T) {
	for heading, want := range map[string]string{
		"Price/100": "125000 price_per=pack pack=100000", "EUR per 100 pcs": "125000 EUR price_per=pack pack=100000",
		"Price EUR per 100": "125000 EUR price_per=pack pack=100000", "Price per 100 (EUR)": "125000 EUR price_per=pack pack=100000",
		"Preis je 100 St. EUR": "125000 EUR price_per=pack pack=100000", "Price (per 10)": "125000 price_per=pack pack=10000",
		"EUR/l": "125000 EUR price_per=litre", "Price/each": "125000", "Price EUR": "125000 EUR",
	} {
		s, m, questions := propose(t, catalog.SupplierSheet, "Part No;"+heading+"\nP-1;12,50\n", Options{})
		if len(questions) > 0 {
			t.Errorf("%s: %+v", heading, questions)
			continue
		}
		rows, report := readAll(t, s, m)
		if len(rows) != 1 {
			t.Errorf("%s: %+v", heading, report)
		} else if got := strings.Join(strings.Fields(say(rows[0])), " "); strings.ReplaceAll(got, "=0 ", "=") != "part P-1: price="+want {
			t.Errorf("%s: %s, want %s", heading, got, want)
		}
	}
}

func TestAHeadingAndARowThatDisagreeAboutTheBasisHoldTheRow(t *testing.T) {
	s, m, questions := propose(t, catalog.SupplierSheet, "Part No;Price/100;Price per\nP-1;12,50;\nP-2;12,50;100\nP-3;12,50;each\nP-4;12,50;pack\n", Options{})
	if len(questions) > 0 {
		t.Fatal(questions)
	}
	if rows, report := readAll(t, s, m); len(rows) != 3 || len(report.Held) != 1 || report.Held[0].Line != 4 || report.Held[0].Code != "price-basis" {
		t.Errorf("%d rows, %+v", len(rows), report.Held)
	}
}

// Nor does a cell take the words of another column away: what says "each" beside a
// price for a pack is held.
func TestAPriceForOneBesideAnotherBasisIsHeld(t *testing.T) {
	for raw, want := range map[string]string{
		"Part No;Price EUR;Price per\nP-1;12,50/Stk;pack\n": "2 price", "Part No;Price EUR per pack\nP-1;12,50/Stk\n": "2 price", "Part No;Price EUR\nP-1;12,50/Stk\n": "",
	} {
		if _, held, _ := readText(t, catalog.SupplierSheet, raw, Options{}); strings.Join(held, " ") != want {
			t.Errorf("%q: held %q, want %q", raw, held, want)
		}
	}
}

// A heading that speaks of several pieces in words that nobody knows is asked
// about even where a person said that it holds the price.
func TestAnUnknownBasisIsAsked(t *testing.T) {
	raw := "Part No;Price per 100 m\nP-1;12,50\n"
	o := Options{Maps: map[string]string{"price": "Price per 100 m"}}
	if _, _, questions := propose(t, catalog.SupplierSheet, raw, o); len(questions) != 1 || questions[0].Code != "price-basis" {
		t.Errorf("%+v", questions)
	}
	o.Settings = Settings{"per:price per 100 M": "100"}
	s, m, questions := propose(t, catalog.SupplierSheet, raw, o)
	if len(questions) > 0 {
		t.Fatalf("%+v", questions)
	}
	if rows, _ := readAll(t, s, m); len(rows) != 1 || !strings.Contains(say(rows[0]), "pack=100000") {
		t.Errorf("%v", rows)
	}
}

// Purchases are reckoned by the piece: a price for a hundred is divided.
func TestABoughtPriceForAHundredIsThatOfOnePiece(t *testing.T) {
	s, m, questions := propose(t, catalog.PurchasesSheet, "Date;Supplier;Number;Quantity;Price EUR per 100\n2026-01-02;Ostrel;P-1;200;12,55\n", Options{})
	if len(questions) > 0 {
		t.Fatal(questions)
	}
	rows, report := readAll(t, s, m)
	if len(rows) != 1 {
		t.Fatalf("%+v", report)
	}
	if p := rows[0].Purchase.UnitPrice; p.Value.TenThousandths() != 1255 || p.Text != "12,55" {
		t.Errorf("%+v", p)
	}
}

func TestAHeadingThatMayMeanSeveralPiecesIsSeen(t *testing.T) {
	for heading, want := range map[string]bool{
		"Price 100 St.": true, "Price per 100 m": true, "Preis je 50 Rollen": true, "Price 100+": true, "Price/6 set": true,
		"Price": false, "Net price 2": false, "Price 2026": false, "Price from 01.10.2026": false, "Price less 10 %": false, "Price 1/2026": false, "Price (EUR)": false,
	} {
		if hintsBasis(heading) != want {
			t.Errorf("%s: %v", heading, !want)
		}
	}
}
