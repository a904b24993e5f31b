package returns

import (
	"strings"

	"fitfill/catalog"
)

// typeNames numbers part types; each way of writing is folded once. Number 0
// stands for none.
type typeNames struct {
	byKey map[string]int32
	keys  []string // folded
	types spellings
}

func (n *typeNames) id(text string) int32 {
	key := catalog.Fold(text)
	if key == "" {
		return 0
	}
	id, ok := n.byKey[key]
	if !ok {
		id = int32(len(n.keys))
		n.byKey[key], n.keys = id, append(n.keys, key)
	}
	n.types.add(key, strings.TrimSpace(text))
	return id
}

// earlier picks the type whose name comes first; none loses to any.
func (n *typeNames) earlier(a, b int32) int32 {
	if a == 0 || b != 0 && b != a && n.keys[b] < n.keys[a] {
		return b
	}
	return a
}

// classify gives every row its part type: its own, else the one that another
// line of the lot, or for a return another supplier's line of the same number,
// states.
func (m *matcher) classify(w *speller, sales []seen) {
	n := &typeNames{byKey: map[string]int32{}, keys: []string{""}, types: spellings{}}
	ids := make([]int32, len(w.types)) // by place in the speller's list
	for i, text := range w.types {
		ids[i] = n.id(text)
	}
	ofLot, sold := make([]int32, len(m.lots)), make([]bool, len(m.lots))
	for i := range m.sales {
		s := &m.sales[i]
		s.partType, sold[s.lot] = ids[sales[s.at].partType], true
		ofLot[s.lot] = n.earlier(ofLot[s.lot], s.partType)
	}
	ofPart := map[string]int32{}
	for id, k := range ofLot {
		if k != 0 {
			part := m.lots[id].part
			ofPart[part] = n.earlier(ofPart[part], k)
		}
	}
	var unclassified int32
	none := func() int32 {
		if unclassified == 0 {
			unclassified = n.id(Unclassified)
		}
		return unclassified
	}
	for i := range m.sales {
		s := &m.sales[i]
		if s.partType == 0 {
			s.partType = ofLot[s.lot]
		}
		if s.partType == 0 {
			m.fate(s).flag(PartTypeMissing)
			s.partType = none()
		}
	}
	for _, r := range m.returns {
		k := ofLot[r.lot]
		if k == 0 && !sold[r.lot] {
			k = ofPart[m.lots[r.lot].part]
		}
		if k == 0 {
			k = none()
		}
		r.partType = int(k)
	}
	m.settleTypes(n)
}

// settleTypes numbers the part types by name and opens the tallies.
func (m *matcher) settleTypes(n *typeNames) {
	byKey, names := n.types.names()
	index := make([]int, len(n.keys))
	for id, key := range n.keys {
		index[id] = byKey[key]
	}
	m.ledger.PartTypes = names
	for i := range m.sales {
		s := &m.sales[i]
		place := index[s.partType]
		s.partType = int32(place)
		f := m.fate(s)
		f.Supplier, f.PartType = m.lots[s.lot].supplier, place
	}
	for _, r := range m.returns {
		r.partType = index[r.partType]
		r.fate.Supplier, r.fate.PartType = r.supplier, r.partType
	}
	m.tallies = make([][]Tally, len(m.ledger.Suppliers))
	for s := range m.tallies {
		m.tallies[s] = make([]Tally, len(names))
		for g := range names {
			m.tallies[s][g] = Tally{Supplier: s, PartType: g}
		}
	}
}
