package sqlite

import (
	"fmt"
	"math"
	"slices"
)

// partList is the parts of the supplier whose sheet is staged: those in the catalogue
// first, then the new ones, in the order of their numbers in the catalogue. Parts are
// called by their place in it.
type partList struct {
	keys    *textTable
	numbers textStore // as first written
	old     []int64   // numbers in the catalogue of the first parts, ascending
	next    int64     // the last number that was given out
	named   []bool    // this sheet speaks of it
	seen    []uint64  // fields stated by this sheet so far, as bits
	content []uint64  // sum over all that this sheet says of it
}

func (l *partList) len() int { return len(l.named) }

// load adds a part of the catalogue.
func (l *partList) load(id int64, key, number string) {
	l.keys.number(key)
	l.old = append(l.old, id)
	l.put(number)
}

func (l *partList) put(number string) {
	l.numbers.add(number)
	l.named, l.seen, l.content = append(l.named, false), append(l.seen, 0), append(l.content, 0)
}

// part returns the part of a key, which is new where nobody spoke of it before.
func (l *partList) part(key, number string) (int, error) {
	if key == "" {
		return 0, fmt.Errorf("part number %q holds neither a letter nor a digit", number)
	}
	i, isNew := l.keys.number(key)
	if isNew {
		if l.next == math.MaxInt64-1 {
			return 0, fmt.Errorf("no part numbers are left in this catalogue")
		}
		l.next++
		l.put(number)
	}
	return i, nil
}

// id returns the number of a part in the catalogue.
func (l *partList) id(i int) int64 {
	if i < len(l.old) {
		return l.old[i]
	}
	return l.next - int64(l.len()-1-i)
}

// known reports whether a part stands in the catalogue already.
func (l *partList) known(i int) bool { return i < len(l.old) }

// byID returns the part of a number in the catalogue, if it is one of the supplier's.
func (l *partList) byID(id int64) (int, bool) {
	if i, ok := slices.BinarySearch(l.old, id); ok {
		return i, true
	}
	i := l.len() - 1 - int(l.next-id)
	return i, id <= l.next && i >= len(l.old)
}

// numberOf returns the number of a part as first written, empty for another supplier's.
func (l *partList) numberOf(id int64) string {
	if i, ok := l.byID(id); ok {
		return l.numbers.text(i)
	}
	return ""
}

// spokenOf counts the parts that the sheet speaks of.
func (l *partList) spokenOf() (n int) {
	for _, named := range l.named {
		if named {
			n++
		}
	}
	return n
}
