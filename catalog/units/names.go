package units

import (
	"strings"
	"sync"
)

// The names below are written as key folds them: small letters, without
// spaces, dots, hyphens, brackets and multiplication dots.

var temperatureNames = sync.OnceValue(func() map[string]Unit {
	return map[string]Unit{
		"c": UnitCelsius, "°c": UnitCelsius, "degc": UnitCelsius, "deg°c": UnitCelsius, "celsius": UnitCelsius,
		"degreescelsius": UnitCelsius, "degreesc": UnitCelsius,
		"f": UnitFahrenheit, "°f": UnitFahrenheit, "degf": UnitFahrenheit, "fahrenheit": UnitFahrenheit,
		"degreesfahrenheit": UnitFahrenheit, "degreesf": UnitFahrenheit,
		"k": UnitKelvin, "kelvin": UnitKelvin,
		"°": unscaledDegree, "deg": unscaledDegree, "degrees": unscaledDegree,
	}
})

var lengthNames = sync.OnceValue(func() map[string]Unit {
	return map[string]Unit{
		"mm": UnitMillimetre, "millimetre": UnitMillimetre, "millimetres": UnitMillimetre,
		"millimeter": UnitMillimetre, "millimeters": UnitMillimetre,
		"cm": UnitCentimetre, "m": UnitMetre, "metre": UnitMetre, "metres": UnitMetre, "meter": UnitMetre, "meters": UnitMetre,
		`"`: UnitInch, "in": UnitInch, "inch": UnitInch, "inches": UnitInch,
	}
})

// unscaledDegree is "90°" without its letter: it takes the unit of the column.
const unscaledDegree Unit = "°"

// unsided stands for a unit that is one thing in the US and another in the
// imperial system until something says which.
const (
	unsidedQuart  Unit = "qt"
	unsidedGallon Unit = "gal"
	unsidedPint   Unit = "pt"
	unsidedFlOz   Unit = "fl oz"
)

var sides = map[Unit]struct{ us, imp Unit }{
	unsidedQuart:  {UnitUSQuart, UnitImpQuart},
	unsidedGallon: {UnitUSGallon, UnitImpGallon},
	unsidedPint:   {UnitUSPint, UnitImpPint},
	unsidedFlOz:   {UnitUSFlOz, UnitImpFlOz},
}

var volumeNames = sync.OnceValue(func() map[string]Unit {
	return withSides(map[string]Unit{
		"l": UnitLitre, "lt": UnitLitre, "ltr": UnitLitre, "litre": UnitLitre, "litres": UnitLitre, "liter": UnitLitre, "liters": UnitLitre,
		"ml": UnitMillilitre, "millilitre": UnitMillilitre, "millilitres": UnitMillilitre,
		"milliliter": UnitMillilitre, "milliliters": UnitMillilitre, "cl": UnitCentilitre,
		"cc": UnitCubicCm, "ccm": UnitCubicCm, "cm3": UnitCubicCm, "cm³": UnitCubicCm,
		"ci": UnitCubicInch, "cid": UnitCubicInch, "cuin": UnitCubicInch, "in3": UnitCubicInch,
		"cuinch": UnitCubicInch, "cubicinch": UnitCubicInch, "cubicinches": UnitCubicInch,
	})
})

func withSides(names map[string]Unit) map[string]Unit {
	words := map[Unit][]string{
		unsidedQuart:  {"qt", "qts", "quart", "quarts"},
		unsidedGallon: {"gal", "gals", "gallon", "gallons"},
		unsidedPint:   {"pt", "pts", "pint", "pints"},
		unsidedFlOz:   {"floz", "fluidounce", "fluidounces"},
	}
	for unit, list := range words {
		side := sides[unit]
		for _, w := range list {
			names[w] = unit
			for _, us := range []string{"us", "usliquid", "american"} {
				names[us+w], names[w+us] = side.us, side.us
			}
			for _, imp := range []string{"imp", "imperial", "uk", "brit"} {
				names[imp+w], names[w+imp] = side.imp, side.imp
			}
		}
	}
	return names
}

