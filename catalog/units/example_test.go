package units_test

import (
	"errors"
	"fmt"

	"fitfill/catalog/units"
)

func ExampleParseLength() {
	l, _ := units.ParseLength(`2-1/8"`, "")
	fmt.Println(l, "or", l.Format(units.UnitInch))
	_, err := units.ParseLength("1,234", units.UnitMillimetre)
	fmt.Println(err)
	fmt.Println(errors.Is(err, units.ErrAmbiguous))
	// Output:
	// 53.975 mm or 2.125 in
	// "1,234" could be 1.234 or 1234: write the decimal mark unmistakably
	// true
}

func ExampleParsePressure() {
	p, _ := units.ParsePressure("15 lb", "")
	fmt.Println(units.Metric.FormatPressure(p))
	_, err := units.ParsePressure("15", "")
	fmt.Println(err)
	// Output:
	// 103 kPa
	// "15" could be 15 psi, 15 kPa or 15 bar: write the unit
}

func ExampleParseTorqueRange() {
	low, high, _ := units.ParseTorqueRange("15-22 ft-lb", "")
	fmt.Println(low.Format(units.UnitNewtonM), "to", high.Format(units.UnitNewtonM))
	// Output: 20.3 N·m to 29.8 N·m
}

func ExampleParseModelYears() {
	for _, text := range []string{"'92-94, 96", "1999-2004.5", "from 03/2004", "03/04"} {
		m, err := units.ParseModelYears(text)
		fmt.Println(m, err)
	}
	// Output:
	// 1992-1994, 1996 <nil>
	// 1999-2004.5 <nil>
	// built from 2004-03 <nil>
	//  "03/04" could be a month and a year or two years: write "built 2004-03" for a month of build, "2003-2004" for model years
}

func ExampleTemperature_Exact() {
	t, _ := units.ParseTemperature("195F", "")
	fmt.Println(t.Exact(units.UnitFahrenheit), t, t.Format(units.UnitCelsius))
	// Output: 195 °F 90.556 °C 90.6 °C
}

func ExampleParseThread() {
	t, _ := units.ParseThread("M 8 X 30")
	fmt.Println(t, t.Pitch, t.Length)
	// Output: M8x1.25x30 1.25 mm 30 mm
}
