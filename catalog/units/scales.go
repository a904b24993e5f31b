package units

import "math"

// The factors are definitions of NIST SP 811 (Guide for the Use of the
// International System of Units), appendix B.8, written out as exact products.
const (
	inchMm      = "25.4"            // mm
	poundForceN = "4.4482216152605" // N: 0.45359237 kg × 9.80665 m/s²
	footM       = "0.3048"          // m
	gravity     = "9.80665"         // N per kgf
	reciprocal  = "5/127"           // in/mm
	cubicInchL  = "0.016387064"     // L: (25.4 mm)³
)

// Further units that sheets print.
const (
	UnitKelvin      Unit = "K"
	UnitMetre       Unit = "m"
	UnitCentilitre  Unit = "cL"
	UnitCubicCm     Unit = "cm³"
	UnitCubicInch   Unit = "in³"
	UnitPascal      Unit = "Pa"
	UnitHectopascal Unit = "hPa"
	UnitMillibar    Unit = "mbar"
	UnitMegapascal  Unit = "MPa"
	UnitKgfPerCm2   Unit = "kgf/cm²"
	UnitPercent     Unit = "%"
)

var temperatures = &dimension{
	quantity: "temperature", stored: UnitCelsius, names: temperatureNames,
	order: []Unit{UnitCelsius, UnitFahrenheit},
	scales: map[Unit]*scale{
		UnitCelsius:    times("1000", 0, 1),
		UnitFahrenheit: offset(product("1000", "5/9"), "32", 0, 1),
		UnitKelvin:     offset(rat("1000"), "273.15", 1, 2),
	},
	floor: -273_150, floorSays: "is below absolute zero",
}

var tempDeltas = &dimension{
	quantity: "temperature difference", stored: UnitKelvin, names: temperatureNames,
	order: []Unit{UnitKelvin, UnitFahrenheit},
	scales: map[Unit]*scale{
		UnitKelvin: times("1000", 0, 1), UnitCelsius: times("1000", 0, 1),
		UnitFahrenheit: offset(product("1000", "5/9"), "0", 0, 1),
	},
	floor: math.MinInt64,
}

var lengths = &dimension{
	quantity: "length", stored: UnitMillimetre, names: lengthNames, fractions: true,
	order: []Unit{UnitMillimetre, UnitInch},
	scales: map[Unit]*scale{
		UnitMillimetre: times("1e6", 1, 2), UnitCentimetre: times("1e7", 1, 3), UnitMetre: times("1e9", 1, 3),
		UnitInch: offset(product("1e6", inchMm), "0", 3, 3),
	},
	floorSays: "is a negative length",
}

var volumes = &dimension{
	quantity: "volume", stored: UnitLitre, names: volumeNames, fractions: true,
	order: []Unit{UnitLitre, UnitUSQuart, UnitImpQuart},
	scales: map[Unit]*scale{
		UnitLitre: times("1e9", 1, 2), UnitMillilitre: times("1e6", 0, 0), UnitCentilitre: times("1e7", 0, 1),
		UnitCubicCm: times("1e6", 0, 0), UnitCubicInch: offset(product("1e9", cubicInchL), "0", 0, 1),
		UnitUSGallon: times("3785411784", 1, 2), UnitUSQuart: times("3785411784/4", 1, 2),
		UnitUSPint: times("3785411784/8", 1, 2), UnitUSFlOz: times("3785411784/128", 0, 1),
		UnitImpGallon: times("4546090000", 1, 2), UnitImpQuart: times("4546090000/4", 1, 2),
		UnitImpPint: times("4546090000/8", 1, 2), UnitImpFlOz: times("4546090000/160", 0, 1),
	},
	floorSays: "is a negative volume",
}

var torques = &dimension{
	quantity: "torque", stored: UnitNewtonM, names: torqueNames, fractions: true,
	order: []Unit{UnitNewtonM, UnitPoundFoot, UnitPoundInch},
	scales: map[Unit]*scale{
		UnitNewtonM:   times("1e6", 0, 1),
		UnitPoundFoot: offset(product("1e6", poundForceN, footM), "0", 0, 1),
		UnitPoundInch: offset(product("1e6", poundForceN, footM, "1/12"), "0", 0, 1),
		UnitKgfM:      offset(product("1e6", gravity), "0", 1, 2),
		UnitKgfCm:     offset(product("1e6", gravity, "1/100"), "0", 0, 1),
	},
	floorSays: "is a negative torque",
}

var pressures = &dimension{
	quantity: "pressure", stored: UnitKilopascal, names: pressureNames, fractions: true,
	order: []Unit{UnitPSI, UnitKilopascal, UnitBar},
	scales: map[Unit]*scale{
		UnitKilopascal: times("1e6", 0, 0), UnitPascal: times("1e3", 0, 0), UnitHectopascal: times("1e5", 0, 0),
		UnitMegapascal: times("1e9", 2, 3), UnitBar: times("1e8", 1, 2), UnitMillibar: times("1e5", 0, 0),
		UnitPSI:       offset(product("1e9", poundForceN, reciprocal, reciprocal), "0", 0, 1), // 1 N/mm² = 1e9 mPa
		UnitKgfPerCm2: offset(product("1e7", gravity), "0", 1, 2),                             // 1 N/cm² = 1e7 mPa
	},
	floorSays: "is a negative pressure",
}

var percents = &dimension{
	quantity: "share", stored: UnitPercent, names: percentNames,
	order:     []Unit{UnitPercent},
	scales:    map[Unit]*scale{UnitPercent: times("1e4", 0, 1)},
	floorSays: "is a negative share",
}
