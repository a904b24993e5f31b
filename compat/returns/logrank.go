package returns

import (
	"gonum.org/v1/gonum/mat"
	"gonum.org/v1/gonum/stat/distuv"
)

// Expectation sets what came back beside what would have come back if every
// supplier's pieces failed like everybody's of the same type and age.
type Expectation struct {
	Observed []float64     // quality failures by supplier
	Expected []float64     // E = Σ d·Y_s/Y; sums to the same total as Observed
	Variance *mat.SymDense // of Observed − Expected
}

// Expect returns the stratified log-rank table: E_s = Σ d·p_s and
// V_st = Σ (p_s·1{s=t} − p_s·p_t)·d(Y − d)/(Y − 1) with p_s = Y_s/Y, summed over
// part types and failure days. Source: "Evaluation of survival data
// and two new rank order statistics arising in its consideration", 1966 (from
// memory).
func (t Table) Expect() Expectation {
	e := Expectation{Observed: make([]float64, t.Suppliers), Expected: make([]float64, t.Suppliers)}
	if t.Suppliers == 0 {
		return e
	}
	e.Variance = mat.NewSymDense(t.Suppliers, nil)
	p := make([]float64, t.Suppliers)
	for _, r := range t.Rows {
		y := r.total()
		var spread float64
		if y > 1 {
			spread = r.Failed * (y - r.Failed) / (y - 1)
		}
		for s := range p {
			p[s] = r.AtRisk[s] / y
			e.Observed[s] += r.FailedOf[s]
			e.Expected[s] += r.Failed * p[s]
		}
		for s := range p {
			for u := s; u < t.Suppliers; u++ {
				v := -p[s] * p[u]
				if u == s {
					v += p[s]
				}
				e.Variance.SetSym(s, u, e.Variance.At(s, u)+v*spread)
			}
		}
	}
	return e
}

// ByType returns observed and expected failures of one supplier for one part
// type.
func (t Table) ByType(supplier, partType int) (observed, expected float64) {
	for _, r := range t.Rows {
		if r.PartType == partType {
			observed += r.FailedOf[supplier]
			expected += r.Failed * r.AtRisk[supplier] / r.total()
		}
	}
	return observed, expected
}

// GlobalTest asks whether the suppliers differ at all.
type GlobalTest struct {
	ChiSquare float64
	DF        int
	P         float64 // 1 where nothing can be compared
}

// rankTolerance separates the directions in which suppliers can be compared
// from rounding: eigenvalues are clear multiples of one failure or zero.
const rankTolerance = 1e-10

// Test returns (O−E)'V⁻(O−E) on as many degrees of freedom as V has rank, at
// most the number of suppliers less one.
func (e Expectation) Test() GlobalTest {
	if e.Variance == nil {
		return GlobalTest{P: 1}
	}
	var eig mat.EigenSym
	if !eig.Factorize(e.Variance, true) {
		return GlobalTest{P: 1}
	}
	values := eig.Values(nil)
	var vectors mat.Dense
	eig.VectorsTo(&vectors)
	var out GlobalTest
	for k, lambda := range values {
		if lambda <= rankTolerance*values[len(values)-1] || lambda <= 0 {
			continue
		}
		var dot float64
		for s := range e.Observed {
			dot += vectors.At(s, k) * (e.Observed[s] - e.Expected[s])
		}
		out.ChiSquare += dot * dot / lambda
		out.DF++
	}
	if out.DF == 0 {
		return GlobalTest{P: 1}
	}
	out.P = distuv.ChiSquared{K: float64(out.DF)}.Survival(out.ChiSquare)
	return out
}
