package returns

import (
	"math"

	"gonum.org/v1/gonum/stat/distuv"
)

// Garwood returns the exact limits of a Poisson mean after o events: quantile
// (1 − conf)/2 of Gamma(o) and quantile 1 − (1 − conf)/2 of Gamma(o + 1). The
// lower limit is 0 for o = 0. o may be real; a negative o or conf outside
// (0, 1) gives NaN. Source: "Fiducial limits for the Poisson distribution", 1936
// (from memory).
func Garwood(o, conf float64) Interval {
	if !countable(o, conf) {
		return nowhere()
	}
	iv := Interval{Est: o}
	if o > 0 {
		iv.Low = distuv.Gamma{Alpha: o, Beta: 1}.Quantile((1 - conf) / 2)
	}
	iv.High = distuv.Gamma{Alpha: o + 1, Beta: 1}.Quantile(1 - (1-conf)/2)
	return iv
}

func countable(o, conf float64) bool {
	return o >= 0 && !math.IsInf(o, 0) && conf > 0 && conf < 1
}
