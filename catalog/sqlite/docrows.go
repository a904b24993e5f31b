package sqlite

import (
	"context"
	"database/sql"
	"errors"

	"fitfill/catalog"
)

// docReader makes search documents from facts and fitments, wherever they lie: in the
// catalogue, or in a staging file beside it. It goes through all tables at once, in the
// order of the parts, and holds one document at a time.
type docReader struct {
	ask   func(ctx context.Context, query string) (rows, error)
	words func(id int64) (string, error)
	texts map[int64]string // words that were looked up lately
	apps  map[int64]application
	open  []*partRows
	facts []*factRows
	uses  []*useRows
	named []*partRows
}

// mostTexts bounds the words that are known by heart.
const mostTexts = 1 << 15

func (r *docReader) text(id int64) (string, error) {
	text, ok := r.texts[id]
	if ok {
		return text, nil
	}
	text, err := r.words(id)
	if err != nil {
		return "", err
	}
	if len(r.texts) >= mostTexts {
		clear(r.texts)
	}
	r.texts[id] = text
	return text, nil
}

// partRows are the rows of a table in the order of its parts, of which the next is at
// hand.
type partRows struct {
	rows rows
	part int64 // of the row at hand; 0: there is none any more
	to   []any
}

func (r *docReader) query(ctx context.Context, query string, to ...any) (*partRows, error) {
	rows, err := r.ask(ctx, query)
	if err != nil {
		return nil, err
	}
	p := &partRows{rows: rows}
	p.to = append([]any{&p.part}, to...)
	r.open = append(r.open, p)
	return p, p.next()
}

func (p *partRows) next() error {
	if !p.rows.Next() {
		p.part = 0
		return p.rows.Err()
	}
	return p.rows.Scan(p.to...)
}

// of passes over the rows of earlier parts and calls do with those of a part, if any.
func (p *partRows) of(part int64, do func() error) (found bool, err error) {
	for p.part != 0 && p.part <= part {
		if p.part == part {
			found = true
			if err := do(); err != nil {
				return true, err
			}
		}
		if err := p.next(); err != nil {
			return found, err
		}
	}
	return found, nil
}

type factRows struct {
	*partRows
	field, value int64
	word         sql.NullInt64
}

type useRows struct {
	*partRows
	app int64
}

// read opens the tables of a schema. Facts that are set stay: name the schema of the
// newest sheets first.
func (r *docReader) read(ctx context.Context, schema, where string) (err error) {
	f, u := &factRows{}, &useRows{}
	f.partRows, err = r.query(ctx, "SELECT part_id, field, value, word FROM "+schema+".fact"+where+" ORDER BY part_id, sheet_id DESC", &f.field, &f.value, &f.word)
	if err != nil {
		return err
	}
	u.partRows, err = r.query(ctx, "SELECT DISTINCT part_id, application_id FROM "+schema+".fitment"+where+" ORDER BY part_id, application_id", &u.app)
	if err != nil {
		return err
	}
	r.facts, r.uses = append(r.facts, f), append(r.uses, u)
	return nil
}

// readNamed opens the list of parts of which sheets state nothing but the number.
func (r *docReader) readNamed(ctx context.Context, schema, where string) error {
	p, err := r.query(ctx, "SELECT DISTINCT part_id FROM "+schema+".sheet_part"+where+" ORDER BY part_id")
	r.named = append(r.named, p)
	return err
}

func (r *docReader) close() error {
	var errs []error
	for _, p := range r.open {
		errs = append(errs, p.rows.Close())
	}
	return errors.Join(errs...)
}

// doc makes the document of a part, which must come after that of the last; found is
// false where no sheet speaks of it.
func (r *docReader) doc(part int64) (d catalog.SearchDoc, found bool, err error) {
	b := docBuilder{docReader: r, doc: catalog.SearchDoc{ID: part}, makes: map[int64]bool{}, engines: map[int64]bool{}}
	for k, f := range r.facts {
		any, err := f.of(part, func() error { return b.fact(f) })
		if err != nil {
			return d, found, err
		}
		found = found || any
		u := r.uses[k]
		if any, err = u.of(part, func() error { return b.use(u.app) }); err != nil {
			return d, found, err
		}
		found = found || any
		clear(b.makes)
		clear(b.engines)
		b.clamp = [2]int64{}
	}
	for _, n := range r.named {
		any, err := n.of(part, func() error { return nil })
		if err != nil {
			return d, found, err
		}
		found = found || any
	}
	return b.doc, found, nil
}
