package units_test

import (
	"strings"
	"testing"

	"fitfill/catalog/units"

	"pgregory.net/rapid"
)

// quantity is what the laws below need of each type.
type quantity[Q any] interface {
	comparable
	Format(units.Unit) string
	Exact(units.Unit) string
	String() string
	Compare(Q) int
}

func checkRoundTrip[Q quantity[Q]](t *testing.T, of func(int64) Q, parse func(string, units.Unit) (Q, error), low int64, stored units.Unit, others ...units.Unit) {
	t.Helper()
	rapid.Check(t, func(t *rapid.T) {
		draw := func(label string) int64 {
			if rapid.Bool().Draw(t, "small") {
				return rapid.Int64Range(max(low, -1e7), 1e7).Draw(t, label)
			}
			return rapid.Int64Range(low, 1e16).Draw(t, label)
		}
		a, b := draw("a"), draw("b")
		x, y := of(a), of(b)
		if got, err := parse(x.String(), ""); err != nil || got != x {
			t.Fatalf("%s reads back as %v, %v", x, got, err)
		}
		for _, u := range append(others, stored) {
			s := x.Exact(u)
			if got, err := parse(s, ""); err != nil || got != x || got.Exact(u) != s {
				t.Fatalf("Exact(%s) %q reads back as %v, %v", u, s, got, err)
			}
			s = x.Format(u)
			got, err := parse(s, "")
			if err != nil || got.Format(u) != s {
				t.Fatalf("Format(%s) %q reads back as %q, %v", u, s, got.Format(u), err)
			}
			other := parsed(parse(y.Format(u), ""))
			if x.Compare(y)*got.Compare(other) < 0 {
				t.Fatalf("%v and %v change order when printed in %s", x, y, u)
			}
		}
		if (x.Compare(y) < 0) != (a < b) || (x.Compare(y) == 0) != (a == b) {
			t.Fatalf("Compare(%v, %v) is %d", x, y, x.Compare(y))
		}
	})
}

func TestWhatIsPrintedReadsBack(t *testing.T) {
	t.Run("temperature", func(t *testing.T) {
		// Not down to -273 150: absolute zero rounds to -459.7 °F, which lies below it.
		checkRoundTrip(t, units.TemperatureOf, units.ParseTemperature, -273_100, units.UnitCelsius, units.UnitFahrenheit, units.UnitKelvin)
	})
	t.Run("difference", func(t *testing.T) {
		checkRoundTrip(t, units.TempDeltaOf, units.ParseTempDelta, -1e15, units.UnitKelvin, units.UnitCelsius, units.UnitFahrenheit)
	})
	t.Run("length", func(t *testing.T) {
		checkRoundTrip(t, units.LengthOf, units.ParseLength, 0, units.UnitMillimetre, units.UnitCentimetre, units.UnitMetre, units.UnitInch)
	})
	t.Run("volume", func(t *testing.T) {
		checkRoundTrip(t, units.VolumeOf, units.ParseVolume, 0, units.UnitLitre, units.UnitMillilitre, units.UnitCentilitre, units.UnitCubicCm, units.UnitCubicInch,
			units.UnitUSGallon, units.UnitUSQuart, units.UnitUSPint, units.UnitUSFlOz, units.UnitImpGallon, units.UnitImpQuart, units.UnitImpPint, units.UnitImpFlOz)
	})
	t.Run("torque", func(t *testing.T) {
		checkRoundTrip(t, units.TorqueOf, units.ParseTorque, 0, units.UnitNewtonM, units.UnitPoundFoot, units.UnitPoundInch, units.UnitKgfCm, units.UnitKgfM)
	})
	t.Run("pressure", func(t *testing.T) {
		checkRoundTrip(t, units.PressureOf, units.ParsePressure, 0, units.UnitKilopascal, units.UnitPascal, units.UnitHectopascal, units.UnitMegapascal,
			units.UnitBar, units.UnitMillibar, units.UnitPSI, units.UnitKgfPerCm2)
	})
}

func TestSharesAndMoneyReadBack(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		p := units.PercentOf(rapid.Int64Range(0, 1e6).Draw(t, "p"))
		if got, err := units.ParsePercent(p.String()); err != nil || got != p {
			t.Fatalf("%s reads back as %v, %v", p, got, err)
		}
		m := units.MoneyOf(rapid.Int64Range(-1e17, 1e17).Draw(t, "m"), rapid.SampledFrom([]string{"", "EUR", "USD", "JPY", "SCR", "CHF"}).Draw(t, "currency"))
		if got, err := units.ParseMoney(m.Exact(), ""); err != nil || got != m {
			t.Fatalf("%s reads back as %v, %v", m, got, err)
		}
	})
}

func TestYearsReadBack(t *testing.T) {
	half := rapid.Int32Range(2*1900, 2*2090)
	stretch := rapid.Custom(func(t *rapid.T) units.YearRange {
		from := half.Draw(t, "from")
		to := from + rapid.Int32Range(1, 12).Draw(t, "for")
		switch rapid.IntRange(0, 8).Draw(t, "open") {
		case 0:
			return units.YearRange{From: from}
		case 1:
			return units.YearRange{To: to}
		}
		return units.YearRange{From: from, To: to}
	})
	rapid.Check(t, func(t *rapid.T) {
		m := units.ModelYears{Ranges: rapid.SliceOfN(stretch, 0, 4).Draw(t, "ranges")}
		if len(m.Ranges) == 0 || rapid.Bool().Draw(t, "built") {
			from := rapid.Int32Range(12*1900, 12*2090).Draw(t, "month")
			m.Built = rapid.SampledFrom([]units.MonthRange{{From: from}, {To: from}, {From: from, To: from + 1}, {From: from, To: from + 30}}).Draw(t, "months")
		}
		s := m.String()
		got, err := units.ParseModelYears(s)
		if strings.Contains(s, "any year") {
			if err == nil {
				t.Fatalf("%q states nothing and was accepted", s)
			}
			return
		}
		if err != nil || got.String() != s || got.Built != m.Built {
			t.Fatalf("%q reads back as %q, %v", s, got, err)
		}
		for y := 1899; y < 2092; y++ {
			whole, part := got.Covers(y)
			if w, p := m.Covers(y); p != part || w && !whole {
				t.Fatalf("%q covers %d: %v %v, before %v %v", s, y, whole, part, w, p)
			}
		}
	})
}
