package returns

import (
	"math"

	"gonum.org/v1/gonum/stat/distuv"
)

// Life is how long a piece was watched, and whether it failed then.
type Life struct {
	Time   float64 // above 0, in any unit
	Failed bool
	Weight float64
}

// Weibull is the distribution 1 − exp(−(t/Scale)^Shape) fitted to lives: a shape
// under 1 means early failures, over 1 that parts wear out.
type Weibull struct {
	Shape  float64
	Scale  float64 // in the unit of the times
	Failed float64
	LogL   float64
	// Limits of the shape: where twice the log likelihood has fallen by the
	// chi-square quantile (profile), and by the information matrix on the log
	// scale (Wald). The profile is the one to show; few failures skew both.
	Profile, Wald          Interval
	SELogShape, SELogScale float64
	CovLog                 float64 // of ln Scale and ln Shape
}

// The shape is looked for between these; NIST 8.4.1.2 and every part the trade
// sells lie well inside.
const (
	flattest = 0.02
	steepest = 40
)

// FitWeibull fits by maximum likelihood with right censoring and weights: the
// shape β is the root of Σw·t^β·ln t/Σw·t^β − 1/β − Σ_failed w·ln t/r, and
// η = (Σw·t^β/r)^(1/β) with r failures. It is false with fewer than two different
// times or no failure, and where the root lies outside 0.02..40. Source: "Maximum
// likelihood estimation in the Weibull distribution based on complete and on
// censored samples", Technometrics 1965 (from memory).
func FitWeibull(lives []Life, conf float64) (Weibull, bool) {
	top, least := 0.0, math.Inf(1)
	var r, logs float64
	for _, l := range lives {
		if l.Weight <= 0 {
			continue
		}
		top, least = max(top, l.Time), min(least, l.Time)
		if l.Failed {
			r += l.Weight
		}
	}
	if r == 0 || !(least > 0) || least == top {
		return Weibull{}, false
	}
	for _, l := range lives {
		if l.Failed {
			logs += l.Weight * math.Log(l.Time/top)
		}
	}
	sums := func(shape float64) (s0, s1 float64) {
		for _, l := range lives {
			x := math.Log(l.Time / top)
			p := l.Weight * math.Exp(shape*x)
			s0, s1 = s0+p, s1+p*x
		}
		return s0, s1
	}
	score := func(shape float64) float64 {
		s0, s1 := sums(shape)
		return s1/s0 - 1/shape - logs/r
	}
	if score(flattest) > 0 || score(steepest) < 0 {
		return Weibull{}, false
	}
	w := Weibull{Failed: r, Shape: bisect(score, 0, flattest, steepest)}
	logL := func(shape float64) float64 {
		s0, _ := sums(shape)
		return r*math.Log(shape) + (shape-1)*logs - r*math.Log(s0/r) - r - r*math.Log(top)
	}
	w.LogL = logL(w.Shape)
	s0, _ := sums(w.Shape)
	w.Scale = top * math.Pow(s0/r, 1/w.Shape)
	drop := w.LogL - distuv.ChiSquared{K: 1}.Quantile(conf)/2
	w.Profile = Interval{Est: w.Shape, Low: flattest, High: steepest}
	if logL(flattest) < drop {
		w.Profile.Low = bisect(logL, drop, flattest, w.Shape)
	}
	if logL(steepest) < drop {
		w.Profile.High = bisect(func(b float64) float64 { return -logL(b) }, -drop, w.Shape, steepest)
	}
	w.information(lives, conf)
	return w, true
}

// information inverts the observed information in (ln η, ln β). With
// u = (t/η)^β and y = β·ln(t/η): I_ηη = β²·Σwu, I_ββ = Σw(u·y² − (d − u)·y),
// I_ηβ = −β·Σw·u·y.
func (w *Weibull) information(lives []Life, conf float64) {
	var ee, bb, eb float64
	for _, l := range lives {
		y := w.Shape * math.Log(l.Time/w.Scale)
		u, d := math.Exp(y), 0.0
		if l.Failed {
			d = 1
		}
		ee += l.Weight * w.Shape * w.Shape * u
		bb += l.Weight * (u*y*y - (d-u)*y)
		eb -= l.Weight * w.Shape * u * y
	}
	det := ee*bb - eb*eb
	w.SELogScale, w.SELogShape, w.CovLog = math.Sqrt(bb/det), math.Sqrt(ee/det), -eb/det
	half := zFor(conf) * w.SELogShape
	w.Wald = Interval{w.Shape, w.Shape * math.Exp(-half), w.Shape * math.Exp(half)}
}
