package returns

import (
	"math"

	"gonum.org/v1/gonum/stat/distuv"
)

// Interval is an estimate with its lower and upper limit, all in the unit of
// the function that returns it.
type Interval struct{ Est, Low, High float64 }

// nowhere is the answer to a question that makes no sense, such as three
// returns out of two.
func nowhere() Interval { return Interval{math.NaN(), math.NaN(), math.NaN()} }

// zFor returns the standard normal quantile that leaves (1 − conf)/2 above it.
func zFor(conf float64) float64 { return distuv.UnitNormal.Quantile(1 - (1-conf)/2) }

// bisect returns the point of [lo, hi] where the rising function f crosses
// target. It halves until two neighbouring floats remain or 200 times.
func bisect(f func(float64) float64, target, lo, hi float64) float64 {
	for range 200 {
		mid := lo + (hi-lo)/2
		if mid <= lo || mid >= hi {
			break
		}
		if f(mid) < target {
			lo = mid
		} else {
			hi = mid
		}
	}
	return lo + (hi-lo)/2
}
