package units

import "math"

// round converts a measured float into whole base units, once, at the edge.
// It saturates instead of wrapping around, so that a nonsense input cannot
// come out as a plausible small number.
func round(v float64) int64 {
	r := math.Round(v)
	switch {
	case math.IsNaN(r):
		return 0
	case r >= math.MaxInt64:
		return math.MaxInt64
	case r <= math.MinInt64:
		return math.MinInt64
	}
	return int64(r)
}

func compare(a, b int64) int {
	switch {
	case a < b:
		return -1
	case a > b:
		return 1
	}
	return 0
}
