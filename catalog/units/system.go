package units

// Unit names a unit of measure as it is printed.
type Unit string

// The units that sheets, flags and answers use.
const (
	UnitCelsius    Unit = "°C"
	UnitFahrenheit Unit = "°F"
	UnitMillimetre Unit = "mm"
	UnitCentimetre Unit = "cm"
	UnitInch       Unit = "in"
	UnitLitre      Unit = "L"
	UnitMillilitre Unit = "mL"
	UnitUSQuart    Unit = "US qt"
	UnitImpQuart   Unit = "imp qt"
	UnitUSGallon   Unit = "US gal"
	UnitImpGallon  Unit = "imp gal"
	UnitUSPint     Unit = "US pt"
	UnitImpPint    Unit = "imp pt"
	UnitUSFlOz     Unit = "US fl oz"
	UnitImpFlOz    Unit = "imp fl oz"
	UnitKilopascal Unit = "kPa"
	UnitBar        Unit = "bar"
	UnitPSI        Unit = "psi"
	UnitNewtonM    Unit = "N·m"
	UnitPoundFoot  Unit = "lbf·ft"
	UnitPoundInch  Unit = "lbf·in"
	UnitKgfCm      Unit = "kgf·cm"
	UnitKgfM       Unit = "kgf·m"
)

// System is the set of units in which answers are shown to a person. The zero
// value shows metric units. JSON never follows it.
type System struct {
	Temperature, Length, Volume, Torque, Pressure Unit
}

// Metric shows °C, mm, litres, N·m and kPa.
var Metric = System{UnitCelsius, UnitMillimetre, UnitLitre, UnitNewtonM, UnitKilopascal}

// US shows °F, inches, US quarts, lbf·ft and psi.
var US = System{UnitFahrenheit, UnitInch, UnitUSQuart, UnitPoundFoot, UnitPSI}
