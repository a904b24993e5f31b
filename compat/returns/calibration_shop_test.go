package returns_test

import (
	"math"
	"math/rand/v2"

	"gonum.org/v1/gonum/stat/distuv"

	"fitfill/compat/returns"
)

// scenario is an invented trade whose truth is known.
type scenario struct {
	suppliers int
	pieces    int
	tau       float64 // spread of the log rates
	conc      float64 // of the part mix: 0.7 mixed, 0.15 specialised
	second    bool    // the second generator
}

// The part types of the generator: share failing within a year, share of those
// dead on arrival, Weibull shape of the rest.
var inventedTypes = []struct{ fails, dead, shape float64 }{
	{0.01, 0.10, 0.8}, {0.02, 0.20, 1}, {0.03, 0.30, 1.2}, {0.04, 0.20, 0.9}, {0.06, 0.25, 1.5}, {0.08, 0.15, 1},
}

// trade is one draw of a scenario.
type trade struct {
	units  []returns.Unit
	truth  []float64 // log rate of each supplier
	lived  []float64 // cumulative hazard that its pieces lived through at the common rate
	failed []float64 // quality failures within a year
	naive  []float64 // everything that came back, by pieces sold
}

// hazardUpTo is the cumulative hazard of a part type at a rate of 1.
func hazardUpTo(g, day int) float64 {
	k := inventedTypes[g]
	return -math.Log(1-k.fails) * (k.dead + (1-k.dead)*math.Pow(float64(day)/365, k.shape))
}

// draw invents a trade: sizes by Gamma(1.2), part mixes by Dirichlet(conc), log
// rates N(−τ²/2, τ), warranty of 180, 365 or 730 days, ages up to two years, 3 %
// of the pieces back as neutral returns within a fortnight. The second generator
// draws rates from two points, 0.75 and in a quarter of the suppliers 2.2, and
// lets them differ between a supplier's part types by a log factor N(0, 0.25):
// the model's one rate a supplier is then wrong, and the truth is the rate over
// the supplier's own mix.
func draw(s scenario, rng *rand.Rand) trade {
	k := s.suppliers
	t := trade{truth: make([]float64, k), lived: make([]float64, k), failed: make([]float64, k), naive: make([]float64, k)}
	size, sum := make([]float64, k), 0.0
	for i := range size {
		size[i] = max(0.05, distuv.Gamma{Alpha: 1.2, Beta: 1, Src: rng}.Rand())
		sum += size[i]
	}
	for i := range k {
		var mix []float64
		var total float64
		for range inventedTypes {
			mix = append(mix, distuv.Gamma{Alpha: s.conc, Beta: 1, Src: rng}.Rand())
			total += mix[len(mix)-1]
		}
		base := -s.tau*s.tau/2 + s.tau*rng.NormFloat64()
		rates := make([]float64, len(inventedTypes))
		if s.second {
			base = math.Log(0.75)
			if rng.Float64() < 0.25 {
				base = math.Log(2.2)
			}
		}
		for g := range rates {
			rates[g] = math.Exp(base)
			if s.second {
				rates[g] *= math.Exp(0.25 * rng.NormFloat64())
			}
		}
		warranty := []int{180, 365, 365, 730}[rng.IntN(4)]
		pieces := max(1, int(math.Round(float64(s.pieces)*size[i]/sum)))
		var back, ownRate float64
		for range pieces {
			g, u := 0, rng.Float64()*total
			for g < len(mix)-1 && u >= mix[g] {
				u -= mix[g]
				g++
			}
			unit, neutral := life(g, rates[g], warranty, rng)
			unit.Supplier, unit.Line = i, len(t.units)
			t.units = append(t.units, unit)
			h := hazardUpTo(g, min(unit.Exit, 365))
			t.lived[i] += h
			ownRate += h * rates[g]
			if unit.Event && unit.Exit <= 365 {
				t.failed[i]++
			}
			if unit.Event || neutral {
				back++
			}
		}
		t.truth[i] = math.Log(ownRate / t.lived[i])
		t.naive[i] = back / float64(pieces)
	}
	return t
}

// life draws one piece.
func life(g int, rate float64, warranty int, rng *rand.Rand) (u returns.Unit, neutral bool) {
	k := inventedTypes[g]
	age := int(730 * rng.Float64())
	exit := min(age, warranty)
	day := 0
	if e := rng.ExpFloat64() / (-math.Log(1-k.fails) * rate); e > k.dead {
		day = int(min(1e6, math.Ceil(365*math.Pow((e-k.dead)/(1-k.dead), 1/k.shape))))
	}
	left := 1 << 30
	if rng.Float64() < 0.03 {
		left = 1 + rng.IntN(14)
	}
	u = returns.Unit{PartType: g, Entry: -1, Exit: exit, Weight: 1}
	switch {
	case day <= exit && day <= left:
		u.Exit, u.Event = day, true
	case left <= exit:
		u.Exit, neutral = left, true
	}
	return u, neutral
}

// oracle is the best guess of a supplier's log rate for one who knows the true
// hazards and the spread: the mode of failed·b − lived·e^b − (b + τ²/2)²/2τ².
func oracle(failed, lived, tau float64) float64 {
	b := 0.0
	for range 100 {
		step := (failed - lived*math.Exp(b) - (b+tau*tau/2)/(tau*tau)) / (lived*math.Exp(b) + 1/(tau*tau))
		b += max(-1, min(1, step))
	}
	return b
}

// kendall is tau-b, as cor(method = "kendall") in R; NaN where either ranks all
// alike.
func kendall(x, y []float64) float64 {
	var concordant, discordant, tiesX, tiesY float64
	for i := range x {
		for j := range i {
			a, b := x[i]-x[j], y[i]-y[j]
			switch {
			case a == 0 && b == 0:
			case a == 0:
				tiesX++
			case b == 0:
				tiesY++
			case a*b > 0:
				concordant++
			default:
				discordant++
			}
		}
	}
	both := concordant + discordant
	return (concordant - discordant) / math.Sqrt((both+tiesX)*(both+tiesY))
}
