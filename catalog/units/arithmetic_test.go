package units_test

import (
	"math"
	"testing"

	"fitfill/catalog/units"
)

// What a quantity is shown as in another unit: factors of NIST SP 811, appendix
// B.8, from memory, to the digits printed there.
func TestQuantitiesInOtherUnits(t *testing.T) {
	for _, c := range []struct {
		name           string
		got, want, tol float64
	}{
		{"25.4 mm in in", units.Millimetres(25.4).Inches(), 1, 0},
		{"54 mm in in", units.Millimetres(54).Inches(), 2.125984, 5e-7},
		{"1 US gal in US qt", units.Litres(3.785411784).USQuarts(), 4, 0},
		{"1 imp gal in imp qt", units.Litres(4.54609).ImperialQuarts(), 4, 0},
		{"7.6 L in US qt", units.Litres(7.6).USQuarts(), 8.030830, 5e-7},
		{"100 °C in °F", units.Celsius(100).Fahrenheit(), 212, 0},
		{"-40 °C in °F", units.Celsius(-40).Fahrenheit(), -40, 0},
		{"25 °C in K", units.Celsius(25).Kelvin(), 298.15, 0},
		{"10 K in °F of difference", units.Kelvins(10).FahrenheitDegrees(), 18, 0},
		{"18 °F of difference in K", units.FahrenheitDegrees(18).Kelvins(), 10, 0},
		{"103.4214 kPa in psi", units.Kilopascals(103.4214).PSI(), 15, 1e-5},
		{"110 kPa in bar", units.Kilopascals(110).Bars(), 1.1, 0},
		{"1.1 bar in kPa", units.Bars(1.1).Kilopascals(), 110, 0},
		{"100 kgf·cm in N·m", units.KilogramForceCentimetres(100).NewtonMetres(), 9.80665, 0},
		{"12.5 %", units.Percents(12.5).Percents(), 12.5, 0},
		{"12.5 % as a number", units.Percents(12.5).Fraction(), 0.125, 0},
		{"12.5 of a currency", units.MoneyOf(125000, "EUR").Units(), 12.5, 0},
		{"3 L of 12 L", units.Litres(3).Ratio(units.Litres(12)), 0.25, 0},
		{"3 L of nothing", units.Litres(3).Ratio(units.Litres(0)), 0, 0},
	} {
		if math.Abs(c.got-c.want) > c.tol {
			t.Errorf("%s: got %v, want %v ± %v", c.name, c.got, c.want, c.tol)
		}
	}
}

func TestUnitsThatSheetsPrint(t *testing.T) {
	for text, want := range map[string]float64{"1 Pa": 0.001, "1 hPa": 0.1, "0.1 MPa": 100, "1100 mbar": 110} {
		if p, err := units.ParsePressure(text, ""); err != nil || p != units.Kilopascals(want) {
			t.Errorf("%q: %v, %v; want %v kPa", text, p, err, want)
		}
	}
	for text, want := range map[string]float64{"50 cL": 0.5, "500 ml": 0.5, "500 cm³": 0.5} {
		if v, err := units.ParseVolume(text, ""); err != nil || v != units.Litres(want) {
			t.Errorf("%q: %v, %v; want %v L", text, v, err, want)
		}
	}
	for text, want := range map[string]float64{"5.4 cm": 54, "0.054 m": 54} {
		if l, err := units.ParseLength(text, ""); err != nil || l != units.Millimetres(want) {
			t.Errorf("%q: %v, %v; want %v mm", text, l, err, want)
		}
	}
	if m, err := units.ParseTorque("100 kgf·cm", ""); err != nil || m != units.KilogramForceCentimetres(100) {
		t.Errorf("100 kgf·cm: %v, %v", m, err)
	}
}

