package returns

import (
	"strings"

	"fitfill/catalog"
)

// spelling is one way in which the rows write a supplier and a part.
type spelling struct {
	supplier, part string // as written
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

	lastSupplier, lastType string
	ofLast                 map[string]int32
	lastTyped              int32
}

func newSpeller() *speller {
	return &speller{at: map[string]map[string]int32{}, types: []string{""}, typed: map[string]int32{"": 0}}
}

func (w *speller) see(supplier, part, partType string) seen {
	return seen{w.spelled(supplier, part), w.ofType(partType)}
}

func (w *speller) spelled(supplier, part string) int32 {
	if w.ofLast == nil || supplier != w.lastSupplier {
		if w.at[supplier] == nil {
			w.at[supplier] = map[string]int32{}
		}
		w.lastSupplier, w.ofLast = supplier, w.at[supplier]
	}
	i, ok := w.ofLast[part]
	if !ok {
		i = int32(len(w.list))
		w.list = append(w.list, spelling{supplier: supplier, part: part})
		w.ofLast[part] = i
	}
	return i
}

func (w *speller) ofType(text string) int32 {
	if text == w.lastType {
		return w.lastTyped
	}
	i, ok := w.typed[text]
	if !ok {
		i = int32(len(w.types))
		w.types, w.typed[text] = append(w.types, text), i
	}
	w.lastType, w.lastTyped = text, i
	return i
}

// take adds what another speller saw and renumbers its rows.
func (w *speller) take(other *speller, rows []seen) {
	if len(rows) == 0 {
		return
	}
	spelled, typed := make([]int32, len(other.list)), make([]int32, len(other.types))
	for i, p := range other.list {
		spelled[i] = w.spelled(p.supplier, p.part)
	}
	for i, text := range other.types {
		typed[i] = w.ofType(text)
	}
	for i, r := range rows {
		rows[i] = seen{spelled[r.spelling], typed[r.partType]}
	}
}

// fold gives every row its supplier, part and part type, and flags rows that
// are spelled unlike others that mean the same.
func (m *matcher) fold() {
	sales, back := make([]seen, len(m.books.Sales)), make([]seen, len(m.books.Returns))
	spellers := [2]*speller{newSpeller(), newSpeller()}
	half := inHalves(len(sales), func(worker, from, to int) {
		for i := from; i < to; i++ {
			s := &m.books.Sales[i]
			sales[i] = spellers[worker].see(s.Supplier, s.Part, s.PartType)
		}
	})
	w := spellers[0]
	w.take(spellers[1], sales[half:])
	for i := range back {
		r := &m.books.Returns[i]
		back[i] = w.see(r.Supplier, r.Part, "")
	}
	m.nameLots(w)
	for i := range m.sales {
		s := &m.sales[i]
		p := &w.list[sales[s.at].spelling]
		s.lot = p.lot
		if p.unlike {
			m.fate(s).flag(KeyFolded)
		}
	}
	for _, r := range m.returns {
		p := &w.list[back[r.at].spelling]
		r.lot, r.supplier = p.lot, m.lots[p.lot].supplier
		if p.unlike {
			r.fate.flag(KeyFolded)
		}
	}
	m.classify(w, sales)
}

// nameLots finds out which spellings mean the same supplier and part.
func (m *matcher) nameLots(w *speller) {
	suppliers, folded := spellings{}, map[string]string{}
	for supplier := range w.at {
		folded[supplier] = catalog.Fold(strings.TrimSpace(supplier))
		suppliers.add(folded[supplier], strings.TrimSpace(supplier))
	}
	index, names := suppliers.names()
	m.ledger.Suppliers = names
	ids, texts := map[lot]int32{}, []string(nil)
	for i := range w.list {
		p := &w.list[i]
		part := strings.TrimSpace(p.part)
		l := lot{index[folded[p.supplier]], partKey(part)}
		id, ok := ids[l]
		if !ok {
			id = int32(len(m.lots))
			ids[l], m.lots, texts = id, append(m.lots, l), append(texts, part)
		}
		p.lot, texts[id] = id, min(texts[id], part)
	}
	for i := range w.list {
		p := &w.list[i]
		p.unlike = strings.TrimSpace(p.supplier) != names[m.lots[p.lot].supplier] || strings.TrimSpace(p.part) != texts[p.lot]
	}
}
