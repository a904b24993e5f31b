package units_test

import (
	"errors"
	"strings"
	"testing"

	"fitfill/catalog/units"
)

// refusal names what a text must be refused with.
type refusal struct {
	text     string
	dflt     units.Unit
	sentinel error
	says     string // part of the sentence
}

func checkRefused(t *testing.T, r refusal, err error) {
	t.Helper()
	var pe *units.ParseError
	switch {
	case err == nil:
		t.Errorf("%q was accepted", r.text)
	case !errors.Is(err, r.sentinel):
		t.Errorf("%q: %v does not wrap %v", r.text, err, r.sentinel)
	case !errors.As(err, &pe) || pe.Text != r.text || pe.Quantity == "" || pe.Hint == "":
		t.Errorf("%q: incomplete error %#v", r.text, err)
	case !strings.Contains(err.Error(), r.says):
		t.Errorf("%q: %q does not say %q", r.text, err, r.says)
	}
}

// Notations are common practice of trade sheets; the values follow from
// t/°C = (t/°F − 32)/1.8 (NIST SP 811, appendix B.8).
func TestTemperatureNotations(t *testing.T) {
	for _, c := range []struct {
		text string
		dflt units.Unit
		want float64
	}{
		{"195", "", 90.556}, {"195F", "", 90.556}, {"195°F", "", 90.556}, {"195 F.", "", 90.556}, {"160 F", "", 71.111},
		{"91C", "", 91}, {"90 °C", "", 90}, {"90\u00a0°C", "", 90}, {"90 ℃", "", 90}, {"82", "", 82}, {"82°", "", 82},
		{"82,5 C", "", 82.5}, {"088 C", "", 88}, {"-13 F", "", -25}, {"\u221213 F", "", -25}, {"–25 °C", "", -25},
		{"-36.4 °C (-33.5 °F)", "", -36.4}, {"88/190", "", 88}, {"90 °C / 194 °F", "", 90}, {"88/190 F", "", 88},
		{"50", units.UnitCelsius, 50}, {"130", units.UnitFahrenheit, 54.444}, {"195 F", units.UnitCelsius, 90.556},
	} {
		got, err := units.ParseTemperature(c.text, c.dflt)
		if want := units.Celsius(c.want); err != nil || got != want {
			t.Errorf("%q: got %v, %v, want %v", c.text, got, err, want)
		}
	}
	for _, r := range []refusal{
		{"130", "", units.ErrAmbiguous, "130 °C or 130 °F"}, {"-37", "", units.ErrAmbiguous, "-37 °C"}, {"1,234", "", units.ErrAmbiguous, "1.234 or 1234"},
		{"82-95 C", "", units.ErrUnreadable, "two values"}, {"82/95", "", units.ErrUnreadable, "two values"},
		{"88-190", "", units.ErrAmbiguous, "°C and °F"}, {"82 195", "", units.ErrAmbiguous, "several numbers"},
		{"-36.4 °C (-30 °F)", "", units.ErrUnreadable, "do not agree"}, {"-300 °C", "", units.ErrUnreadable, "absolute zero"},
		{"-459.7 °F", "", units.ErrUnreadable, "absolute zero"},
		{"22 mm", "", units.ErrUnreadable, "not a unit of temperature"}, {"50", units.UnitBar, units.ErrUnreadable, "not a unit of temperature"},
		{"1e3 F", "", units.ErrUnreadable, "exponent"}, {"NaN", "", units.ErrUnreadable, "no number"}, {"Inf °C", "", units.ErrUnreadable, "no number"},
		{"", "", units.ErrUnreadable, "empty"}, {strings.Repeat("9", 300), "", units.ErrUnreadable, "too long"},
		{strings.Repeat("9", 150) + " C", "", units.ErrUnreadable, "too large"}, {"195 approx", "", units.ErrUnreadable, "approx"},
	} {
		_, err := units.ParseTemperature(r.text, r.dflt)
		checkRefused(t, r, err)
	}
}