func TestSumsAndDifferences(t *testing.T) {
	mm, l, c, k := units.Millimetres, units.Litres, units.Celsius, units.Kelvins
	for name, same := range map[string]bool{
		"length and length":          mm(3).Add(mm(2)) == mm(5) && mm(3).Sub(mm(2)) == mm(1) && mm(3).Half() == mm(1.5),
		"size without its sign":      mm(2).Sub(mm(3)).Abs() == mm(1) && mm(1).Abs() == mm(1),
		"volume and volume":          l(3).Add(l(2)) == l(5) && l(3).Sub(l(2)) == l(1) && l(3).Scale(1.5) == l(4.5),
		"temperature and a step":     c(82).Add(k(13)) == c(95) && c(82).Add(k(13).Neg()) == c(69),
		"temperature, temperature":   c(95).Sub(c(82)) == k(13) && c(82).Sub(c(95)).Abs() == k(13) && k(13).Abs() == k(13),
		"colder, as hot, hotter":     c(1).Compare(c(2)) < 0 && c(2).Compare(c(2)) == 0 && c(3).Compare(c(2)) > 0,
		"pieces and shares of money": units.MoneyOf(12345, "EUR").Times(3) == units.MoneyOf(37035, "EUR") && units.MoneyOf(12345, "EUR").Scale(0.5) == units.MoneyOf(6173, "EUR"),
		"a computed amount":          units.MoneyOf(12345, "EUR").Rounded() == units.MoneyOf(12300, "EUR") && units.MoneyOf(12350, "EUR").Rounded() == units.MoneyOf(12400, "EUR"),
	} {
		if !same {
			t.Errorf("%s: wrong", name)
		}
	}
	if sum, same := units.MoneyOf(10, "EUR").Plus(units.MoneyOf(5, "EUR")); !same || sum != units.MoneyOf(15, "EUR") {
		t.Errorf("%v, %v", sum, same)
	}
	if sum, same := units.MoneyOf(10, "EUR").Plus(units.MoneyOf(5, "USD")); same {
		t.Errorf("two currencies were added: %v", sum)
	}
}

// A nonsense number comes out as the largest there is, never as a small one.
func TestWhatIsTooLargeStaysLarge(t *testing.T) {
	if l := units.Millimetres(math.Inf(1)); l.Nanometres() != math.MaxInt64 {
		t.Errorf("infinite: %d", l.Nanometres())
	}
	if l := units.Millimetres(-1e300); l.Nanometres() != math.MinInt64 {
		t.Errorf("infinite, negative: %d", l.Nanometres())
	}
	if l := units.Millimetres(math.NaN()); l.Nanometres() != 0 {
		t.Errorf("no number: %d", l.Nanometres())
	}
}

func TestYearsThatTouchDoNotOverlap(t *testing.T) {
	open := units.YearRange{From: units.Year(2004).From}
	for _, c := range []struct {
		a, b units.YearRange
		want bool
	}{
		{units.Years(1995, 1999), units.Years(2000, 2004), false},
		{units.Years(1995, 2000), units.Years(2000, 2004), true},
		{units.Years(1995, 2003), open, false},
		{units.Years(1995, 2004), open, true},
		{units.Year(2030), open, true},
		{units.YearRange{To: units.Year(2004).From}, open, false},
		{units.YearRange{}, open, true},
	} {
		if c.a.Overlaps(c.b) != c.want || c.b.Overlaps(c.a) != c.want {
			t.Errorf("%+v and %+v: want %v", c.a, c.b, c.want)
		}
	}
	if open.First() != 2004 || open.Last() != 0 || units.Years(1995, 1999).Last() != 1999 || (units.YearRange{}).Last() != 0 {
		t.Errorf("%d to %d", open.First(), open.Last())
	}
	half := units.ModelYears{Ranges: []units.YearRange{{From: units.Year(2004).From, To: units.Year(2004).To - 1}}}
	if whole, part := half.Covers(2004); whole || !part {
		t.Errorf("half of 2004: whole %v, part %v", whole, part)
	}
	if whole, part := (units.ModelYears{Ranges: []units.YearRange{units.Year(2004)}}).Covers(2004); !whole || !part {
		t.Errorf("all of 2004: whole %v, part %v", whole, part)
	}
}

// Full-width forms and printed fractions come out of spreadsheets of East Asia
// and of typesetters.
func TestOddFormsOfPlainCharacters(t *testing.T) {
	for text, want := range map[string]float64{
		"５４．５ｍｍ": 54.5, "１～": -1, "2½ in": 63.5, "½ in": 12.7, "2\u00a0½\u2009in": 63.5, "54\u200bmm": 54,
	} {
		l, err := units.ParseLength(text, "")
		if want < 0 {
			if err == nil {
				t.Errorf("%q was read as %v", text, l)
			}
			continue
		}
		if err != nil || l != units.Millimetres(want) {
			t.Errorf("%q: %v, %v; want %v mm", text, l, err, want)
		}
	}
	for _, dash := range "-‐‑‒–—―−﹣－" {
		if low, high, err := units.ParseLengthRange("22"+string(dash)+"24 mm", ""); err != nil || low != units.Millimetres(22) || high != units.Millimetres(24) {
			t.Errorf("a range with %U: %v to %v, %v", dash, low, high, err)
		}
	}
}
