package sqlite

import (
	"context"
	"database/sql/driver"
	"errors"
	"fmt"
	"sync"

	"fitfill/catalog"
)

// How many connections that read are kept from question to question, how many
// statements each of them, and how many words. A page answers no more questions
// at once than there are processors, and the words of a hit are mostly those of
// the last one.
const (
	mostReaders    = 8
	mostStatements = 200
	mostWords      = 100_000
	mostNamed      = 100
)

// reader is a connection that reads, with what it keeps from question to
// question: the statements that it has prepared, and of the catalogue what
// almost every question needs. One question at a time has it. The connection is
// the driver's own, without a pool around it: readers are the pool.
type reader struct {
	conn       driver.Conn
	statements map[string]driver.Stmt
	version    int64 // of the catalogue, as this connection counts it
	kept       *kept
}

// kept is what a reader keeps of the catalogue until the catalogue changes.
type kept struct {
	sheets    map[int64]catalog.Origin
	ids       map[string]int64 // SHA-256 and name -> sheet
	words     map[int64]string // those that were read so far
	sellers   []Supplier       // nil: not asked for yet, and so the next ones
	sellersBy map[int64]string // names by number
	families  []catalog.EngineFamily
	called    []FamilyName
	named     map[string]catalog.EngineFamily // by what Family was asked
	famAsked  int                             // how often FamilyNamesFor was asked, and VehiclesMarked
	markAsked int
	vehicles  []catalog.Vehicle
	byMark    map[string]int                 // places of vehicles by the key of their mark
	notes     map[string]*catalog.NoteAnswer // by supplier and folded text
	corrected map[int64][]Correction         // of the sheets that were asked for
	others    map[string]any                 // by the name under which Keep was asked
}

// readers are the connections that nobody reads with at the moment, the one
// that was given back last at the end.
type readers struct {
	mu   sync.Mutex
	free []*reader
}

// reader takes a connection, or opens one.
func (s *Store) reader(ctx context.Context) (*reader, error) {
	s.idle.mu.Lock()
	if n := len(s.idle.free); n > 0 {
		r := s.idle.free[n-1]
		s.idle.free = s.idle.free[:n-1]
		s.idle.mu.Unlock()
		return r, nil
	}
	s.idle.mu.Unlock()
	return s.newReader(ctx)
}

// newReader opens a connection.
func (s *Store) newReader(ctx context.Context) (*reader, error) {
	if err := ctx.Err(); err != nil {
		return nil, err
	}
	conn, err := s.read.Driver().Open(connectBy(s.path(), reading...))
	if err != nil {
		return nil, fmt.Errorf("open the catalogue %s: %w", s.path(), err)
	}
	return &reader{conn: conn, statements: map[string]driver.Stmt{}}, nil
}

// giveBack takes a connection back. One that has failed is closed, whatever it
// failed of.
func (s *Store) giveBack(r *reader, failed bool) {
	if !failed {
		s.idle.mu.Lock()
		room := len(s.idle.free) < mostReaders
		if room {
			s.idle.free = append(s.idle.free, r)
		}
		s.idle.mu.Unlock()
		if room {
			return
		}
	}
	_ = r.close() // it was only read with
}

// closeReaders closes the connections that nobody reads with.
func (s *Store) closeReaders() error {
	s.idle.mu.Lock()
	defer s.idle.mu.Unlock()
	var err error
	for _, r := range s.idle.free {
		err = errors.Join(err, r.close())
	}
	s.idle.free = nil
	return err
}

func (r *reader) close() error {
	var err error
	for _, st := range r.statements {
		err = errors.Join(err, st.Close())
	}
	return errors.Join(err, r.conn.Close())
}

// begin begins to read the catalogue as it stands now, and forgets what was
// kept of another state of it. The connection's own count of the catalogue's
// versions is read within the transaction, so it is the count of what is read.
func (r *reader) begin(ctx context.Context) error {
	if err := ctx.Err(); err != nil {
		return err
	}
	ctx = context.WithoutCancel(ctx) // none of these takes any time
	if err := r.exec(ctx, "BEGIN"); err != nil {
		return err
	}
	version := r.version
	err := r.each(ctx, "PRAGMA data_version", nil, func(rows record) error { return rows.Scan(&version) })
	if err != nil || r.kept != nil && version == r.version {
		return err
	}
	r.version, r.kept = version, &kept{words: map[int64]string{}, named: map[string]catalog.EngineFamily{}, corrected: map[int64][]Correction{}, others: map[string]any{}}
	return r.kept.loadSheets(ctx, r)
}