// 195 °F, 91 °C and 90 °C are stamped on one rating of thermostat, 180 and
// 195 °F on two (common practice); differences by NIST SP 811, appendix B.8.
func TestRatingsThatLookDifferent(t *testing.T) {
	f195, f180 := parsed(units.ParseTemperature("195 F", "")), parsed(units.ParseTemperature("180 F", ""))
	for _, c := range []struct {
		other string
		want  string
	}{{"90 C", "0.6 K"}, {"91 C", "0.4 K"}} {
		if got := f195.Sub(parsed(units.ParseTemperature(c.other, ""))).Abs().Format(units.UnitKelvin); got != c.want {
			t.Errorf("195 F against %s: %s, want %s", c.other, got, c.want)
		}
	}
	if got := f195.Sub(f180).Format(units.UnitCelsius); got != "8.3 °C" {
		t.Errorf("195 F against 180 F: %s", got)
	}
}

// Values from 1 in = 25.4 mm exactly (NIST SP 811, appendix B.8); notations are
// common practice.
func TestLengthNotations(t *testing.T) {
	for _, c := range []struct {
		text string
		dflt units.Unit
		want float64
	}{
		{`2-1/8"`, "", 53.975}, {`2⅛"`, "", 53.975}, {"2 1/8 in", "", 53.975}, {"2.125", units.UnitInch, 53.975}, {"2⅛”", "", 53.975},
		{"1-15/16 in.", "", 49.2125}, {"2-9/16 inches", "", 65.0875}, {`1-3/4''`, "", 44.45}, {"7/8", units.UnitInch, 22.225},
		{"54,0 mm", "", 54}, {"54,0", units.UnitMillimetre, 54}, {"5.4cm", "", 54}, {"Ø54", units.UnitMillimetre, 54}, {"ø 54 mm", "", 54},
		{`.139"`, "", 3.5306}, {`0,139"`, "", 3.5306}, {"3,53", units.UnitMillimetre, 3.53}, {"1,2345", units.UnitMillimetre, 1.2345},
		{"53.975", units.UnitMillimetre, 53.975}, {"1.234,5 mm", "", 1234.5}, {"1,234.5 mm", "", 1234.5}, {"1 234,5 mm", "", 1234.5},
		{"1'234 mm", "", 1234}, {"1.5 m", "", 1500}, {"2.125 in (54 mm)", "", 53.975}, {"54", units.UnitMillimetre, 54},
	} {
		got, err := units.ParseLength(c.text, c.dflt)
		if want := units.Millimetres(c.want); err != nil || got != want {
			t.Errorf("%q: got %v, %v, want %v", c.text, got, err, want)
		}
	}
	mm := units.UnitMillimetre
	for _, r := range []refusal{
		{"1,234", mm, units.ErrAmbiguous, "1.234 or 1234"}, {"53,975", mm, units.ErrAmbiguous, "53.975 or 53975"}, {"54", "", units.ErrAmbiguous, "54 mm or 54 in"},
		{"7/8", mm, units.ErrAmbiguous, "fraction"}, {"22/24", mm, units.ErrUnreadable, "two values"}, {"22-24 mm", "", units.ErrUnreadable, "two values"},
		{"2.125 in (55 mm)", "", units.ErrUnreadable, "do not agree"}, {"-3 mm", "", units.ErrUnreadable, "negative length"},
		{"54²", mm, units.ErrUnreadable, "behind the number"}, {"1.2.3", mm, units.ErrUnreadable, "marks"}, {"54 mm x 3", "", units.ErrUnreadable, "x 3"},
		{"54 (", mm, units.ErrUnreadable, "does not close"}, {"1e1000000 mm", "", units.ErrUnreadable, "exponent"},
	} {
		_, err := units.ParseLength(r.text, r.dflt)
		checkRefused(t, r, err)
	}
}

