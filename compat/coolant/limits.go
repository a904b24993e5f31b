package coolant

import (
	"fmt"

	"fitfill/catalog"
)

// limit is one number of the trade with its row.
type limit struct {
	value float64
	row   catalog.RefRow
}

// limits are the numbers that every judgement needs, by the names of
// coolant_limits.
type limits struct {
	concentrate, premix             float64 // vol %
	fillLow, fillHigh               float64 // vol %
	strengthPM, volumePM            float64
	freezePM                        map[string]float64
	boilPM                          float64
	freezeMaxMass                   float64
	boilMaxStrength                 float64
	silicateMax, strengthMin        float64
	freezeMargin, boilMargin        float64
	mixedShare                      float64
	getHomeWater                    float64
	airPressure, airLapse           float64
	airExponent, airCeiling         float64
	saturationMin, saturationMax    float64
	boilSearchLow, boilSearchHigh   float64
	hardnessMax, chlorideMax        float64
	sulfateMax, solidsMax           float64
	waterPHMin, waterPHMax, fractPM float64
}

func (t *Tables) loadLimits(rows []catalog.RefRow) error {
	t.limits = map[string]limit{}
	for _, r := range rows {
		v, err := r.Float("value")
		if err != nil {
			return err
		}
		t.limits[r.Get("name")] = limit{v, r}
	}
	l := &t.lim
	l.freezePM = map[string]float64{}
	var ethylene, propylene, mixed float64
	for name, into := range map[string]*float64{
		"concentrate_strength": &l.concentrate, "premix_strength": &l.premix,
		"fill_strength_low": &l.fillLow, "fill_strength_high": &l.fillHigh,
		"strength_uncertainty": &l.strengthPM, "volume_uncertainty": &l.volumePM,
		"freeze_uncertainty_ethylene": &ethylene, "freeze_uncertainty_propylene": &propylene,
		"freeze_uncertainty_mixed": &mixed, "boil_uncertainty": &l.boilPM,
		"freeze_max_mass": &l.freezeMaxMass, "boil_max_strength": &l.boilMaxStrength,
		"silicate_max_strength": &l.silicateMax, "strength_min": &l.strengthMin, "freeze_margin": &l.freezeMargin,
		"boil_margin": &l.boilMargin, "mixed_glycol_share": &l.mixedShare,
		"refractometer_uncertainty": &l.fractPM, "get_home_water": &l.getHomeWater,
		"air_pressure": &l.airPressure, "air_lapse": &l.airLapse,
		"air_exponent": &l.airExponent, "air_ceiling": &l.airCeiling,
		"saturation_min": &l.saturationMin, "saturation_max": &l.saturationMax,
		"boil_search_low": &l.boilSearchLow, "boil_search_high": &l.boilSearchHigh,
		"water_hardness_max": &l.hardnessMax, "water_chloride_max": &l.chlorideMax,
		"water_sulfate_max": &l.sulfateMax, "water_solids_max": &l.solidsMax,
		"water_ph_min": &l.waterPHMin, "water_ph_max": &l.waterPHMax,
	} {
		found, ok := t.limits[name]
		if !ok {
			return fmt.Errorf("table coolant_limits: the row %q is missing", name)
		}
		*into = found.value
	}
	l.freezePM[ethyleneID], l.freezePM[propyleneID], l.freezePM[mixedID] = ethylene, propylene, mixed
	return nil
}
