package returns

import (
	"strings"
	"unsafe"

	"fitfill/catalog"
)

// spelling is one way in which the rows write a supplier and a part.
type spelling struct {
	supplier, part string // as written, from nameLots on the part without blanks around it
	key            string // of the part
	lot            int32
	unlike         bool // another spelling stands for its lot
}

// seen is how one row writes its supplier, part and part type: places in the
// lists of a speller.
type seen struct{ spelling, partType int32 }

// speller takes each way of writing apart only once; rows repeat them.
type speller struct {
	at    map[string]map[string]int32 // supplier and part → place in list
	list  []spelling
	types []string // part types as written; the first is none
	typed map[string]int32

	// Who reads a million rows keeps each word once. Then the same words lie at
	// the same addresses, and looking those up instead of the letters takes a
	// quarter of the time. Words that lie elsewhere are only looked up the long way.
	written []written
	slots   []slot // open addressing, at most half full
}

// written is a way of writing, known by where its words lie.
type written struct {
	supplier, part, partType string
	seen                     seen
}

type slot struct {
	hash    uint32
	written int32 // place in speller.written + 1
}

func newSpeller() *speller {
	return &speller{at: map[string]map[string]int32{}, types: []string{""}, typed: map[string]int32{"": 0}, slots: make([]slot, 1<<10)}
}

func (w *speller) see(supplier, part, partType string) seen {
	hash := address(supplier)*0x9e3779b97f4a7c15 ^ address(part)*0xc2b2ae3d27d4eb4f ^ address(partType)*0x165667b19e3779f9
	hash ^= hash >> 29
	short := uint32(hash >> 7)
	mask := uint32(len(w.slots) - 1)
	at := short & mask
	for ; w.slots[at].written != 0; at = (at + 1) & mask {
		if w.slots[at].hash != short {
			continue
		}
		if k := &w.written[w.slots[at].written-1]; sameWord(k.part, part) && sameWord(k.supplier, supplier) && sameWord(k.partType, partType) {
			return k.seen
		}
	}
	s := seen{w.spelled(supplier, part), w.ofType(partType)}
	// Far more addresses than spellings: words are not kept once, and to remember
	// where they lie is of no use.
	if len(w.written) > 4*len(w.list)+1000 {
		return s
	}
	w.written = append(w.written, written{supplier, part, partType, s})
	w.slots[at] = slot{short, int32(len(w.written))}
	if 2*len(w.written) > len(w.slots) {
		w.widen()
	}
	return s
}

// widen doubles the slots.
func (w *speller) widen() {
	old := w.slots
	w.slots = make([]slot, 2*len(old))
	mask := uint32(len(w.slots) - 1)
	for _, s := range old {
		if s.written == 0 {
			continue
		}
		at := s.hash & mask
		for w.slots[at].written != 0 {
			at = (at + 1) & mask
		}
		w.slots[at] = s
	}
}

// address returns where a word lies, as a number to hash.
func address(word string) uint64 { return uint64(uintptr(unsafe.Pointer(unsafe.StringData(word)))) }

// sameWord reports whether two words are one in memory; equal words need not be.
func sameWord(a, b string) bool {
	return len(a) == len(b) && unsafe.StringData(a) == unsafe.StringData(b)
}

func (w *speller) spelled(supplier, part string) int32 {
	parts := w.at[supplier]
	if parts == nil {
		parts = map[string]int32{}
		w.at[supplier] = parts
	}
	i, ok := parts[part]
	if !ok {
		i = int32(len(w.list))
		w.list = append(w.list, spelling{supplier: supplier, part: part})
		parts[part] = i
	}
	return i
}

func (w *speller) ofType(text string) int32 {
	i, ok := w.typed[text]
	if !ok {
		i = int32(len(w.types))
		w.types, w.typed[text] = append(w.types, text), i
	}
	return i
}

// take adds what another speller saw and renumbers its rows.
func (w *speller) take(other *speller, rows []seen) {
	if len(rows) == 0 {
		return
	}
	spelled, typed := make([]int32, len(other.list)), make([]int32, len(other.types))
	for i := range spelled {
		spelled[i] = -1
	}
	for _, k := range other.written {
		spelled[k.seen.spelling] = w.see(k.supplier, k.part, k.partType).spelling
	}
	for i, p := range other.list {
		if spelled[i] < 0 {
			spelled[i] = w.spelled(p.supplier, p.part)
		}
	}
	for i, text := range other.types {
		typed[i] = w.ofType(text)
	}
	for i, r := range rows {
		rows[i] = seen{spelled[r.spelling], typed[r.partType]}
	}
}

// nameLots finds out which spellings mean the same supplier and part, and puts
// the lots in the order of their suppliers.
func (m *matcher) nameLots(w *speller) {
	suppliers, folded := spellings{}, map[string]string{}
	for supplier := range w.at {
		folded[supplier] = catalog.Fold(strings.TrimSpace(supplier))
		suppliers.add(folded[supplier], strings.TrimSpace(supplier))
	}
	index, names := suppliers.names()
	m.ledger.Suppliers = names
	inHalves(len(w.list), func(_, from, to int) {
		for i := from; i < to; i++ {
			p := &w.list[i]
			p.part = strings.TrimSpace(p.part)
			p.key = partKey(p.part)
			p.lot = int32(index[folded[p.supplier]]) // its supplier, until the lots have numbers
		}
	})
	count := make([]int, len(names))
	for i := range w.list {
		count[w.list[i].lot]++
	}
	order := make([][]int32, len(names)) // by supplier: its spellings
	for s, n := range count {
		order[s] = make([]int32, 0, n)
	}
	for i := range w.list {
		s := w.list[i].lot
		order[s] = append(order[s], int32(i))
	}
	m.lots = make([]lot, 0, len(w.list))
	texts := make([]string, 0, len(w.list))
	for s, own := range order {
		ids := make(map[string]int32, len(own))
		for _, i := range own {
			p := &w.list[i]
			id, ok := ids[p.key]
			if !ok {
				id = int32(len(m.lots))
				ids[p.key] = id
				m.lots, texts = append(m.lots, lot{supplier: s, part: p.key}), append(texts, p.part)
			}
			p.lot, texts[id] = id, min(texts[id], p.part)
		}
	}
	for i := range w.list {
		p := &w.list[i]
		p.unlike = strings.TrimSpace(p.supplier) != names[m.lots[p.lot].supplier] || p.part != texts[p.lot]
	}
}