var torqueNames = sync.OnceValue(func() map[string]Unit {
	return map[string]Unit{
		"nm": UnitNewtonM, "newtonmetre": UnitNewtonM, "newtonmetres": UnitNewtonM, "newtonmeter": UnitNewtonM, "newtonmeters": UnitNewtonM,
		"lbfft": UnitPoundFoot, "ftlbf": UnitPoundFoot, "ftlb": UnitPoundFoot, "ftlbs": UnitPoundFoot, "lbft": UnitPoundFoot,
		"lbsft": UnitPoundFoot, "footpound": UnitPoundFoot, "footpounds": UnitPoundFoot, "poundfoot": UnitPoundFoot, "poundfeet": UnitPoundFoot,
		"lbfin": UnitPoundInch, "inlbf": UnitPoundInch, "inlb": UnitPoundInch, "inlbs": UnitPoundInch, "lbin": UnitPoundInch,
		"lbsin": UnitPoundInch, "inchpound": UnitPoundInch, "inchpounds": UnitPoundInch, "poundinch": UnitPoundInch, "poundinches": UnitPoundInch,
		"kgfcm": UnitKgfCm, "kgcm": UnitKgfCm, "cmkg": UnitKgfCm, "kpcm": UnitKgfCm,
		"kgfm": UnitKgfM, "kgm": UnitKgfM, "mkg": UnitKgfM, "kpm": UnitKgfM,
	}
})

// pressureNames takes "lb" for psi: caps are stamped "15 LB".
var pressureNames = sync.OnceValue(func() map[string]Unit {
	return map[string]Unit{
		"psi": UnitPSI, "psig": UnitPSI, "lb": UnitPSI, "lbs": UnitPSI, "lbf/in2": UnitPSI, "lb/in2": UnitPSI, "lbs/in2": UnitPSI,
		"kpa": UnitKilopascal, "pa": UnitPascal, "hpa": UnitHectopascal, "mpa": UnitMegapascal, "bar": UnitBar, "mbar": UnitMillibar,
		"kg/cm2": UnitKgfPerCm2, "kgf/cm2": UnitKgfPerCm2,
	}
})

// key folds the ways of writing one unit together.
var keyFold = strings.NewReplacer(" ", "", "·", "", "-", "", ".", "", "^", "", "(", "", ")", "")

func key(name string) string { return keyFold.Replace(strings.ToLower(name)) }

// ParseUnit reads the name of a unit as a heading or a setting states it: "mm",
// "ft-lb", "°F", "US qt", "cu in". A name that needs its quantity to be
// understood ("lb" means psi only on a cap) and a quart, gallon, pint or fluid
// ounce without "US" or "imp" are refused.
func ParseUnit(text string) (Unit, error) {
	k := key(clean(text))
	if k == "lb" || k == "lbs" {
		return "", unreadable("is a weight by itself", "write psi, lbf·ft or lbf·in").of("unit", text)
	}
	for _, d := range []*dimension{temperatures, lengths, volumes, torques, pressures, percents} {
		u, ok := d.names()[k]
		if _, two := sides[u]; ok && two {
			return "", sideless(u).of("unit", text)
		}
		switch {
		case ok && u == unscaledDegree:
			return "", ambiguous("could be °C or °F", "write the letter behind it").of("unit", text)
		case ok:
			return u, nil
		}
	}
	return "", unreadable("is not a unit that is known here", `write one such as "mm", "in", "L", "US qt", "N·m", "lbf·ft", "kPa", "psi", "°C" or "°F"`).of("unit", text)
}

func sideless(u Unit) *ParseError {
	return ambiguous("does not say whether US or imperial "+string(u)+" is meant",
		`write "US `+string(u)+`" or "imp `+string(u)+`"`)
}

var percentNames = sync.OnceValue(func() map[string]Unit {
	return map[string]Unit{"%": UnitPercent, "percent": UnitPercent, "pct": UnitPercent}
})
