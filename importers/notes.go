package importers

import (
	"slices"
	"strings"
)

// Remark is something that was read and is worth a look, with the number of rows
// that it is about.
type Remark struct {
	Code   string `json:"code"`
	Column string `json:"column"`
	Line   int    `json:"line"` // the first of the rows
	Rows   int    `json:"rows"`
	Says   string `json:"says"`
}

// noteTexts says in plain words what each code of a note means.
var noteTexts = map[string]string{
	"price-zero":      "a price of zero is taken as not stated, never as free",
	"price-negative":  "a price below zero is taken as a credit",
	"formula-text":    `text was taken out of a ="…" wrapper`,
	"formula-link":    "the label of a link was taken as the text",
	"maybe-truncated": "texts end exactly where some programs cut them off: compare them with the supplier's own list",
	"markup":          "marks of a web page were written out as text",
	"point-zero":      `".0" was taken off part numbers, as was confirmed`,
	"padded":          "part numbers were filled up with zeros, as was confirmed",
}

// notes counts notes by code and mapped column while rows are read.
type notes struct {
	line    int // of the row that is being read
	counts  []noteCount
	lengths map[[2]int]noteCount // texts of a suspicious length, by column and length
}

type noteCount struct {
	code       string
	column     int
	line, rows int
}

func (n *notes) add(code string, column int) {
	for i := range n.counts {
		if c := &n.counts[i]; c.column == column && c.code == code {
			c.rows++
			return
		}
	}
	n.counts = append(n.counts, noteCount{code, column, n.line, 1})
}

// cutFrom is the length below which no text is looked at.
const cutFrom = 255

// noteLength counts the texts of a length at which programs cut them off.
func (p *plan) noteLength(column int, cell string) {
	length := len(cell)
	if !isASCII(cell) {
		length = strings.Count(cell, "") - 1
	}
	if !slices.Contains(p.columns[column].voc.limits["cut_length"], float64(length)) {
		return
	}
	if p.notes.lengths == nil {
		p.notes.lengths = map[[2]int]noteCount{}
	}
	at := [2]int{column, length}
	c, seen := p.notes.lengths[at]
	if !seen {
		c = noteCount{"maybe-truncated", column, p.notes.line, 0}
	}
	c.rows++
	p.notes.lengths[at] = c
}

// merge adds the counts of another part of the sheet.
func (n *notes) merge(o *notes) {
	for _, c := range o.counts {
		i := slices.IndexFunc(n.counts, func(a noteCount) bool { return a.code == c.code && a.column == c.column })
		if i < 0 {
			n.counts = append(n.counts, c)
			continue
		}
		n.counts[i].rows += c.rows
		n.counts[i].line = min(n.counts[i].line, c.line)
	}
	for at, c := range o.lengths {
		if n.lengths == nil {
			n.lengths = map[[2]int]noteCount{}
		}
		if mine, ok := n.lengths[at]; ok {
			c.rows += mine.rows
			c.line = min(c.line, mine.line)
		}
		n.lengths[at] = c
	}
}

// list writes the notes out in the order of their columns.
func (p *plan) list(n *notes) []Remark {
	counts := slices.Clone(n.counts)
	for _, c := range n.lengths {
		if c.rows >= p.columns[c.column].voc.limits.count("cut_repeats") {
			counts = append(counts, c)
		}
	}
	slices.SortFunc(counts, func(a, b noteCount) int {
		if a.column != b.column {
			return a.column - b.column
		}
		if a.code != b.code {
			return strings.Compare(a.code, b.code)
		}
		return a.line - b.line
	})
	out := make([]Remark, 0, len(counts))
	for _, c := range counts {
		out = append(out, Remark{Code: c.code, Column: p.columns[c.column].Heading, Line: c.line, Rows: c.rows, Says: noteTexts[c.code]})
	}
	return out
}
