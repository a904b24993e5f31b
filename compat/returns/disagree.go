package returns

import "slices"

// simulations is how many shops are drawn; the chance of 1 in 100 is then met to
// about 0.002.
const simulations = 4000

// TypesDisagree tests whether one relative rate fits all part types of a
// supplier: χ² = Σ(O_g − R·E_g)²/(R·E_g) with R = ΣO/ΣE, and the chance of a
// larger one when ΣO failures fall on the types by E alone. It is 1 with fewer
// than two types or without a failure. uniform draws from 0 to 1: the same
// draws give the same answer.
func TypesDisagree(observed, expected []float64, uniform func() float64) (chiSquare, p float64) {
	var o, e float64
	types := 0
	for g := range observed {
		if expected[g] > 0 {
			o, e, types = o+observed[g], e+expected[g], types+1
		}
	}
	n := int(o + 0.5)
	if types < 2 || n < 1 {
		return 0, 1
	}
	upTo := make([]float64, len(expected))
	var sum float64
	for g := range expected {
		sum += max(0, expected[g]) / e
		upTo[g] = sum
	}
	stat := func(count []float64) (x float64) {
		for g := range count {
			if usual := o / e * expected[g]; usual > 0 {
				x += (count[g] - usual) * (count[g] - usual) / usual
			}
		}
		return x
	}
	chiSquare = stat(observed)
	more := 0
	count := make([]float64, len(expected))
	for range simulations {
		clear(count)
		for range n {
			g, _ := slices.BinarySearch(upTo, uniform())
			count[min(g, len(count)-1)]++
		}
		if stat(count) >= chiSquare-1e-9 {
			more++
		}
	}
	return chiSquare, float64(more+1) / (simulations + 1)
}
