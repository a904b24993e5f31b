package returns

import (
	"sync"
	"sync/atomic"
)

// worth is how many rows there must be before a second worker pays.
const worth = 20_000

// inHalves lets two workers do the numbers 0 … n − 1, the second from the half
// that it returns on, where there are enough of them to be worth it; with few, the first does
// all.
func inHalves(n int, do func(worker, from, to int)) (half int) {
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

// inPairs lets two workers do the numbers 0 … n − 1, each taking the next that
// nobody has begun, where they stand for enough rows. Nothing that do does may
// depend on another number.
func inPairs(n, rows int, do func(i int)) {
	var next atomic.Int64
	work := func() {
		for {
			i := int(next.Add(1)) - 1
			if i >= n {
				return
			}
			do(i)
		}
	}
	if rows < worth {
		work()
		return
	}
	var second sync.WaitGroup
	second.Go(work)
	work()
	second.Wait()
}
