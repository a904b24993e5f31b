package importers

import (
	"cmp"
	"hash/maphash"
	"math/bits"
	"slices"
	"sync/atomic"

	"fitfill/catalog"
)

var hashSeed = maphash.MakeSeed()

// keyed is the hash of an identity and where it stands.
type keyed struct {
	key    uint64
	record int32
}

// Two bitmaps of seenBits bits find the identities that may occur twice, in
// memory that does not grow with the sheet. maxKeyed bounds how many of those
// are sorted at once; a sheet with more is gone through again for each share of
// them.
const (
	seenBits = 1 << 25
	maxKeyed = 1 << 20
)

// identities goes through the part numbers (engines, vehicles) of a sheet,
// counts what they look like, and finds those that may occur more than once.
type identities struct {
	src   *source
	plans []*plan // one for each goroutine
	once  []uint64
	twice []uint64
	again atomic.Int64
}

// scan calls see with every record of a stretch that has an identity, and its
// hash.
func (d *identities) scan(p *plan, from, to int, see func(i int, key uint64)) {
	column := p.columns[p.identity]
	for i := from; i < to; i++ {
		if d.src.records.class(i) != ClassData || d.src.wrong(i) != nil {
			continue
		}
		if key, ok := p.identityHash(column, d.src.one(i, column.Index)); ok {
			see(i, key)
		}
	}
}

// mark notes every identity in the bitmaps, each goroutine in its own stretch of
// the records.
func (d *identities) mark(slots uint64) error {
	d.once, d.twice = make([]uint64, slots/64), make([]uint64, slots/64)
	return stretches(d.src.records.n, len(d.plans), func(n, from, to int) {
		d.scan(d.plans[n], from, to, func(_ int, key uint64) {
			at := key & (slots - 1)
			word, bit := at/64, uint64(1)<<(at%64)
			if atomic.OrUint64(&d.once[word], bit)&bit != 0 {
				atomic.OrUint64(&d.twice[word], bit)
				d.again.Add(1)
			}
		})
	})
}

// repeated calls do with every group of two or more records of one identity, in
// the order of their hashes. The group is only good during the call.
func (d *identities) repeated(do func(group []keyed)) error {
	slots := uint64(seenBits)
	if n := uint64(d.src.records.n) * 64; n < seenBits {
		slots = max(64, uint64(1)<<bits.Len64(n))
	}
	if err := d.mark(slots); err != nil {
		return err
	}
	d.once = nil
	again := int(d.again.Load())
	if again == 0 {
		return nil
	}
	passes := 1 + 2*again/maxKeyed
	parts := uint64(1) << bits.Len(uint(passes-1))
	for part := range parts {
		var keys []keyed
		d.scan(d.plans[0], 0, d.src.records.n, func(i int, key uint64) {
			at := key & (slots - 1)
			if key>>32&(parts-1) == part && d.twice[at/64]&(1<<(at%64)) != 0 {
				keys = append(keys, keyed{key, int32(i)})
			}
		})
		slices.SortFunc(keys, func(a, b keyed) int {
			return cmp.Or(cmp.Compare(a.key, b.key), cmp.Compare(a.record, b.record))
		})
		for from := 0; from < len(keys); {
			to := from + 1
			for to < len(keys) && keys[to].key == keys[from].key {
				to++
			}
			if to-from > 1 {
				do(keys[from:to])
			}
			from = to
		}
	}
	return nil
}

// identityHash folds a part number by its key and any other identity by its
// words, and hashes it. A cell without identity reports false.
func (p *plan) identityHash(c *planColumn, cell string) (uint64, bool) {
	if p.kind.identity != "number" {
		key := catalog.Fold(c.read(cell).text)
		return maphash.String(hashSeed, key), key != ""
	}
	var buf [64]byte
	key := buf[:0]
	for i := range len(cell) {
		switch b := cell[i]; {
		case b >= '0' && b <= '9', b >= 'A' && b <= 'Z':
			key = append(key, b)
		case b >= 'a' && b <= 'z':
			key = append(key, b-'a'+'A')
		case b >= 0x80, b == '=':
			full := catalog.Key(c.read(cell).text)
			return maphash.String(hashSeed, full), full != ""
		}
	}
	if c.Pad > 0 || c.PointZero != "" {
		full := catalog.Key(c.read(cell).text)
		return maphash.String(hashSeed, full), full != ""
	}
	return maphash.Bytes(hashSeed, key), len(key) > 0
}
