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

// maxKeyed bounds how many of the identities that occur more than once are sorted at
// once; a sheet with more is gone through again for each share of them.
const maxKeyed = 1 << 20

// identities goes through the part numbers (engines, vehicles) of a sheet,
// counts what they look like, and finds those that may occur more than once.
type identities struct {
	src   *source
	plans []*plan // one for each goroutine
	seen  *seenKeys
	plain bool        // markPlain saw every row
	odd   atomic.Bool // and found one that it could not note
}

// scan calls see with every record of a stretch that has an identity, and its
// hash.
func (d *identities) scan(p *plan, from, to int, see func(i int, key uint64)) {
	column, lines := p.columns[p.identity], d.src.cursor(from)
	for i := from; i < to; i++ {
		line := lines.content(i)
		if d.src.records.class(i) != ClassData || d.src.wrong(i) != nil {
			continue
		}
		if key, ok := p.identityHash(column, d.src.oneOf(i, line, column.Index)); ok {
			see(i, key)
		}
	}
}

// prepare makes room for the identities of the sheet.
func (d *identities) prepare() { d.seen = newSeenKeys(d.src.records.n) }

// markPlain notes the part number of a row if what its cell says needs no knowledge
// of the other numbers. That saves going through the sheet once more, as a rule. The
// caller flushes what is pending.
func (d *identities) markPlain(p *plan, pending *pendingKeys, cell string) {
	key, ok, plain := p.plainHash(p.columns[p.identity], cell)
	switch {
	case !plain:
		d.odd.Store(true)
	case ok:
		pending.add(d.seen, key)
	}
}

// markRest notes the identities that markPlain could not, each goroutine in its own
// stretch of the records.
func (d *identities) markRest() error {
	if d.plain && !d.odd.Load() {
		return nil
	}
	return stretches(d.src.records.n, len(d.plans), func(n, from, to int) {
		p := d.plans[n]
		column := p.columns[p.identity]
		d.scan(p, from, to, func(i int, key uint64) {
			if d.plain {
				if _, _, plain := p.plainHash(column, d.src.one(i, column.Index)); plain {
					return
				}
			}
			d.seen.note(key)
		})
	})
}

// repeated calls do with every group of two or more records of one identity, in
// the order of their hashes. The group is only good during the call.
func (d *identities) repeated(do func(group []keyed)) error {
	if err := d.markRest(); err != nil {
		return err
	}
	again := int(d.seen.again.Load())
	if again == 0 {
		return nil
	}
	passes := 1 + 2*again/maxKeyed
	parts := uint64(1) << bits.Len(uint(passes-1))
	for part := range parts {
		found := make([][]keyed, len(d.plans))
		err := stretches(d.src.records.n, len(d.plans), func(n, from, to int) {
			d.scan(d.plans[n], from, to, func(i int, key uint64) {
				if key&(parts-1) == part && d.seen.twice(key) {
					found[n] = append(found[n], keyed{key, int32(i)})
				}
			})
		})
		if err != nil {
			return err
		}
		keys := slices.Concat(found...)
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
	if key, ok, plain := p.plainHash(c, cell); plain {
		return key, ok
	}
	full := catalog.Key(c.read(cell).text)
	return maphash.String(hashSeed, full), full != ""
}

// plainHash is identityHash for a part number of plain characters that is kept as it
// stands.
func (p *plan) plainHash(c *planColumn, cell string) (key uint64, ok, plain bool) {
	if p.kind.identity != "number" || c.Pad > 0 || c.PointZero != "" {
		return 0, false, false
	}
	var buf [64]byte
	folded := buf[:0]
	for i := range len(cell) {
		switch b := cell[i]; {
		case b >= '0' && b <= '9', b >= 'A' && b <= 'Z':
			folded = append(folded, b)
		case b >= 'a' && b <= 'z':
			folded = append(folded, b-'a'+'A')
		case b >= 0x80, b == '=':
			return 0, false, false
		}
	}
	return maphash.Bytes(hashSeed, folded), len(folded) > 0, true
}
