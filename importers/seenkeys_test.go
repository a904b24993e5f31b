package importers

import (
	"sync"
	"testing"

	"pgregory.net/rapid"
)

// TestSeenKeys compares with counting: whatever was noted twice must be known for it,
// from however many goroutines it came. Keys that share their slot and lie close to
// each other are among them.
func TestSeenKeys(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		key := rapid.Custom(func(t *rapid.T) uint64 {
			return rapid.Uint64Range(0, 40).Draw(t, "upper")<<33 | rapid.Uint64Range(0, 3).Draw(t, "lower")
		})
		keys := rapid.SliceOfN(key, 0, 300).Draw(t, "keys")
		seen := newSeenKeys(len(keys))
		var group sync.WaitGroup
		for k := range 3 {
			group.Go(func() {
				var pending pendingKeys
				for _, key := range keys[k*len(keys)/3 : (k+1)*len(keys)/3] {
					pending.add(seen, key)
				}
				pending.flush(seen)
			})
		}
		group.Wait()
		times := map[uint64]int{}
		for _, k := range keys {
			times[k]++
		}
		again := 0
		for k, n := range times {
			again += n - 1
			if n > 1 && !seen.twice(k) {
				t.Fatalf("%x came %d times and is not known for it", k, n)
			}
		}
		if got := int(seen.again.Load()); got < again {
			t.Fatalf("%d came again, not %d", again, got)
		}
		for k, n := range times {
			if n == 1 && k>>33 > 1 && seen.twice(k) && !sharesUpperBits(times, k) {
				t.Fatalf("%x came once", k)
			}
		}
	})
}

// sharesUpperBits reports whether another key can be taken for this one.
func sharesUpperBits(times map[uint64]int, key uint64) bool {
	for k := range times {
		if k != key && upperBits(k) == upperBits(key) {
			return true
		}
	}
	return false
}
