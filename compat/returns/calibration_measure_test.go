package returns_test

import (
	"math"
	"math/rand/v2"
	"runtime"
	"slices"
	"sync"

	"fitfill/compat/returns"
)

// share counts hits among tries.
type share struct{ hits, tries float64 }

func (s *share) add(hit bool) {
	s.tries++
	if hit {
		s.hits++
	}
}

func (s share) value() float64 { return s.hits / s.tries }

func (s *share) join(o share) { s.hits, s.tries = s.hits+o.hits, s.tries+o.tries }

// measured is what the runs of one scenario came to.
type measured struct {
	runs     int
	failures float64

	coverRate, coverPair   share
	called, wrong, wrong80 share
	anyFlag, wrongFlag     share
	worstFound, worstNaive share
	tau                    map[string]*share // Kendall's tau of model, oracle, ratio and naive; hits sum it up
}

// measure runs a scenario. Every run has a source of its own, so that the
// number of processors changes nothing.
func measure(s scenario, runs int, seed uint64, set returns.Settings) measured {
	out := measured{tau: map[string]*share{"model": {}, "oracle": {}, "ratio": {}, "naive": {}}}
	results := make([]measured, runs)
	var wait sync.WaitGroup
	next := make(chan int)
	for range runtime.GOMAXPROCS(0) {
		wait.Go(func() {
			for i := range next {
				results[i] = once(draw(s, rand.New(rand.NewPCG(seed, uint64(i)))), s, set)
			}
		})
	}
	for i := range runs {
		next <- i
	}
	close(next)
	wait.Wait()
	for _, r := range results {
		if r.runs == 0 {
			continue // nothing failed: there is nothing to score
		}
		out.runs++
		out.failures += r.failures
		for _, p := range []struct{ to, from *share }{
			{&out.coverRate, &r.coverRate}, {&out.coverPair, &r.coverPair}, {&out.called, &r.called}, {&out.wrong, &r.wrong}, {&out.wrong80, &r.wrong80},
			{&out.anyFlag, &r.anyFlag}, {&out.wrongFlag, &r.wrongFlag}, {&out.worstFound, &r.worstFound}, {&out.worstNaive, &r.worstNaive},
		} {
			p.to.join(*p.from)
		}
		for name, v := range r.tau {
			out.tau[name].join(*v)
		}
	}
	out.failures /= float64(max(1, out.runs))
	return out
}

func once(t trade, s scenario, set returns.Settings) measured {
	m := measured{tau: map[string]*share{"model": {}, "oracle": {}, "ratio": {}, "naive": {}}}
	set.MinFailures = 1 // the study scores what the program would not rank yet
	c, err := returns.Compare(t.units, s.suppliers, set)
	if err != nil {
		panic(err)
	}
	if c.Failures == 0 || len(c.Compared) < 2 {
		return m
	}
	m.runs, m.failures = 1, c.Failures
	k := len(c.Compared)
	truth, rank, ratio, naive, best := make([]float64, k), make([]float64, k), make([]float64, k), make([]float64, k), make([]float64, k)
	var mean float64
	for i, sup := range c.Compared {
		truth[i], naive[i], rank[i] = t.truth[sup], t.naive[sup], c.Standings[sup].ExpectedRank
		if e := c.Standings[sup].Expected; e > 0 {
			ratio[i] = c.Standings[sup].Observed / e
		}
		best[i] = oracle(t.failed[sup], t.lived[sup], max(s.tau, 0.05))
		mean += truth[i] / float64(k)
	}
	flags := 0
	for i, sup := range c.Compared {
		st := c.Standings[sup]
		rr := math.Exp(truth[i] - mean)
		m.coverRate.add(st.Relative.Low <= rr && rr <= st.Relative.High)
		if st.WorseThanRest >= set.CallAt {
			flags++
			if slices.Max(truth)-slices.Min(truth) > alikeTruth {
				m.wrongFlag.add(truth[i] <= mean)
			}
		}
	}
	m.anyFlag.add(flags > 0)
	m.pairs(c, truth, set)
	worst := slices.Index(truth, slices.Max(truth))
	m.worstFound.add(slices.Index(rank, slices.Max(rank)) == worst)
	m.worstNaive.add(slices.Index(naive, slices.Max(naive)) == worst)
	for name, guess := range map[string][]float64{"model": rank, "oracle": best, "ratio": ratio, "naive": naive} {
		if v := kendall(guess, truth); !math.IsNaN(v) {
			m.tau[name].hits += v
			m.tau[name].tries++
		}
	}
	return m
}

// alikeTruth is a difference of log rates that is rounding.
const alikeTruth = 1e-9

// pairs looks at every two suppliers; where both are alike, no call is right or
// wrong.
func (m *measured) pairs(c returns.Comparison, truth []float64, set returns.Settings) {
	k, tail := len(truth), (1-set.Confidence)/2
	column := map[int]int{}
	for i, s := range c.Compared {
		column[s] = i
	}
	for _, p := range c.Pairs {
		a, b := column[p.A], column[p.B]
		d := truth[a] - truth[b]
		if k <= 8 { // as in the figures of R: more are too many to invert
			contrast := make([]float64, k)
			contrast[a], contrast[b] = 1, -1
			mix := c.Posterior.Contrast(contrast)
			m.coverPair.add(mix.Quantile(tail) <= d && d <= mix.Quantile(1-tail))
		}
		called := p.AWorse >= set.CallAt || p.AWorse <= 1-set.CallAt
		m.called.add(called)
		if math.Abs(d) < alikeTruth {
			continue
		}
		if called {
			m.wrong.add((p.AWorse > 0.5) != (d > 0))
		}
		if p.AWorse >= set.LeanAt || p.AWorse <= 1-set.LeanAt {
			m.wrong80.add((p.AWorse > 0.5) != (d > 0))
		}
	}
}
