package fit

import (
	"fmt"

	"fitfill/catalog"
	"fitfill/catalog/units"
	"fitfill/compat"
)

// The keys that table fit_limits must hold.
const (
	flangeClearanceLow  = "flange_clearance_low"
	flangeClearanceHigh = "flange_clearance_high"
	flangeLoose         = "flange_loose"
	flangeLost          = "flange_lost"
	ratingSame          = "rating_same"
	ratingConflict      = "rating_conflict"
	monitorMargin       = "monitor_margin"
	fullOpenLow         = "full_open_low"
	fullOpenHigh        = "full_open_high"
	stampHalfBand       = "stamp_half_band"
	printedFraction     = "printed_fraction"
	squeezeNoMin        = "squeeze_no_min"
	squeezeNoMax        = "squeeze_no_max"
	squeezeLowRadial    = "squeeze_low_radial"
	squeezeLowAxial     = "squeeze_low_axial"
	squeezeHigh         = "squeeze_high"
	fillNominal         = "fill_nominal"
	fillHotDoubt        = "fill_hot_doubt"
	fillHotNo           = "fill_hot_no"
	stretchDoubt        = "stretch_doubt"
	stretchNo           = "stretch_no"
	stretchSlack        = "stretch_slack"
	rimCompression      = "rim_compression"
	crushLow            = "crush_low"
	crushHigh           = "crush_high"
	crushNoMax          = "crush_no_max"
	rubberExpansion     = "rubber_expansion"
	housingExpansion    = "housing_expansion"
	warmRise            = "warm_rise"
	sealTemperature     = "seal_temperature"
	poisonFlange        = "poison_flange"
	yearEdge            = "year_edge"
	swellShare          = "swell"
	setTypical          = "set_typical"
	capStep             = "cap_step"
	clampLow            = "clamp_low"
	clampHigh           = "clamp_high"
	capSeatSame         = "cap_seat_same"
	hopsCounted         = "hops_counted"
	atmosphere          = "atmosphere"
	sameSizeLitres      = "same_size"
	stayedDays          = "stayed_days"
	housingLeast        = "housing_least"
	housingMost         = "housing_most"
	isaTemperature      = "isa_temperature"
	isaLapse            = "isa_lapse"
	isaExponent         = "isa_exponent"
)

var limitKeys = []string{
	flangeClearanceLow, flangeClearanceHigh, flangeLoose, flangeLost, ratingSame, ratingConflict, monitorMargin,
	fullOpenLow, fullOpenHigh, stampHalfBand, printedFraction, squeezeNoMin, squeezeNoMax,
	squeezeLowRadial, squeezeLowAxial, squeezeHigh, fillNominal, fillHotDoubt, fillHotNo,
	stretchDoubt, stretchNo, stretchSlack, rimCompression, crushLow, crushHigh, crushNoMax,
	rubberExpansion, housingExpansion, warmRise, sealTemperature, poisonFlange, yearEdge, swellShare, setTypical, capStep, clampLow, clampHigh, capSeatSame, hopsCounted, atmosphere, sameSizeLitres, stayedDays, housingLeast, housingMost, isaTemperature, isaLapse, isaExponent,
}

type limit struct {
	value float64 // lengths in mm
	row   catalog.RefRow
	cited compat.Evidence
}

type limits map[string]limit

func newLimits(ref catalog.Tables) (limits, error) {
	return readLimits(ref, "fit_limits", limitKeys...)
}

// readLimits reads a table of limits, which must hold the keys named.
func readLimits(ref catalog.Tables, table string, keys ...string) (limits, error) {
	rows, err := ref.Table(table)
	if err != nil {
		return nil, err
	}
	l := limits{}
	for _, r := range rows {
		v, err := r.Float("value")
		if err != nil {
			return nil, err
		}
		if r.Get("unit") == "in" {
			v = units.Inches(v).Millimetres()
		}
		l[r.Get("key")] = limit{v, r, compat.Cite(r)}
	}
	for _, k := range keys {
		if _, ok := l[k]; !ok {
			return nil, fmt.Errorf("table %s: the row %q is missing; put it back or import it", table, k)
		}
	}
	return l, nil
}

// of returns the value of a limit; newLimits has made sure that it is there.
func (l limits) of(key string) float64 { return l[key].value }

// cite returns where the limits of these keys come from, each source once.
func (l limits) cite(keys ...string) []compat.Evidence {
	out := make([]compat.Evidence, 0, len(keys))
	for _, k := range keys {
		out = cite(out, l[k].cited)
	}
	return out
}

// cite appends evidence that is not yet in the list.
func cite(list []compat.Evidence, more ...compat.Evidence) []compat.Evidence {
	for _, e := range more {
		known := e == compat.Evidence{}
		for _, have := range list {
			known = known || have == e
		}
		if !known {
			list = append(list, e)
		}
	}
	return list
}
