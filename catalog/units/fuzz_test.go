package units_test

import (
	"errors"
	"testing"

	"fitfill/catalog/units"
)

// checkAnswer holds every parse function to its promise: a value, or an error
// with a sentinel and a sentence.
func checkAnswer(t *testing.T, text string, err error) {
	t.Helper()
	if err == nil {
		return
	}
	known := errors.Is(err, units.ErrAmbiguous) || errors.Is(err, units.ErrUnreadable) || errors.Is(err, units.ErrSplit)
	if !known || err.Error() == "" {
		t.Errorf("%q: error without a reason: %v", text, err)
	}
}

func fuzz[Q quantity[Q]](f *testing.F, parse func(string, units.Unit) (Q, error), unit units.Unit, seeds ...string) {
	for _, s := range append(seeds, "", "1,234", "1e3", "NaN", "-", "1/0", "9999999999999999999999", "½", "0x1p-2", "1_000", "((", "\xff") {
		f.Add(s)
	}
	f.Fuzz(func(t *testing.T, text string) {
		q, err := parse(text, unit)
		checkAnswer(t, text, err)
		if err != nil {
			return
		}
		if again, err := parse(q.String(), ""); err != nil || again != q {
			t.Errorf("%q gave %s, which reads back as %s, %v", text, q, again, err)
		}
	})
}

func FuzzParseTemperature(f *testing.F) {
	fuzz(f, units.ParseTemperature, "", "195F", "90 °C", "-36.4 °C (-33.5 °F)", "88/190", "82-95 C")
}

func FuzzParseLength(f *testing.F) {
	fuzz(f, units.ParseLength, units.UnitMillimetre, `2-1/8"`, "2⅛\"", "54,0 mm", "Ø54", "1 234,5")
}

func FuzzParseVolume(f *testing.F) {
	fuzz(f, units.ParseVolume, units.UnitUSQuart, "1 1/2 qt", "8 qt (7.6 L)", "5 imp. gal")
}

func FuzzParseTorque(f *testing.F) {
	fuzz(f, units.ParseTorque, "", "18 ft-lb", "24,5 N·m", "15-22 lbf·ft (20-30 Nm)")
}

func FuzzParsePressure(f *testing.F) {
	fuzz(f, units.ParsePressure, units.UnitPSI, "15 lb", "1.1 bar", "1.05 kg/cm²")
}

func FuzzParseDisplacement(f *testing.F) {
	fuzz(f, units.ParseDisplacement, units.UnitCubicInch, "3.8", "232 cu in", "3802 cc")
}

func FuzzParseTempDelta(f *testing.F) {
	fuzz(f, units.ParseTempDelta, units.UnitCelsius, "10 K", "-18 °F")
}

func FuzzParsePercent(f *testing.F) {
	parse := func(s string, _ units.Unit) (units.Percent, error) { return units.ParsePercent(s) }
	fuzz(f, parse, "", "50 %", "0.5", "101%", "50/50")
}

func FuzzParseMoney(f *testing.F) {
	for _, s := range []string{"12.50", "€ 12,50", "(12.50 EUR)", "$1,234.50", "12.50 CR", "1'234", "-£3-", "¥", "EUR", "(-", "1.2340 EUR"} {
		f.Add(s)
	}
	f.Fuzz(func(t *testing.T, text string) {
		m, err := units.ParseMoney(text, "CAD")
		checkAnswer(t, text, err)
		if err != nil {
			return
		}
		if again, err := units.ParseMoney(m.String(), ""); err != nil || again != m {
			t.Errorf("%q gave %s, which reads back as %s, %v", text, m, again, err)
		}
	})
}

func FuzzParseModelYears(f *testing.F) {
	for _, s := range []string{"'92-04", "1999-2004.5", "92,93,95", "from 03/2004", "03/04", ">92", "2004 early", "92 & up", "built 2004-03 to 2005-06"} {
		f.Add(s)
	}
	f.Fuzz(func(t *testing.T, text string) {
		m, err := units.ParseModelYearsWith(text, units.YearOptions{Arrow: units.ArrowTimeline, Pair: units.PairYears})
		checkAnswer(t, text, err)
		if err != nil {
			return
		}
		if again, err := units.ParseModelYears(m.String()); err != nil || again.String() != m.String() || !m.Stated() {
			t.Errorf("%q gave %q, which reads back as %q, %v", text, m, again, err)
		}
	})
}

func FuzzParseThread(f *testing.F) {
	for _, s := range []string{"M8", "M 8 X 1,25", "M8-1.25x30", `5/16"-18 UNC-2A x 1-1/4"`, "#10-24", "G1/4", "1/4 NPT", "M8x30-8.8", "6-1/3-1"} {
		f.Add(s)
	}
	f.Fuzz(func(t *testing.T, text string) {
		th, err := units.ParseThread(text)
		checkAnswer(t, text, err)
		if err != nil {
			return
		}
		again, err := units.ParseThread(th.String())
		again.Text = th.Text
		if err != nil || again != th {
			t.Errorf("%q gave %s, which reads back as %+v, %v", text, th, again, err)
		}
	})
}
