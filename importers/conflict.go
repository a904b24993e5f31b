package importers

import (
	"cmp"
	"fmt"
	"hash/maphash"
	"slices"
	"strings"

	"fitfill/catalog"
)

// Two rows about the same part must not state different facts: one of them is
// wrong, and nobody here can say which. All rows of that part are held, also
// those that state nothing about the disputed fact.

var hashSeed = maphash.MakeSeed()

// findConflicts returns the problem of every record whose part (engine,
// vehicle) is stated differently on another record.
func findConflicts(s *Sheet, p *plan) map[int]*problem {
	if p.identity < 0 {
		return nil
	}
	conflicts := map[int]*problem{}
	for _, group := range sameIdentity(s, p) {
		if pr := p.contradiction(s, group); pr != nil {
			for _, i := range group {
				conflicts[i] = pr
			}
		}
	}
	return conflicts
}

// sameIdentity returns the records that share an identity, in groups of two or
// more. It keeps 16 bytes per record while it works.
func sameIdentity(s *Sheet, p *plan) [][]int {
	type keyed struct {
		key    uint64
		record int32
	}
	keys := make([]keyed, 0, len(s.Records))
	column := p.columns[p.identity]
	for i := range s.Records {
		if s.Records[i].Class != ClassData || s.structure(i) != nil {
			continue
		}
		if key, ok := p.identityHash(column, s.cell(i, column.Index)); ok {
			keys = append(keys, keyed{key, int32(i)})
		}
	}
	slices.SortFunc(keys, func(a, b keyed) int {
		return cmp.Or(cmp.Compare(a.key, b.key), cmp.Compare(a.record, b.record))
	})
	var groups [][]int
	for from := 0; from < len(keys); {
		to := from + 1
		for to < len(keys) && keys[to].key == keys[from].key {
			to++
		}
		if to-from > 1 {
			group := make([]int, 0, to-from)
			for _, k := range keys[from:to] {
				group = append(group, int(k.record))
			}
			groups = append(groups, group)
		}
		from = to
	}
	return groups
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
		case b >= 0x80:
			full := catalog.Key(cell)
			return maphash.String(hashSeed, full), full != ""
		}
	}
	return maphash.Bytes(hashSeed, key), len(key) > 0
}

// contradiction compares the readable cells of a group of records.
func (p *plan) contradiction(s *Sheet, group []int) *problem {
	type statement struct {
		record     int
		canon, raw string
	}
	said := map[string]statement{}
	n := len(p.columns)
	raw, canon := make([]string, n), make([]string, n)
	for _, i := range group {
		p.canonical(s.Cells(i, nil), raw, canon)
		for j, c := range p.columns {
			if canon[j] == "" || c.field.free || j == p.identity || j == p.currency {
				continue
			}
			key := c.field.name + "\x00" + p.scopeOf(c.field.name, canon)
			first, twice := said[key]
			if !twice {
				said[key] = statement{i, canon[j], raw[j]}
				continue
			}
			if first.canon != canon[j] && (c.list == nil || !strings.EqualFold(first.canon, canon[j])) {
				return &problem{code: "conflict", field: c.field.name, why: fmt.Sprintf(
					"%s %s: %s is %q on line %d and %q on line %d: find out which is right and correct the other",
					p.kind.noun, raw[p.identity], c.Heading, first.raw, s.Records[first.record].Line, raw[j], s.Records[i].Line)}
			}
		}
	}
	return nil
}

// scopeOf returns the value that narrows what a field is about.
func (p *plan) scopeOf(field string, canon []string) string {
	scope := p.kind.scope(field)
	if scope == "" {
		return ""
	}
	for j, c := range p.columns {
		if c.field.name == scope && canon[j] != "" {
			return canon[j]
		}
	}
	return catalog.DefaultCircuit
}
