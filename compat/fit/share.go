package fit

import (
	"maps"
	"runtime"
	"sync"
	"sync/atomic"
)

// A short list is done before a second processor has begun; a few take turns
// well on any machine.
const (
	fewestToShare = 32
	mostSharing   = 4
	atOnce        = 8
)

// share does what is to be done for each of n candidates, on several processors
// where they are many. Each of these remembers notes and ratings in a field of
// its own.
func share(around *field, n int, do func(i int, around *field)) {
	sharing := min(runtime.GOMAXPROCS(0), mostSharing)
	if n < fewestToShare || sharing == 1 {
		for i := range n {
			do(i, around)
		}
		return
	}
	var next atomic.Int64
	var broken atomic.Pointer[any] // a panic belongs to whoever asked
	var done sync.WaitGroup
	for range sharing {
		own := *around
		own.notes, own.names, own.settled, own.counts = maps.Clone(around.notes), maps.Clone(around.names), maps.Clone(around.settled), maps.Clone(around.counts)
		done.Go(func() {
			defer func() {
				if p := recover(); p != nil {
					broken.Store(&p)
				}
			}()
			for {
				end := int(next.Add(atOnce))
				if end-atOnce >= n {
					return
				}
				for i := end - atOnce; i < min(end, n); i++ {
					do(i, &own)
				}
			}
		})
	}
	done.Wait()
	if p := broken.Load(); p != nil {
		panic(*p)
	}
}