// end ends reading. It is asked for even when the question is not waited for any
// more.
func (r *reader) end(ctx context.Context) error {
	return r.exec(context.WithoutCancel(ctx), "ROLLBACK")
}

// exec runs a statement that takes no time.
func (r *reader) exec(ctx context.Context, statement string) error {
	return r.use(ctx, statement, func(st driver.Stmt) error {
		_, err := st.(driver.StmtExecContext).ExecContext(ctx, nil)
		return err
	})
}

// each runs a query and calls scan for each row, until nobody waits for it any
// more.
func (r *reader) each(ctx context.Context, query string, args []any, scan func(record) error) error {
	return r.eachOf(ctx, query, args, func(c *cursor) error { return scan(c) })
}

// eachOf is each for a scan that knows what its rows are.
func (r *reader) eachOf(ctx context.Context, query string, args []any, scan func(*cursor) error) error {
	asking := patience(ctx, args)
	return r.use(asking, query, func(st driver.Stmt) error {
		rows, err := ask(ctx, asking, st, args)
		if err != nil {
			return err
		}
		defer rows.Close()
		for rows.Next() {
			if err := scan(rows); err != nil {
				return err
			}
		}
		return rows.Err()
	})
}

// rows asks for rows that are read as they are wanted, while others are.
func (r *reader) rows(ctx context.Context, query string) (rows, error) {
	st, err := r.prepare(ctx, query)
	if err != nil {
		return nil, err
	}
	c, err := ask(ctx, ctx, st, nil)
	if err != nil {
		return nil, errors.Join(err, st.Close())
	}
	return &owned{c, st}, nil
}

// owned are rows of a statement that is asked once.
type owned struct {
	*cursor
	st driver.Stmt
}

// Close ends reading and forgets the statement.
func (o *owned) Close() error {
	err := o.cursor.Close()
	if o.st != nil {
		err = errors.Join(err, o.st.Close())
	}
	o.st = nil
	return err
}

// patience is the context that a query is asked with. Two goroutines watch every
// query whose context can end, which takes longer than most answers. So only one
// that may walk through whole tables before it finds its first row is given such
// a context: one without arguments. All others are looked after row by row.
func patience(ctx context.Context, args []any) context.Context {
	if len(args) == 0 {
		return ctx
	}
	return context.WithoutCancel(ctx)
}

// use runs do with the statement for a text, which is prepared when it is asked
// for the first time, or again while its rows are being read.
func (r *reader) use(ctx context.Context, text string, do func(driver.Stmt) error) (err error) {
	st := r.statements[text]
	if st == nil {
		if st, err = r.prepare(ctx, text); err != nil {
			return err
		}
	}
	delete(r.statements, text)
	err = do(st)
	if r.statements[text] != nil || len(r.statements) >= mostStatements {
		return errors.Join(err, st.Close())
	}
	r.statements[text] = st
	return err
}

func (r *reader) prepare(ctx context.Context, text string) (driver.Stmt, error) {
	return r.conn.(driver.ConnPrepareContext).PrepareContext(ctx, text)
}

func (k *kept) loadSheets(ctx context.Context, r *reader) error {
	k.sheets, k.ids = map[int64]catalog.Origin{}, map[string]int64{}
	return r.each(ctx, `SELECT sheet.id, sheet.name, sheet.sha256, coalesce(supplier.name, '')
		FROM sheet LEFT JOIN supplier ON supplier.id = sheet.supplier_id WHERE sheet.active = 1`, nil, func(rows record) error {
		var id int64
		var o catalog.Origin
		if err := rows.Scan(&id, &o.Sheet, &o.SHA256, &o.Supplier); err != nil {
			return err
		}
		k.sheets[id] = o
		k.ids[o.SHA256+o.Sheet] = id
		return nil
	})
}

// mostKept bounds what Keep keeps.
const mostKept = 500

// Keep returns what make made of the catalogue as this view shows it, from an
// earlier view where nothing has changed since. What it returns belongs to all
// who ask for the same name: nobody may change it.
func Keep[T any](v *View, name string, make func() (T, error)) (T, error) {
	if have, ok := v.kept.others[name].(T); ok {
		return have, nil
	}
	made, err := make()
	if err != nil {
		return made, err
	}
	if len(v.kept.others) >= mostKept {
		clear(v.kept.others)
	}
	v.kept.others[name] = made
	return made, nil
}
