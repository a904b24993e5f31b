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

// Byar returns the closed-form approximation of Garwood's limits,
// o(1 − 1/9o − z/(3√o))³ and (o+1)(1 − 1/(9(o+1)) + z/(3√(o+1)))³, good to 0.02
// from o = 3 up. Special cases as Garwood. Source: "Statistical methods
// in cancer research", volume II, 1987 (from memory).
func Byar(o, conf float64) Interval {
	if !countable(o, conf) {
		return nowhere()
	}
	z := zFor(conf)
	cube := func(m, z float64) float64 {
		c := 1 - 1/(9*m) + z/(3*math.Sqrt(m))
		return m * c * c * c
	}
	iv := Interval{Est: o, High: cube(o+1, z)}
	if o > 0 {
		iv.Low = max(0, cube(o, -z))
	}
	return iv
}

func countable(o, conf float64) bool {
	return o >= 0 && !math.IsInf(o, 0) && conf > 0 && conf < 1
}
