package returns

import (
	"slices"
	"strings"
)

// findStray marks the returns that name sales by a sale id or a line of a
// document, but none of their own supplier and part.
func (m *matcher) findStray() {
	if !slices.ContainsFunc(m.back, func(r returnLine) bool { return r.live && len(links(r.SaleID, r.Document, r.DocumentLine)) > 0 }) {
		return
	}
	byLink := map[string][]int32{}
	for i := range m.sales {
		if s := &m.sales[i]; s.live {
			row := &m.books.Sales[s.at]
			for _, k := range links(row.ID, row.Document, row.DocumentLine) {
				byLink[k] = append(byLink[k], int32(i))
			}
		}
	}
	for i := range m.back {
		if r := &m.back[i]; r.live {
			r.stray = m.strayLink(r, byLink)
		}
	}
}

func links(id, document, line string) []string {
	var out []string
	if id != "" {
		out = append(out, join("id", fold(id)))
	}
	if document != "" && line != "" {
		out = append(out, join("line", fold(document), fold(line)))
	}
	return out
}

// strayLink reports whether the return names sales, but none of its own
// supplier and part.
func (m *matcher) strayLink(r *returnLine, byLink map[string][]int32) bool {
	stray := false
	for _, k := range links(r.SaleID, r.Document, r.DocumentLine) {
		for _, i := range byLink[k] {
			if m.sales[i].lot == r.lot {
				return false
			}
			stray = true
		}
	}
	return stray
}

// names returns what may name a sale: its document, its job and its id.
func names(document, job, saleID string) [3]string { return [...]string{document, job, saleID} }

// kindsNamed reports which of names the returns state at all.
func (m *matcher) kindsNamed() (kinds [3]bool) {
	for i := range m.books.Returns {
		r := &m.books.Returns[i]
		for k, by := range names(r.Document, r.Job, r.SaleID) {
			kinds[k] = kinds[k] || by != ""
		}
	}
	return kinds
}

// nameHash returns a number that texts have in common that fold alike; 0 stands
// for blanks. That two texts have the same does not make them alike.
func nameHash(text string) uint32 {
	text = strings.TrimSpace(text)
	hash := uint32(2166136261)
	for i := range len(text) {
		if text[i] >= 0x80 {
			return foldedHash(text)
		}
		hash = (hash ^ uint32(lower(text[i]))) * 16777619
	}
	if text == "" {
		return 0
	}
	return max(hash, 1)
}

func foldedHash(text string) uint32 {
	hash := uint32(2166136261)
	for _, b := range []byte(strings.ToLower(text)) {
		hash = (hash ^ uint32(b)) * 16777619
	}
	return max(hash, 1)
}

// namer finds the sales of one lot that share a document, job or sale id with a
// return of that lot.
type namer struct {
	m     *matcher
	lot   *lot
	found []int32
	sales map[namedBy][]int32 // only where both sales and returns are many
}

type namedBy struct {
	kind int
	hash uint32
}

// newNamer looks through all sales of the lot once, where looking through them
// for every return would take longer, for what its returns name.
func (m *matcher) newNamer(l *lot) *namer {
	n := &namer{m: m, lot: l}
	const few = 64
	if len(l.back) <= few {
		return n
	}
	n.sales = map[namedBy][]int32{}
	for i := range l.back {
		r := &l.back[i]
		for k, by := range names(r.Document, r.Job, r.SaleID) {
			n.sales[namedBy{k, nameHash(by)}] = nil
		}
	}
	for _, i := range l.lines {
		for k, hash := range m.sales[i].named {
			if list, asked := n.sales[namedBy{k, hash}]; asked && hash != 0 {
				n.sales[namedBy{k, hash}] = append(list, i)
			}
		}
	}
	return n
}

// of returns the sales that the return may name, in their order: all that it
// does, and perhaps one that only has the hash of what it names. They are good
// until the next question.
func (n *namer) of(r *returnLine) []int32 {
	n.found = n.found[:0]
	var hashes [3]uint32
	for k, by := range names(r.Document, r.Job, r.SaleID) {
		hashes[k] = nameHash(by)
	}
	if n.sales != nil {
		lists := 0
		for k, hash := range hashes {
			if list := n.sales[namedBy{k, hash}]; hash != 0 && len(list) > 0 {
				n.found, lists = append(n.found, list...), lists+1
			}
		}
		if lists > 1 {
			slices.Sort(n.found)
			n.found = slices.Compact(n.found)
		}
		return n.found
	}
	for _, i := range n.lot.lines {
		own := &n.m.sales[i].named
		for k, hash := range hashes {
			if hash != 0 && own[k] == hash {
				n.found = append(n.found, i)
				break
			}
		}
	}
	return n.found
}