func TestVolumeNeedsItsSideOfTheOcean(t *testing.T) {
	for _, c := range []struct {
		text string
		dflt units.Unit
		want units.Volume
	}{
		{"1.5 L", "", units.Litres(1.5)}, {"0,8 l", "", units.Litres(0.8)}, {"3.8-litre", "", units.Litres(3.8)}, {"500ml", "", units.Litres(0.5)},
		{"50 cl", "", units.Litres(0.5)}, {"800 cc", "", units.Litres(0.8)}, {"8 US qt", "", units.USQuarts(8)}, {"8 U.S. qts.", "", units.USQuarts(8)},
		{"8 qt", units.UnitUSQuart, units.USQuarts(8)}, {"2 gal", units.UnitUSQuart, units.USQuarts(8)}, {"2 gal", units.UnitImpPint, units.ImperialQuarts(8)},
		{"8 qt (US)", "", units.USQuarts(8)}, {"2 imp. gallons", "", units.ImperialQuarts(8)}, {"1 1/2 US qt", "", units.USQuarts(1.5)},
		{"8", units.UnitImpQuart, units.ImperialQuarts(8)}, {"8 US qt (7.6 L)", "", units.USQuarts(8)},
	} {
		if got, err := units.ParseVolume(c.text, c.dflt); err != nil || got != c.want {
			t.Errorf("%q: got %v, %v, want %v", c.text, got, err, c.want)
		}
	}
	for _, r := range []refusal{
		{"8 qt", "", units.ErrAmbiguous, `write "US qt" or "imp qt"`}, {"2 gal", units.UnitLitre, units.ErrAmbiguous, "US gal"},
		{"12 fl oz", "", units.ErrAmbiguous, "imp fl oz"}, {"8", "", units.ErrAmbiguous, "8 L"}, {"-1 L", "", units.ErrUnreadable, "negative"},
	} {
		_, err := units.ParseVolume(r.text, r.dflt)
		checkRefused(t, r, err)
	}
}

func TestPressureNotations(t *testing.T) {
	for text, want := range map[string]units.Pressure{
		"15 psi": units.PSI(15), "15 LB": units.PSI(15), "15lbs": units.PSI(15), "16-lb": units.PSI(16), "103 kPa": units.Kilopascals(103),
		"1,1 bar": units.Bars(1.1), "1050 mbar": units.Bars(1.05), "0.1 MPa": units.Kilopascals(100), "1.1 kg/cm²": units.Kilopascals(107.87315),
		"15 psi (103 kPa)": units.PSI(15),
	} {
		if got, err := units.ParsePressure(text, ""); err != nil || got != want {
			t.Errorf("%q: got %v, %v, want %v", text, got, err, want)
		}
	}
	for _, r := range []refusal{
		{"15", "", units.ErrAmbiguous, "15 psi, 15 kPa or 15 bar"}, {"-5 psi", "", units.ErrUnreadable, "negative"},
		{"15 psi (130 kPa)", "", units.ErrUnreadable, "do not agree"}, {"15 mm", "", units.ErrUnreadable, "not a unit of pressure"},
	} {
		_, err := units.ParsePressure(r.text, r.dflt)
		checkRefused(t, r, err)
	}
}

func TestSharesAndDifferences(t *testing.T) {
	for text, want := range map[string]float64{"50 %": 50, "33,3%": 33.3, "50": 50, "0": 0, "0.5 %": 0.5, "100 percent": 100} {
		if got, err := units.ParsePercent(text); err != nil || got != units.Percents(want) {
			t.Errorf("%q: got %v, %v", text, got, err)
		}
	}
	for _, r := range []refusal{
		{"0.5", "", units.ErrAmbiguous, "0.5 % or 0.5 of the whole"}, {"120 %", "", units.ErrUnreadable, "more than the whole"},
		{"-5 %", "", units.ErrUnreadable, "negative"}, {"50/50", "", units.ErrUnreadable, "two values"},
	} {
		_, err := units.ParsePercent(r.text)
		checkRefused(t, r, err)
	}
	for text, want := range map[string]float64{"10 K": 10, "10 °C": 10, "-18 °F": -10, "+3 C": 3} {
		if got, err := units.ParseTempDelta(text, ""); err != nil || got != units.Kelvins(want) {
			t.Errorf("%q: got %v, %v", text, got, err)
		}
	}
	_, err := units.ParseTempDelta("195", "")
	checkRefused(t, refusal{"195", "", units.ErrAmbiguous, "195 K or 195 °F"}, err)
}
