package returns

import (
	"math"

	"gonum.org/v1/gonum/mat"
	"gonum.org/v1/gonum/stat/distuv"
)

// Posterior is what is believed of the log relative rates after the data: a
// mixture of the fits of a grid.
type Posterior struct {
	Fits    []Fit
	Weights []float64 // sum to 1
}

// Believe weighs the fits by exp(LogL − τ²/2s0²): the likelihood of each spread
// times a half-normal prior with scale s0.
func Believe(fits []Fit, s0 float64) Posterior {
	w := make([]float64, len(fits))
	top := math.Inf(-1)
	for i, f := range fits {
		w[i] = f.LogL - f.Tau*f.Tau/(2*s0*s0)
		top = max(top, w[i])
	}
	var sum float64
	for i := range w {
		w[i] = math.Exp(w[i] - top)
		sum += w[i]
	}
	return Posterior{Fits: fits, Weights: divided(w, sum)}
}

// Contrast returns the distribution of c'b.
func (p Posterior) Contrast(c []float64) Mixture {
	m := Mixture{weight: p.Weights, mean: make([]float64, len(p.Fits)), sd: make([]float64, len(p.Fits))}
	for k, f := range p.Fits {
		m.mean[k], m.sd[k] = f.contrast(c)
	}
	return m
}

// contrast returns mean and standard deviation of c'b.
func (f Fit) contrast(c []float64) (mean, sd float64) {
	v := mat.NewVecDense(len(c), c)
	for s := range c {
		mean += c[s] * f.B[s]
	}
	return mean, math.Sqrt(max(0, mat.Inner(v, f.V, v)))
}

// Mixture is a weighted mixture of normal distributions.
type Mixture struct{ weight, mean, sd []float64 }

// CDF returns the probability of a value of at most x.
func (m Mixture) CDF(x float64) float64 {
	var p float64
	for k, w := range m.weight {
		switch {
		case m.sd[k] > 0:
			p += w * distuv.UnitNormal.CDF((x-m.mean[k])/m.sd[k])
		case x >= m.mean[k]:
			p += w
		}
	}
	return p
}

// Positive returns the probability of a value above 0, ties counted half.
func (m Mixture) Positive() float64 {
	var p float64
	for k, w := range m.weight {
		switch {
		case m.sd[k] > 0:
			p += w * distuv.UnitNormal.CDF(m.mean[k]/m.sd[k])
		case m.mean[k] > 0:
			p += w
		case m.mean[k] == 0:
			p += w / 2
		}
	}
	return p
}

// beyond is more standard deviations than any normal quantile of a probability
// that a float can hold.
const beyond = 40

// Quantile returns the value below which lies probability q, 0 < q < 1.
func (m Mixture) Quantile(q float64) float64 {
	lo, hi := math.Inf(1), math.Inf(-1)
	for k := range m.mean {
		lo = min(lo, m.mean[k]-beyond*m.sd[k])
		hi = max(hi, m.mean[k]+beyond*m.sd[k])
	}
	return bisect(m.CDF, q, lo, hi)
}

// againstAll is the contrast of supplier s with the geometric mean of all k.
func againstAll(s, k int) []float64 {
	c := make([]float64, k)
	for i := range c {
		c[i] = -1 / float64(k)
	}
	c[s]++
	return c
}

// againstRest is the contrast of supplier s with the average of the others. A
// bad supplier lifts a yardstick that it is part of, so "worse" is asked this
// way.
func againstRest(s, k int) []float64 {
	c := make([]float64, k)
	for i := range c {
		c[i] = -1 / float64(k-1)
	}
	c[s] = 1
	return c
}

// pairwise is the contrast of supplier a with supplier b.
func pairwise(a, b, k int) []float64 {
	c := make([]float64, k)
	c[a], c[b] = 1, -1
	return c
}

// commonGround returns the share of a contrast's uncertainty that the data
// removed, 1 − c'Vc/(τ²·c'c); for a pair at τ = 1 that is 1 − V_ab/2. It is 0
// for two suppliers that share no part type.
func (f Fit) commonGround(c []float64) float64 {
	_, sd := f.contrast(c)
	var cc float64
	for _, v := range c {
		cc += v * v
	}
	return max(0, 1-sd*sd/(f.Tau*f.Tau*cc))
}
