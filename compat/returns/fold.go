package returns

import (
	"slices"
	"strings"

	"fitfill/catalog"
)

// partKey folds a part number. A number with letters beyond the Latin alphabet
// keeps them, since dropping them could make two parts one.
func partKey(number string) string {
	k := catalog.Key(number)
	beyond := strings.ContainsFunc(number, func(r rune) bool { return r > 127 && r != '\u00a0' })
	if k == "" || beyond {
		return catalog.Fold(number)
	}
	return k
}

// isCore reports whether a part type stands for a core or a deposit. A core
// plug or a heater core is a part like any other.
func isCore(partType string) bool {
	switch catalog.Fold(partType) {
	case "core", "cores", "deposit", "core deposit", "core charge":
		return true
	}
	return false
}

// spellings finds the one spelling that stands for all that fold alike: the
// first by byte order, whatever order the rows came in.
type spellings map[string]string

func (s spellings) add(key, text string) {
	if have, ok := s[key]; !ok || text < have {
		s[key] = text
	}
}

// names returns the keys and their spellings in the order of the keys.
func (s spellings) names() (index map[string]int, names []string) {
	keys := make([]string, 0, len(s))
	for k := range s {
		keys = append(keys, k)
	}
	slices.Sort(keys)
	index = make(map[string]int, len(keys))
	for i, k := range keys {
		index[k] = i
		names = append(names, s[k])
	}
	return index, names
}

// spelling is one way in which the rows write a supplier and a part.
type spelling struct {
	supplier, part string // as written, trimmed
	lotID          int
	unlike         bool // another spelling stands for its lot
}

// speller takes each way of writing apart only once; rows repeat them.
type speller struct {
	at     map[string]map[string]int // supplier and part as written → place in list
	list   []spelling
	last   string
	ofLast map[string]int
}

func (w *speller) see(supplier, part string) int {
	if w.ofLast == nil || supplier != w.last {
		if w.at[supplier] == nil {
			w.at[supplier] = map[string]int{}
		}
		w.last, w.ofLast = supplier, w.at[supplier]
	}
	i, ok := w.ofLast[part]
	if !ok {
		i = len(w.list)
		w.list = append(w.list, spelling{supplier: strings.TrimSpace(supplier), part: strings.TrimSpace(part)})
		w.ofLast[part] = i
	}
	return i
}

// fold gives every row its supplier, part and part type, and flags rows that
// are spelled unlike others that mean the same. It returns how many lots there
// are.
func (m *matcher) fold() int {
	w := &speller{at: map[string]map[string]int{}}
	ofSale, ofReturn := make([]int32, len(m.sales)), make([]int32, len(m.returns))
	for i, s := range m.sales {
		ofSale[i] = int32(w.see(s.Supplier, s.Part))
	}
	for i, r := range m.returns {
		ofReturn[i] = int32(w.see(r.Supplier, r.Part))
	}
	suppliers := spellings{}
	for _, p := range w.list {
		suppliers.add(catalog.Fold(p.supplier), p.supplier)
	}
	index, names := suppliers.names()
	m.ledger.Suppliers = names
	ids, lots, texts := map[lot]int{}, []lot(nil), []string(nil)
	for i := range w.list {
		p := &w.list[i]
		l := lot{index[catalog.Fold(p.supplier)], partKey(p.part)}
		id, ok := ids[l]
		if !ok {
			id = len(lots)
			ids[l], lots, texts = id, append(lots, l), append(texts, p.part)
		}
		p.lotID, texts[id] = id, min(texts[id], p.part)
	}
	for i := range w.list {
		p := &w.list[i]
		p.unlike = p.supplier != names[lots[p.lotID].supplier] || p.part != texts[p.lotID]
	}
	for i, s := range m.sales {
		p := &w.list[ofSale[i]]
		s.lotID, s.lot = p.lotID, &lots[p.lotID]
		if p.unlike {
			s.fate.flag(KeyFolded)
		}
	}
	for i, r := range m.returns {
		p := &w.list[ofReturn[i]]
		r.lotID, r.lot = p.lotID, &lots[p.lotID]
		if p.unlike {
			r.fate.flag(KeyFolded)
		}
	}
	m.classify(lots)
	return len(lots)
}

// typeNames numbers part types as written; each way of writing is folded once.
type typeNames struct {
	at     map[string]int // as written → place in keys
	byKey  map[string]int
	keys   []string // folded
	types  spellings
	last   string
	ofLast int
}

func newTypeNames() *typeNames {
	return &typeNames{at: map[string]int{"": 0}, byKey: map[string]int{"": 0}, keys: []string{""}, types: spellings{}}
}

// id returns the number of a part type; 0 stands for none.
func (n *typeNames) id(text string) int {
	if text == n.last {
		return n.ofLast
	}
	id, ok := n.at[text]
	if !ok {
		key := catalog.Fold(text)
		if id, ok = n.byKey[key]; !ok {
			id = len(n.keys)
			n.byKey[key], n.keys = id, append(n.keys, key)
		}
		n.at[text] = id
		n.types.add(key, strings.TrimSpace(text))
	}
	n.last, n.ofLast = text, id
	return id
}

// earlier picks the type whose name comes first; none loses to any.
func (n *typeNames) earlier(a, b int) int {
	if a == 0 || b != 0 && n.keys[b] < n.keys[a] {
		return b
	}
	return a
}

// classify gives every row its part type: its own, else the one that another
// line of the lot, or for a return another supplier's line of the same number,
// states.
func (m *matcher) classify(lots []lot) {
	n := newTypeNames()
	own := make([]int32, len(m.sales))
	ofLot, sold := make([]int, len(lots)), make([]bool, len(lots))
	for i, s := range m.sales {
		id := n.id(s.PartType)
		own[i] = int32(id)
		sold[s.lotID] = true
		ofLot[s.lotID] = n.earlier(ofLot[s.lotID], id)
	}
	ofPart := map[string]int{}
	for id, k := range ofLot {
		if k != 0 {
			ofPart[lots[id].part] = n.earlier(ofPart[lots[id].part], k)
		}
	}
	for i, s := range m.sales {
		if own[i] == 0 {
			own[i] = int32(ofLot[s.lotID])
		}
		if own[i] == 0 {
			s.fate.flag(PartTypeMissing)
			own[i] = int32(n.id(Unclassified))
		}
	}
	back := make([]int32, len(m.returns))
	for i, r := range m.returns {
		k := ofLot[r.lotID]
		if k == 0 && !sold[r.lotID] {
			k = ofPart[r.lot.part]
		}
		if k == 0 {
			k = n.id(Unclassified)
		}
		back[i] = int32(k)
	}
	m.settleTypes(n, own, back)
}

// settleTypes numbers the part types by name and opens the tallies.
func (m *matcher) settleTypes(n *typeNames, own, back []int32) {
	byKey, names := n.types.names()
	index := make([]int, len(n.keys))
	for id, key := range n.keys {
		index[id] = byKey[key]
	}
	m.ledger.PartTypes = names
	for i, s := range m.sales {
		s.partType = index[own[i]]
		s.fate.Supplier, s.fate.PartType = s.lot.supplier, s.partType
	}
	for i, r := range m.returns {
		r.partType = index[back[i]]
		r.fate.Supplier, r.fate.PartType = r.lot.supplier, r.partType
	}
	m.tallies = make([][]Tally, len(m.ledger.Suppliers))
	for s := range m.tallies {
		m.tallies[s] = make([]Tally, len(names))
		for g := range names {
			m.tallies[s][g] = Tally{Supplier: s, PartType: g}
		}
	}
}
