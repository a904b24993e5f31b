package returns

import (
	"fmt"
	"math"

	"gonum.org/v1/gonum/floats"
	"gonum.org/v1/gonum/mat"
)

// Fit is the log relative rates of the suppliers at one assumed spread.
type Fit struct {
	Tau  float64       // standard deviation of the log rates between suppliers
	B    []float64     // mode of the log relative rates
	V    *mat.SymDense // their covariance
	LogL float64       // Laplace approximation of the integrated likelihood, up to a constant
}

// The Newton iteration stops when no rate moves by more than converged; the
// penalised likelihood is concave, so newtonSteps is never reached in practice.
const (
	converged   = 1e-10
	newtonSteps = 200
	halvings    = 60
)

// FitSpread maximises the stratified partial likelihood with a normal frailty,
// PL(b) − b'b/2τ² with PL = Σ O·b − Σ_j d_j·ln Σ_s Y_js·e^{b_s} (Breslow's form
// of ties), by Newton steps from start (nil = all alike). With H the negative
// second derivative, V = H⁻¹ and
// LogL = PL(b̂) − b̂'b̂/2τ² − K·ln τ − ½·ln det H. tau must be positive. Sources:
// "Partial likelihood", Biometrika 1975; "Estimation of multivariate frailty
// models using penalized partial likelihood", Biometrics 2000 (from memory).
func (t Table) FitSpread(tau float64, start []float64) (Fit, error) {
	b := make([]float64, t.Suppliers)
	copy(b, start)
	value, grad, hess := t.penalised(b, tau)
	var chol mat.Cholesky
	for range newtonSteps {
		if !chol.Factorize(hess) {
			return Fit{}, fmt.Errorf("the comparison of suppliers has no unique answer at an assumed spread of %g: check the quantities sold and returned", tau)
		}
		var step mat.VecDense
		if err := chol.SolveVecTo(&step, grad); err != nil {
			return Fit{}, fmt.Errorf("the comparison of suppliers is too unsteady to compute at an assumed spread of %g: check the quantities sold and returned: %w", tau, err)
		}
		if mat.Norm(&step, math.Inf(1)) < converged {
			v := mat.NewSymDense(t.Suppliers, nil)
			if err := chol.InverseTo(v); err != nil {
				return Fit{}, fmt.Errorf("the uncertainty of the comparison cannot be computed at an assumed spread of %g: check the quantities sold and returned: %w", tau, err)
			}
			logL := value - float64(t.Suppliers)*math.Log(tau) - chol.LogDet()/2
			return Fit{Tau: tau, B: b, V: v, LogL: logL}, nil
		}
		b, value, grad, hess = t.ascend(b, &step, value, tau)
	}
	return Fit{}, fmt.Errorf("the comparison of suppliers did not settle at an assumed spread of %g: check the quantities sold and returned", tau)
}

// ascend takes the longest of the halved Newton steps that does not lower the
// penalised likelihood by more than rounding.
func (t Table) ascend(b []float64, step *mat.VecDense, value, tau float64) ([]float64, float64, *mat.VecDense, *mat.SymDense) {
	scale := 1.0
	for i := 0; ; i++ {
		next := make([]float64, len(b))
		for s := range b {
			next[s] = b[s] + scale*step.AtVec(s)
		}
		v, g, h := t.penalised(next, tau)
		if v >= value-1e-12*math.Abs(value) || i == halvings {
			return next, v, g, h
		}
		scale /= 2
	}
}

// penalised returns PL(b) − b'b/2τ², its gradient O − P'd − b/τ² and its
// negative second derivative diag(P'd) − P'diag(d)P + I/τ².
func (t Table) penalised(b []float64, tau float64) (float64, *mat.VecDense, *mat.SymDense) {
	k := t.Suppliers
	grad, hess := make([]float64, k), make([]float64, k*k)
	precision := 1 / (tau * tau)
	var value float64
	rate := make([]float64, k)
	for s := range b {
		rate[s] = math.Exp(b[s])
		value -= b[s] * b[s] * precision / 2
		grad[s] = -b[s] * precision
		hess[s*k+s] = precision
	}
	shares := newShareBlock(k)
	for _, r := range t.Rows {
		var total float64
		for s, y := range r.AtRisk {
			total += y * rate[s]
		}
		value -= r.Failed * math.Log(total)
		for s, failed := range r.FailedOf {
			if failed != 0 {
				value += failed * b[s]
				grad[s] += failed
			}
		}
		if shares.add(r, rate, total); shares.n == blockRows {
			shares.take(grad, hess)
		}
	}
	shares.take(grad, hess)
	return value, mat.NewVecDense(k, grad), mat.NewSymDense(k, hess)
}

// blockRows are rows of a table that are summed up together: the shares of twelve
// suppliers in so many rows stay in the processor's nearest memory.
const blockRows = 256

// shareBlock holds p_js·√d_j and √d_j of some rows, supplier by supplier, so that
// P'diag(d)P and P'd are products of long vectors.
type shareBlock struct {
	n      int
	shares [][]float64 // by supplier
	root   []float64
}

func newShareBlock(suppliers int) *shareBlock {
	all := make([]float64, (suppliers+1)*blockRows)
	b := &shareBlock{shares: make([][]float64, suppliers), root: all[suppliers*blockRows:]}
	for s := range b.shares {
		b.shares[s] = all[s*blockRows : (s+1)*blockRows]
	}
	return b
}

func (b *shareBlock) add(r RiskRow, rate []float64, total float64) {
	root := math.Sqrt(r.Failed)
	b.root[b.n] = root
	for s, y := range r.AtRisk {
		b.shares[s][b.n] = y * rate[s] / total * root
	}
	b.n++
}

// take subtracts P'd from the gradient, adds diag(P'd) − P'diag(d)P to the upper
// half of the second derivative, and empties the block.
func (b *shareBlock) take(grad, hess []float64) {
	k := len(b.shares)
	for s, own := range b.shares {
		own = own[:b.n]
		failed := floats.Dot(own, b.root[:b.n])
		grad[s] -= failed
		hess[s*k+s] += failed
		for u := s; u < k; u++ {
			hess[s*k+u] -= floats.Dot(own, b.shares[u][:b.n])
		}
	}
	b.n = 0
}

// FitGrid fits every spread step, 2·step, …, up to and including top, each from
// the one before. Averaging over the grid instead of trusting its best point
// keeps the limits honest: with few suppliers the best point is often zero.
func (t Table) FitGrid(step, top float64) ([]Fit, error) {
	n := int(math.Round(top / step))
	fits := make([]Fit, n)
	var start []float64
	for i := range fits {
		f, err := t.FitSpread(step*float64(i+1), start)
		if err != nil {
			return nil, err
		}
		fits[i], start = f, f.B
	}
	return fits, nil
}
