package importers

import (
	"fmt"
	"strings"

	"fitfill/catalog"
)

// hold sets a record aside with its first problem and the count of others.
func (w *worker) hold(i int, p *problem, count int, number string) {
	src := w.reading.src
	raw := src.Text(i)
	h := catalog.HeldRow{Line: src.records.lineOf(i), Code: p.code, Reason: p.why, Raw: raw, Text: raw, Number: strings.Clone(number)}
	if p.field != "" {
		h.Column = w.plan.heading(p.field)
		h.Text = p.text
		if h.Text == "" {
			h.Text = w.cellOf(i, p.field)
		}
		h.Text = strings.Clone(h.Text)
	}
	switch {
	case count == 2:
		h.Reason += " (one more problem in this row)"
	case count > 2:
		h.Reason += fmt.Sprintf(" (%d more problems in this row)", count-1)
	}
	w.chunk.held = append(w.chunk.held, h)
	if p.match != nil {
		w.chunk.pending = append(w.chunk.pending, pendingCandidate{h.Line, p.match})
	}
}

// cellOf returns the cell of record i that fills a field.
func (w *worker) cellOf(i int, field string) string {
	for _, c := range w.plan.columns {
		if c.field.name == field {
			return trim(w.reading.src.one(i, c.Index))
		}
	}
	return ""
}

// pendingCandidate is a held row for which numbers on file are sought.
type pendingCandidate struct {
	line  int
	match func(number string) bool
}

// maxPending bounds how many rows candidates are sought for.
const maxPending = 1000

// addCandidates goes through the numbers on file once and offers those that the
// damaged ones could be.
func (r *reading) addCandidates() {
	if r.opt.KnownNumbers == nil || len(r.pending) == 0 {
		return
	}
	pending := r.pending[:min(len(r.pending), maxPending)]
	show := r.voc.limits.count("candidates_shown")
	found := map[int][]string{}
	more := map[int]int{}
	for number := range r.opt.KnownNumbers {
		for _, p := range pending {
			switch {
			case !p.match(number):
			case len(found[p.line]) < show:
				found[p.line] = append(found[p.line], number)
			default:
				more[p.line]++
			}
		}
	}
	for i := range r.report.Held {
		h := &r.report.Held[i]
		switch numbers := found[h.Line]; {
		case len(numbers) == 0:
		case more[h.Line] > 0:
			h.Reason += fmt.Sprintf("; on file are %s and %d more", strings.Join(numbers, ", "), more[h.Line])
		default:
			h.Reason += "; on file is " + strings.Join(numbers, ", ")
		}
	}
	if len(found) > 0 {
		r.report.Candidates = found
	}
}
