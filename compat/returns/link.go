package returns

import (
	"slices"
	"strings"
)

// byLink lists the sales that a return can name by a sale id or a line of a
// document; nobody looks where no return names any.
func (m *matcher) byLink() map[string][]int32 {
	if !slices.ContainsFunc(m.returns, func(r *returnLine) bool { return r.live && len(links(r.SaleID, r.Document, r.DocumentLine)) > 0 }) {
		return nil
	}
	out := map[string][]int32{}
	for i := range m.sales {
		if s := &m.sales[i]; s.live {
			row := m.sale(s)
			for _, k := range links(row.ID, row.Document, row.DocumentLine) {
				out[k] = append(out[k], int32(i))
			}
		}
	}
	return out
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

// named finds the sales of a lot that share a document, job or sale id with a
// return of that lot.
type named struct {
	words map[string]int32 // folded text, with its kind before it → number
	sales map[pairOf][]int32
}

type pairOf struct{ lot, word int32 }

// The kinds of what can name a sale, before the folded text.
const (
	aDocument = 'd'
	aJob      = 'j'
	aSaleID   = 'i'
)

// naming is a text that names a sale.
type naming struct {
	kind byte
	text string
}

func names(document, job, saleID string) [3]naming {
	return [...]naming{{aDocument, document}, {aJob, job}, {aSaleID, saleID}}
}

// namedSales looks only for what returns name, and only among the sales of their
// own lot: a large trade has as many documents as sales.
func (m *matcher) namedSales() named {
	n := named{map[string]int32{}, map[pairOf][]int32{}}
	wanted := make([]bool, len(m.lots))
	var kinds [256]bool
	var buf []byte
	for _, r := range m.returns {
		for _, by := range names(r.Document, r.Job, r.SaleID) {
			if buf = keyOf(buf, by.kind, by.text); !r.live || len(buf) == 1 {
				continue
			}
			word, ok := n.words[string(buf)]
			if !ok {
				word = int32(len(n.words))
				n.words[string(buf)] = word
			}
			n.sales[pairOf{r.lot, word}] = nil
			wanted[r.lot], kinds[by.kind] = true, true
		}
	}
	for i := range m.sales {
		s := &m.sales[i]
		if !wanted[s.lot] {
			continue
		}
		row := m.sale(s)
		for _, by := range names(row.Document, row.Job, row.ID) {
			if by.text == "" || !kinds[by.kind] {
				continue
			}
			buf = keyOf(buf, by.kind, by.text)
			word, ok := n.words[string(buf)]
			if !ok {
				continue
			}
			p := pairOf{s.lot, word}
			if list, ok := n.sales[p]; ok {
				n.sales[p] = append(list, int32(i))
			}
		}
	}
	return n
}

// of returns the sales that the return names, in their order.
func (n named) of(r *returnLine) []int32 {
	var out []int32
	var buf []byte
	lists := 0
	for _, by := range names(r.Document, r.Job, r.SaleID) {
		buf = keyOf(buf, by.kind, by.text)
		if word, ok := n.words[string(buf)]; ok {
			if list := n.sales[pairOf{r.lot, word}]; len(list) > 0 {
				out, lists = append(out, list...), lists+1
			}
		}
	}
	if lists > 1 {
		slices.Sort(out)
		out = slices.Compact(out)
	}
	return out
}

// keyOf writes the kind and the folded text over buf.
func keyOf(buf []byte, kind byte, text string) []byte {
	buf = append(buf[:0], kind)
	text = strings.TrimSpace(text)
	for i := range len(text) {
		if text[i] >= 0x80 {
			return append(buf[:1], strings.ToLower(text)...)
		}
		buf = append(buf, lower(text[i]))
	}
	return buf
}
