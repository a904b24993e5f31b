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

// pendingKeys are hashes of one goroutine on their way to seenKeys. Each of them lies
// somewhere else in memory; noted together, they wait for it at the same time.
type pendingKeys struct {
	keys [32]uint64
	n    int
}

// add notes a hash now or later; the last ones are noted by flush.
func (p *pendingKeys) add(seen *seenKeys, key uint64) {
	p.keys[p.n] = key
	if p.n++; p.n == len(p.keys) {
		p.flush(seen)
	}
}

func (p *pendingKeys) flush(seen *seenKeys) {
	mask := uint64(len(seen.slots) - 1)
	for _, key := range p.keys[:p.n] {
		atomic.LoadUint32(&seen.slots[key&mask])
	}
	for _, key := range p.keys[:p.n] {
		seen.note(key)
	}
	p.n = 0
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
