package main

import "math"

// pcg is the generator PCG-XSH-RR 64/32 (M. O'Neill, PCG: A Family of Simple
// Fast Space-Efficient Statistically Good Algorithms for Random Number
// Generation, 2014): its numbers are the same on every machine and with every
// release of Go. The multiplier is the paper's.
type pcg struct{ state, inc uint64 }

const multiplier = 6364136223846793005

// newPCG returns the generator of a seed and a stream: streams of one seed do
// not overlap in step.
func newPCG(seed, stream uint64) *pcg {
	r := &pcg{inc: stream<<1 | 1}
	r.next()
	r.state += seed
	r.next()
	return r
}

func (r *pcg) next() uint32 {
	old := r.state
	r.state = old*multiplier + r.inc
	x := uint32((old>>18 ^ old) >> 27)
	rot := uint(old >> 59)
	return x>>rot | x<<((32-rot)&31)
}

// below returns a whole number from 0 to n-1; n must be above 0.
func (r *pcg) below(n int) int {
	return int(uint64(r.next()) * uint64(n) >> 32)
}

// float returns a number from above 0 to below 1.
func (r *pcg) float() float64 { return (float64(r.next()) + 0.5) / (1 << 32) }

// chance is true in pct of 100 draws.
func (r *pcg) chance(pct float64) bool { return r.float()*100 < pct }

// exponential returns a waiting time of mean 1.
func (r *pcg) exponential() float64 { return -math.Log(r.float()) }
