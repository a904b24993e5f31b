package returns

import (
	"cmp"
	"slices"
)

// SecondLook is the model-free question whether a supplier had more failures
// than its share.
type SecondLook struct {
	P    float64 // one-sided mid-P
	Q    float64 // P after Benjamini and Hochberg over all suppliers compared
	Flag bool    // Q is at most the false-discovery share of the settings
}

// WorseThanShare returns P(X > o) + ½P(X = o) for X ~ Binomial(total,
// expected/total): the chance of so many of the total failures at one supplier
// if only its share of exposure counts. Binomial and not Poisson, since the
// supplier is inside its own yardstick. Without any failure it is ½.
func WorseThanShare(o, expected, total float64) float64 {
	if total <= 0 {
		return 0.5
	}
	return upperMidP(o, total, min(1, expected/total))
}

// FalseDiscovery returns q_(i) = min over k ≥ i of min(1, p_(k)·m/k) for the m
// values p, in their own order. Source: "Controlling the false discovery
// rate", 1995 (from memory).
func FalseDiscovery(p []float64) []float64 {
	order := make([]int, len(p))
	for i := range order {
		order[i] = i
	}
	slices.SortStableFunc(order, func(a, b int) int { return cmp.Compare(p[a], p[b]) })
	q, least := make([]float64, len(p)), 1.0
	for k, i := range slices.Backward(order) {
		least = min(least, p[i]*float64(len(p))/float64(k+1))
		q[i] = least
	}
	return q
}
