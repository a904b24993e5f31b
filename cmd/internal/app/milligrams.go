package app

import (
	"fmt"
	"math"
	"strconv"
	"strings"

	"fitfill/catalog"
)

// amountUnit is a unit of what water holds, in mg/L.
type amountUnit struct {
	name string
	mgL  float64
}

// plainUnits are the same in water.
var plainUnits = []amountUnit{{"mg/l", 1}, {"ppm", 1}}

// hardnessUnits are units of hardness in mg/L as CaCO3: a grain is
// 64.79891 mg and a US gallon 3.785411784 L; a German degree is 10 mg/L of CaO,
// a French one 10 mg/L of CaCO3 (molar masses 56.077 and 100.087).
var hardnessUnits = []amountUnit{
	{"grains/gal", 64.79891 / 3.785411784}, {"gpg", 64.79891 / 3.785411784}, {"°dh", 10 * 100.087 / 56.077}, {"dh", 10 * 100.087 / 56.077}, {"°fh", 10}, {"fh", 10},
}

// milligrams reads an amount in mg/L, or in one of the other units.
func milligrams(flag, text string, others []amountUnit) (catalog.Stated[float64], error) {
	if text == "" {
		return catalog.Stated[float64]{}, nil
	}
	number, factor := strings.ToLower(strings.TrimSpace(text)), 1.0
	for _, u := range append(append([]amountUnit{}, others...), plainUnits...) {
		if rest, ok := strings.CutSuffix(number, u.name); ok {
			number, factor = strings.TrimSpace(rest), u.mgL
			break
		}
	}
	n, err := strconv.ParseFloat(number, 64)
	if err != nil || n < 0 || math.IsInf(n, 0) || math.IsNaN(n) {
		hint := "write it in mg/L, like " + flag + " 170"
		if others != nil {
			hint += ", or with its unit, like " + flag + " 10gpg or " + flag + " 12dH"
		}
		return catalog.Stated[float64]{}, &UsageError{Problem: fmt.Sprintf("%s %q is not an amount of mg/L", flag, text), Hint: hint}
	}
	return catalog.Say(n*factor, text, catalog.Origin{}), nil
}
