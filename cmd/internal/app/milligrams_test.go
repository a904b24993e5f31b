package app

import (
	"math"
	"testing"
)

// Dilution water limits, common practice: 170 mg/L of hardness is 9.9 grains
// per US gallon, 340 mg/L is 19.9.
func TestHardnessIsReadInItsUnit(t *testing.T) {
	for text, want := range map[string]float64{
		"170": 170, "170 mg/L": 170, "170ppm": 170, "9.931 gpg": 170, "19.862grains/gal": 340, "9.525 °dH": 170, "10 dH": 178.48, "17 °fH": 170,
	} {
		got, err := milligrams("--hardness", text, hardnessUnits)
		if err != nil || math.Abs(got.Value-want) > 0.05 {
			t.Errorf("%s: %v mg/L (%v), want %g", text, got.Value, err, want)
		}
	}
	for _, text := range []string{"-1", "hard", "10 gpg x", "NaN"} {
		if _, err := milligrams("--hardness", text, hardnessUnits); err == nil {
			t.Errorf("%q was read", text)
		}
	}
	if _, err := milligrams("--chloride", "5 gpg", nil); err == nil {
		t.Error("chloride in grains was read")
	}
}
