package units_test

import (
	"testing"

	"fitfill/catalog/units"
)

func TestPrintingForPeople(t *testing.T) {
	for _, c := range []struct{ got, want string }{
		{units.Celsius(82).Format(units.UnitCelsius), "82 °C"}, {units.Fahrenheit(195).Format(units.UnitFahrenheit), "195 °F"},
		{units.Celsius(-36.97).Format(units.UnitCelsius), "-37 °C"}, {units.Celsius(-36.94).Format(units.UnitCelsius), "-36.9 °C"}, {units.Celsius(-0.04).Format(units.UnitCelsius), "0 °C"},
		{units.Millimetres(54).Format(units.UnitMillimetre), "54.0 mm"}, {units.Millimetres(3.53).Format(units.UnitMillimetre), "3.53 mm"}, {units.Inches(2.125).Format(units.UnitInch), "2.125 in"},
		{units.Litres(0.8).Format(units.UnitLitre), "0.8 L"}, {units.USQuarts(1.5).Format(units.UnitUSQuart), "1.5 US qt"}, {units.Litres(3.802).Format(units.UnitCubicCm), "3802 cm³"},
		{units.PSI(15).Format(units.UnitKilopascal), "103 kPa"}, {units.PSI(15).Format(units.UnitPSI), "15 psi"}, {units.PSI(15).Format(units.UnitBar), "1.03 bar"},
		{units.NewtonMetres(24.5).Format(units.UnitNewtonM), "24.5 N·m"}, {units.PoundFeet(18).Format(units.UnitPoundFoot), "18 lbf·ft"}, {units.Percents(50).Format(units.UnitPercent), "50 %"},
		{units.Celsius(82).Format(units.UnitInch), "82 °C"}, {units.Litres(1).Exact(units.UnitInch), "1 L"},
		{units.Fahrenheit(195).Exact(units.UnitFahrenheit), "195 °F"}, {units.Fahrenheit(195).String(), "90.556 °C"}, {units.Inches(1.0 / 64).String(), "0.396875 mm"},
		{units.Kelvins(-8.3333).String(), "-8.333 K"}, {units.Length{}.String(), "0 mm"}, {units.YearRange{}.String(), "any year"}, {units.MonthRange{}.String(), "any month"},
		{units.ModelYears{}.String(), ""}, {units.MoneyOf(125000, "EUR").String(), "12.50 EUR"}, {units.MoneyOf(-450, "").String(), "-0.0450"},
	} {
		if c.got != c.want {
			t.Errorf("got %q, want %q", c.got, c.want)
		}
	}
}

func TestSystemsShowTheirUnits(t *testing.T) {
	for name, want := range map[string][6]string{
		"metric": {"-37 °C", "8.3 °C", "54.0 mm", "8.0 L", "24.5 N·m", "103 kPa"},
		"us":     {"-34.6 °F", "15 °F", "2.126 in", "8.45 US qt", "18.1 lbf·ft", "15 psi"},
		"":       {"-37 °C", "8.3 °C", "54.0 mm", "8.0 L", "24.5 N·m", "103 kPa"},
	} {
		var s units.System
		if name != "" {
			s = parsed(units.ParseSystem(name))
		}
		got := [6]string{
			s.FormatTemperature(units.Celsius(-37)), s.FormatTempDelta(units.FahrenheitDegrees(15)), s.FormatLength(units.Millimetres(54)),
			s.FormatVolume(units.Litres(8)), s.FormatTorque(units.NewtonMetres(24.5)), s.FormatPressure(units.PSI(15)),
		}
		if got != want {
			t.Errorf("%q shows %v, want %v", name, got, want)
		}
	}
	_, err := units.ParseSystem("imperial")
	checkRefused(t, refusal{"imperial", "", units.ErrUnreadable, `"metric" or "us"`}, err)
}

func TestNamesOfUnits(t *testing.T) {
	for _, u := range []units.Unit{
		units.UnitCelsius, units.UnitFahrenheit, units.UnitKelvin, units.UnitMillimetre, units.UnitCentimetre, units.UnitMetre, units.UnitInch, units.UnitLitre, units.UnitMillilitre,
		units.UnitCentilitre, units.UnitCubicCm, units.UnitCubicInch, units.UnitUSQuart, units.UnitImpQuart, units.UnitUSGallon, units.UnitImpGallon, units.UnitUSPint, units.UnitImpPint,
		units.UnitUSFlOz, units.UnitImpFlOz, units.UnitKilopascal, units.UnitPascal, units.UnitHectopascal, units.UnitMegapascal, units.UnitBar, units.UnitMillibar, units.UnitPSI,
		units.UnitKgfPerCm2, units.UnitNewtonM, units.UnitPoundFoot, units.UnitPoundInch, units.UnitKgfCm, units.UnitKgfM, units.UnitPercent,
	} {
		if got, err := units.ParseUnit(string(u)); err != nil || got != u {
			t.Errorf("%s reads back as %q, %v", u, got, err)
		}
	}
	for text, want := range map[string]units.Unit{"ft-lb": units.UnitPoundFoot, "Nm": units.UnitNewtonM, "deg F": units.UnitFahrenheit, "Inches": units.UnitInch, "cu. in.": units.UnitCubicInch, "cc": units.UnitCubicCm} {
		if got, err := units.ParseUnit(text); err != nil || got != want {
			t.Errorf("%q: got %q, %v", text, got, err)
		}
	}
	for _, r := range []refusal{
		{"qt", "", units.ErrAmbiguous, "US qt"}, {"lb", "", units.ErrUnreadable, "psi"}, {"furlong", "", units.ErrUnreadable, "not a unit"}, {"°", "", units.ErrAmbiguous, "°C or °F"},
	} {
		_, err := units.ParseUnit(r.text)
		checkRefused(t, r, err)
	}
}
