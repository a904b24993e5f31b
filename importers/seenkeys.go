package importers

import (
	"math/bits"
	"sync/atomic"
)

// seenKeys knows hashes that were noted, and which of them more than once, in four
// bytes a slot: the slot and the upper bits of a hash tell it from others. That two
// different ones are taken for each other happens about once in a thousand sheets of a
// million rows, and only means that they are looked at once more. Several goroutines may
// note at once, and ask once all is noted.
type seenKeys struct {
	slots []uint32 // 31 bits of a hash, and whether it came again; zero where there is none
	again atomic.Int64
}

// cameAgain is set in the slot of a hash that was noted twice.
const cameAgain = 1

// newSeenKeys makes room for n hashes: at least a quarter of the slots stay empty, so
// that searches are short.
func newSeenKeys(n int) *seenKeys {
	slots := uint64(1) << bits.Len64(uint64(n)*4/3+64)
	return &seenKeys{slots: make([]uint32, slots)}
}

func upperBits(key uint64) uint32 { return max(uint32(key>>32)&^cameAgain, cameAgain+1) }

// note adds a hash.
func (k *seenKeys) note(key uint64) {
	mask, mine := uint64(len(k.slots)-1), upperBits(key)
	for at := key & mask; ; at = (at + 1) & mask {
		there := atomic.LoadUint32(&k.slots[at])
		if there == 0 {
			if atomic.CompareAndSwapUint32(&k.slots[at], 0, mine) {
				return
			}
			there = atomic.LoadUint32(&k.slots[at])
		}
		if there&^cameAgain == mine {
			atomic.OrUint32(&k.slots[at], cameAgain)
			k.again.Add(1)
			return
		}
	}
}

// twice reports whether a hash was noted more than once.
func (k *seenKeys) twice(key uint64) bool {
	mask, mine := uint64(len(k.slots)-1), upperBits(key)
	for at := key & mask; k.slots[at] != 0; at = (at + 1) & mask {
		if there := k.slots[at]; there&^cameAgain == mine {
			return there&cameAgain != 0
		}
	}
	return false
}
