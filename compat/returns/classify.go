package returns

import (
	"slices"
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

// newTypeNames numbers part types as they are written; ids has the number of
// each.
func newTypeNames(written []string) (n *typeNames, ids []int32) {
	n = &typeNames{byKey: map[string]int32{}, keys: []string{""}, types: spellings{}}
	for _, text := range written {
		ids = append(ids, n.id(text))
	}
	return n, ids
}

// settleTypes names the part types and gives every return its own: the one that
// a sale of its lot states, else another supplier's sale of the same number.
func (m *matcher) settleTypes() {
	missing := slices.ContainsFunc(m.shards, func(sh shard) bool { return sh.unclassified })
	var ofPart map[string]int32
	for i := range m.lots {
		l := &m.lots[i]
		if len(l.back) == 0 {
			continue
		}
		k := l.partType
		if len(l.lines) == 0 {
			if ofPart == nil {
				ofPart = m.typesByPart()
			}
			k = ofPart[l.part]
		}
		missing = missing || k == 0
		for j := range l.back {
			l.back[j].partType = k
		}
	}
	none := int32(0)
	if missing {
		none = m.types.id(Unclassified)
	}
	byKey, names := m.types.types.names()
	m.ledger.PartTypes = names
	m.index = make([]int32, len(m.types.keys))
	for id, key := range m.types.keys {
		m.index[id] = int32(byKey[key])
	}
	m.index[0] = m.index[none]
	for i := range m.back {
		r := &m.back[i]
		r.partType = m.index[r.partType]
		r.fate.Supplier, r.fate.PartType = int32(r.supplier), r.partType
	}
}

// typesByPart returns what part type the sales of a number state, whoever
// supplied it.
func (m *matcher) typesByPart() map[string]int32 {
	out := map[string]int32{}
	for i := range m.lots {
		if l := &m.lots[i]; l.partType != 0 {
			out[l.part] = m.types.earlier(out[l.part], l.partType)
		}
	}
	return out
}
