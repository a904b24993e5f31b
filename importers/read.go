package importers

import (
	"cmp"
	"errors"
	"fmt"
	"slices"

	"fitfill/catalog"
)

// Skip is a record that was passed over on purpose.
type Skip struct {
	Line  int    `json:"line"`
	Class string `json:"class"` // blank, repeated heading, footer and the like
}

// Repeat is a row that says word for word what an earlier row says.
type Repeat struct {
	Line int `json:"line"`
	As   int `json:"as"` // line of the earlier row
}

// Report says what became of every record of a sheet besides title lines and
// heading. RowsRead = RowsTaken + RowsHeld + RowsSkipped always; repeats are
// among the rows taken.
type Report struct {
	RowsRead    int               `json:"rows_read"`
	RowsTaken   int               `json:"rows_taken"`
	RowsHeld    int               `json:"rows_held"`
	RowsSkipped int               `json:"rows_skipped"`
	Held        []catalog.HeldRow `json:"held,omitempty"`
	Skipped     []Skip            `json:"skipped,omitempty"`
	Repeats     []Repeat          `json:"repeats,omitempty"`
	Remarks     []Remark          `json:"remarks,omitempty"`
	// Candidates are, by line, the part numbers on file that a damaged one could
	// be. They stand in the held row's reason too.
	Candidates map[int][]string `json:"candidates,omitempty"`
}

// Read is ReadWith without anything on file.
func Read(ref catalog.Reference, s *Sheet, m Mapping, emit func(catalog.SheetRow) error) (Report, error) {
	return ReadWith(ref, s, m, Options{}, emit)
}

// ReadWith turns every record of the sheet into a row for emit, a held row or a
// skipped record, in the order of the file. Facts carry the sheet's name, hash,
// supplier and the line, but not the line's text. A row is held whole: for a
// wrong number of cells, for a cell that cannot be read, for a part number that a
// spreadsheet damaged, and, where rows of one part, engine or vehicle contradict
// each other, all of those rows. A row that repeats an earlier row of the same
// part is emitted as its number alone. Of the options, Known and KnownNumbers
// are used: with them, lost zeros are seen and candidates offered. Corrected rows
// (Options.Corrected) go the same way as the rows in whose place they stand, and
// under the same lines.
//
// Rows are mapped and bound on several goroutines and handed on by the calling
// one. What a row points to is reused once emit returns: emit copies the structs
// and slices that it keeps. Strings may be kept, but those of a sheet that OpenFile
// opened are pieces of its pages and keep them in memory: emit clones them. An
// error of emit ends the reading and is returned; a mapping of another sheet, counts
// that do not add up and a file that cannot be read to its end are errors.
func ReadWith(ref catalog.Reference, s *Sheet, m Mapping, opt Options, emit func(catalog.SheetRow) error) (Report, error) {
	if err := m.fits(s); err != nil {
		return Report{}, err
	}
	r := &reading{src: &source{Sheet: s}, mapping: m, opt: opt, emit: emit, records: s.records.n}
	if err := r.src.replace(opt.Corrected); err != nil {
		return Report{}, err
	}
	r.src.useSections(m)
	if err := r.run(ref); err != nil {
		return r.report, err
	}
	r.report.RowsRead = s.Rows()
	return r.close()
}

// reading is the work of one ReadWith.
type reading struct {
	src     *source
	mapping Mapping
	opt     Options
	emit    func(catalog.SheetRow) error
	records int

	voc     *vocabulary
	plan    *plan // of the goroutine that hands rows on
	repeats repeats
	numbers *numberModel
	pending []pendingCandidate
	report  Report
}

