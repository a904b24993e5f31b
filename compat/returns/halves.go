package returns

import "sync"

// inHalves lets two workers do the numbers 0 … n − 1, the second from the half
// that it returns on, where there are enough of them to be worth it; with few, the first does
// all.
func inHalves(n int, do func(worker, from, to int)) (half int) {
	const worth = 20_000
	if n < worth {
		do(0, 0, n)
		return n
	}
	half = n / 2
	var second sync.WaitGroup
	second.Go(func() { do(1, half, n) })
	do(0, 0, half)
	second.Wait()
	return half
}
