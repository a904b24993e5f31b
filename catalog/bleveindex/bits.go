package bleveindex

import (
	"math/bits"
	"sync"
)

// documents are documents of one index, a bit for each.
type documents []uint64

func noDocuments(count int) documents { return make(documents, (count+63)/64) }

func (d documents) add(doc int) { d[doc/64] |= 1 << (doc % 64) }

// and returns the documents that are in both.
func (d documents) and(other documents) documents {
	both := make(documents, len(d))
	for n := range d {
		both[n] = d[n] & other[n]
	}
	return both
}

func (d documents) total() (n int) {
	for _, word := range d {
		n += bits.OnesCount64(word)
	}
	return n
}

// each calls do with each document, in their order.
func (d documents) each(do func(doc int)) {
	for n, word := range d {
		for ; word != 0; word &= word - 1 {
			do(n*64 + bits.TrailingZeros64(word))
		}
	}
}

// How many answers to clauses an index keeps, and how many bytes of them.
const (
	mostClauses     = 512
	mostClauseBytes = 4 << 20
)

// answered keeps which documents have what one clause of a query asks for. A
// sentence is typed key by key, and people ask for the same types, makes and
// sizes all day: what is the same in the next question is not looked up again.
// An index never changes, so neither do its answers. What no part has is not
// kept: it may be anything, a customer's name too.
//
// What is asked for once only is not worth finding for all documents: of a clause
// that may be answered for a few, its having been asked for is kept first.
type answered struct {
	mu    sync.Mutex
	kept  map[string]documents
	asked map[string]bool
}

// first reports whether a clause is asked for the first time, as far as is kept.
func (a *answered) first(clause string) bool {
	a.mu.Lock()
	defer a.mu.Unlock()
	if a.asked[clause] {
		return false
	}
	if a.asked == nil || len(a.asked) >= mostClauses {
		a.asked = map[string]bool{}
	}
	a.asked[clause] = true
	return true
}

func (a *answered) get(clause string) (documents, bool) {
	a.mu.Lock()
	defer a.mu.Unlock()
	d, ok := a.kept[clause]
	return d, ok
}

func (a *answered) keep(clause string, d documents) {
	most := min(mostClauses, mostClauseBytes/(8*len(d)+len(clause)+1))
	if most == 0 || d.total() == 0 {
		return
	}
	a.mu.Lock()
	defer a.mu.Unlock()
	if a.kept == nil {
		a.kept = map[string]documents{}
	}
	for other := range a.kept { // any one makes room
		if len(a.kept) < most {
			break
		}
		delete(a.kept, other)
	}
	a.kept[clause] = d
}