// run reads the vocabulary, looks over the whole sheet once, and reads its rows.
func (r *reading) run(ref catalog.Reference) error {
	var err error
	if r.voc == nil {
		if r.voc, err = vocabularyOf(ref); err != nil {
			return err
		}
	}
	if r.plan, err = newPlan(r.voc, r.mapping); err != nil {
		return err
	}
	plans := []*plan{r.plan}
	for range processors() - 1 {
		p, err := newPlan(r.voc, r.mapping)
		if err != nil {
			return err
		}
		plans = append(plans, p)
	}
	ids := &identities{src: r.src, plans: plans}
	if r.plan.identity >= 0 {
		ids.prepare()
	}
	if r.numbers, err = r.lookOver(ids); err != nil {
		return err
	}
	for _, p := range plans {
		p.use(r.numbers, r.opt.Today)
	}
	if r.repeats, err = ids.findRepeats(); err != nil {
		return err
	}
	r.plan.notes = notes{}
	if err := r.stream(); err != nil {
		return err
	}
	for i, h := range r.report.Held {
		if _, ok := r.opt.Corrected[h.Line]; ok {
			r.report.Held[i].Reason += " (as corrected)"
		}
	}
	r.addCandidates()
	r.report.Remarks = r.plan.list(&r.plan.notes)
	return nil
}

// lookOver counts what the part numbers of the sheet look like, and notes those by
// which its rows go.
func (r *reading) lookOver(ids *identities) (*numberModel, error) {
	if r.plan.number < 0 {
		return nil, nil
	}
	column := r.plan.columns[r.plan.number].Index
	ids.plain = r.plan.identity == r.plan.number
	parts := make([]numberModel, len(ids.plans))
	err := stretches(r.src.records.n, len(ids.plans), func(n, from, to int) {
		lines := r.src.cursor(from)
		var pending pendingKeys
		for i := from; i < to; i++ {
			line := lines.content(i)
			if r.src.records.class(i) != ClassData {
				continue
			}
			cell := r.src.oneOf(i, line, column)
			parts[n].add(r.voc, trim(cell))
			if ids.plain && r.src.wrong(i) == nil {
				ids.markPlain(ids.plans[n], &pending, cell)
			}
		}
		if ids.seen != nil {
			pending.flush(ids.seen)
		}
	})
	m := &numberModel{limits: r.voc.limits, known: r.opt.Known}
	for n := range parts {
		m.merge(&parts[n])
	}
	m.close()
	return m, err
}

// use gives the columns what is known beside the sheet: what its part numbers look
// like as a whole, and which day it is.
func (p *plan) use(m *numberModel, today catalog.Date) {
	if p.number >= 0 {
		p.columns[p.number].numbers = m
	}
	for _, c := range p.columns {
		if today != 0 && slices.Contains(p.kind.past, c.field.name) {
			c.until = (today + 1).String() // a day ahead, it is tomorrow somewhere already
		}
	}
}

// take adds what a chunk held, skipped and noted, and hands its rows on.
func (r *reading) take(c *chunk) error {
	r.report.RowsSkipped += len(c.skipped)
	r.report.Skipped = append(r.report.Skipped, c.skipped...)
	r.report.Repeats = append(r.report.Repeats, c.repeats...)
	r.report.Held = append(r.report.Held, c.held...)
	r.pending = append(r.pending, c.pending...)
	r.plan.notes.merge(&c.notes)
	for _, row := range c.rows {
		if err := r.emit(row); err != nil {
			return err
		}
		r.report.RowsTaken++
	}
	return nil
}

// close checks the sum.
func (r *reading) close() (Report, error) {
	slices.SortStableFunc(r.report.Held, func(a, b catalog.HeldRow) int { return cmp.Compare(a.Line, b.Line) })
	r.report.RowsHeld = len(r.report.Held)
	if err := errors.Join(r.src.raw.err(), r.src.text.err()); err != nil {
		return r.report, err
	}
	if sum := r.report.RowsTaken + r.report.RowsHeld + r.report.RowsSkipped; sum != r.report.RowsRead {
		return r.report, fmt.Errorf("%s: %d rows were read but %d taken, held or skipped: nothing may be stored; report this as a fault of the program", r.src.Name, r.report.RowsRead, sum)
	}
	return r.report, nil
}
