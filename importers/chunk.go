package importers

import (
	"fmt"
	"slices"

	"fitfill/catalog"
)

// chunk is a stretch of records on its way through a worker, with what came of
// it. Chunks are reused.
type chunk struct {
	from, to int // records
	err      error

	rows    []catalog.SheetRow
	held    []catalog.HeldRow
	skipped []Skip
	repeats []Repeat
	pending []pendingCandidate
	notes   notes
	memory  memory
}

func (c *chunk) reset(from, to int) {
	c.from, c.to, c.err = from, to, nil
	c.rows, c.held, c.skipped, c.repeats, c.pending = c.rows[:0], c.held[:0], c.skipped[:0], c.repeats[:0], c.pending[:0]
	c.notes = notes{}
	c.memory.reset()
}

// worker maps and binds chunks with a plan and buffers of its own.
type worker struct {
	reading *reading
	plan    *plan
	binder  binder
	head    []string
	rows    [][]string // canonical rows of the chunk, the heading first
	raw     []string   // the sheet's own mapped cells of the chunk
	records []int      // record of each row of the chunk
	lines   []int      // and the line on which it begins
	context rowContext
	cells   []string
	chunk   *chunk
}

func newWorker(r *reading) (*worker, error) {
	p, err := newPlan(r.voc, r.mapping)
	if err != nil {
		return nil, err
	}
	p.use(r.numbers, r.opt.Today)
	w := &worker{reading: r, plan: p, binder: p.kind.bind()}
	n, rows := len(p.columns), min(chunkRows, r.records)
	w.head = w.binder.header(p.fields(), rows)
	w.raw = make([]string, n*rows)
	store := make([]string, (n+1)*rows)
	w.rows = make([][]string, rows+1)
	w.rows[0] = w.head
	for i := range rows {
		w.rows[i+1] = store[i*(n+1) : (i+1)*(n+1) : (i+1)*(n+1)]
		w.rows[i+1][0] = w.binder.hidden(i)
	}
	s := r.src
	w.context = rowContext{plan: p, spans: map[string]yearsRead{},
		origin: catalog.Origin{Sheet: s.Name, SHA256: s.SHA256, Supplier: s.Supplier}}
	return w, nil
}

// work reads the records of a chunk. A panic is a fault of the program, and ends
// the import like any other error.
func (w *worker) work(c *chunk) {
	defer func() {
		if r := recover(); r != nil {
			c.err = fmt.Errorf("%s: the program stumbled between records %d and %d (%v): report it as a fault of the program", w.reading.src.Name, c.from, c.to, r)
		}
	}()
	w.chunk, w.records, w.lines = c, w.records[:0], w.lines[:0]
	w.plan.notes = notes{}
	w.context.memory = c.memory
	line := 0
	if c.from < c.to {
		line = w.reading.src.records.lineOf(c.from)
	}
	for i := c.from; i < c.to; i++ {
		w.record(i, line)
		line += int(w.reading.src.records.shape(i).lines)
	}
	c.err = w.flush()
	c.notes, c.memory = w.plan.notes, w.context.memory
}

// record puts one record of the sheet into the chunk, or sets it aside.
func (w *worker) record(i, line int) {
	r := w.reading
	if class := r.src.records.class(i); class != ClassData {
		if class != ClassTitle && class != ClassHeading {
			w.chunk.skipped = append(w.chunk.skipped, Skip{line, class.String()})
		}
		return
	}
	if p := r.src.wrong(i); p != nil {
		w.hold(i, p, 1, "")
		return
	}
	w.cells = r.src.cells(i, w.cells)
	k, n := len(w.records), len(w.plan.columns)
	row := w.rows[k+1]
	w.plan.notes.line = line
	p, count := w.plan.canonical(w.cells, w.raw[k*n:(k+1)*n], row[1:])
	if p == nil && r.repeats.conflicts[i] != nil {
		p, count = r.repeats.conflicts[i], 1
	}
	if p != nil {
		w.hold(i, p, count, w.numberOf(row[1:]))
		return
	}
	if as, same := r.repeats.same[i]; same {
		w.chunk.repeats = append(w.chunk.repeats, Repeat{line, r.src.records.lineOf(as)})
	}
	w.records, w.lines = append(w.records, i), append(w.lines, line)
}

func (w *worker) numberOf(canon []string) string {
	if w.plan.number < 0 {
		return ""
	}
	return canon[w.plan.number]
}

// flush binds the chunk and makes its rows. A row that cannot be bound is held,
// and the rest is bound again.
func (w *worker) flush() error {
	n := len(w.plan.columns)
	for len(w.records) > 0 {
		err := w.binder.bind(w.rows[:len(w.records)+1])
		if err == nil {
			break
		}
		k, field, ok := badRow(err, w.head)
		if !ok || k >= len(w.records) {
			return fmt.Errorf("%s: binding lines from %d on: %w", w.reading.src.Name, w.reading.src.records.lineOf(w.records[0]), err)
		}
		p := bindProblem(err)
		p.field = field
		w.hold(w.records[k], p, 1, "")
		for j := k; j+1 < len(w.records); j++ {
			copy(w.rows[j+1][1:], w.rows[j+2][1:])
			copy(w.raw[j*n:(j+1)*n], w.raw[(j+1)*n:(j+2)*n])
		}
		w.records, w.lines = slices.Delete(w.records, k, k+1), slices.Delete(w.lines, k, k+1)
	}
	for k, i := range w.records {
		w.context.origin.Line = w.lines[k]
		w.context.raw = w.raw[k*n : (k+1)*n]
		row, p := w.binder.build(k, &w.context)
		if p != nil {
			w.hold(i, p, 1, w.numberOf(w.rows[k+1][1:]))
			continue
		}
		if _, same := w.reading.repeats.same[i]; same && row.Part != nil {
			*row.Part = catalog.PartRow{Number: row.Part.Number}
		}
		w.chunk.rows = append(w.chunk.rows, row)
	}
	return nil
}
