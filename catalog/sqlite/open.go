package sqlite

import (
	"context"
	"database/sql"
	"embed"
	"errors"
	"fmt"
	"io/fs"
	"net/url"
	"os"
	"path/filepath"
	"slices"
	"strings"

	"modernc.org/sqlite"
	sqlite3 "modernc.org/sqlite/lib"
)

//go:embed migrations/*.sql
var migrations embed.FS

const (
	fileName    = "catalogue.db"
	indexFolder = "index"
	stageFolder = "staging"
	lockFile    = "import.lock"
)

// ErrBusy is returned when another process holds the catalogue for longer than
// the busy timeout, or when another import is running.
var ErrBusy = errors.New("the catalogue is busy: another import is running; try again when it is done")

// ErrNotFound is returned by look-ups of one thing that is not in the catalogue.
var ErrNotFound = errors.New("not in the catalogue")

// Store is an open catalogue. It is safe for concurrent use.
type Store struct {
	dir    string
	write  *sql.DB
	read   *sql.DB // what is no question to a View
	idle   readers
	pinned pinned
}

// Open opens the catalogue in the folder dir, creating folder and catalogue
// where they do not exist. The folder must lie on a disk of this machine: the
// locks that keep readers and one writer apart do not hold on a network share.
func Open(dir string) (*Store, error) {
	if err := os.MkdirAll(filepath.Join(dir, indexFolder), 0o755); err != nil {
		return nil, fmt.Errorf("make the data folder %s: %w", dir, err)
	}
	if err := refuseNetworkShare(dir); err != nil {
		return nil, err
	}
	if err := tradeKey(); err != nil {
		return nil, fmt.Errorf("prepare the catalogue: %w", err)
	}
	path := filepath.Join(dir, fileName)
	s := &Store{dir: dir}
	var err error
	if s.read, err = open(path, reading...); err != nil {
		return nil, err
	}
	if s.write, err = open(path, append(pragmas, "_txlock=immediate")...); err != nil {
		return nil, errors.Join(err, s.read.Close())
	}
	s.write.SetMaxOpenConns(1)
	if err := s.migrate(context.Background()); err != nil {
		return nil, errors.Join(err, s.Close())
	}
	return s, nil
}

// pragmas of the catalogue. They stand in the connection string, because one
// set by a statement would reach a single connection of the pool only. The
// array's length is its capacity: append copies.
var pragmas = slices.Clip([]string{
	"_pragma=busy_timeout(10000)", // ms; first, so that the others wait too
	"_pragma=journal_mode(WAL)",
	"_pragma=foreign_keys(1)",
	"_pragma=synchronous(FULL)",
})

// reading are those of a connection that reads. Up to 256 MB of the catalogue it
// reads where the system has them in memory: each page would else be copied into
// memory of its own, which takes longer than looking at it. What was written and
// not yet carried over into the file is read from the log, as ever.
var reading = append(pragmas, "_pragma=query_only(1)", "_pragma=mmap_size(268435456)")

// connectBy is what a connection is opened by.
func connectBy(path string, options ...string) string {
	uri := url.URL{Scheme: "file", Opaque: (&url.URL{Path: filepath.ToSlash(path)}).EscapedPath(), RawQuery: strings.Join(options, "&")}
	return uri.String()
}

func open(path string, options ...string) (*sql.DB, error) {
	db, err := sql.Open("sqlite", connectBy(path, options...))
	if err != nil {
		return nil, fmt.Errorf("open the catalogue %s: %w", path, err)
	}
	return db, nil
}

// Close closes the catalogue.
func (s *Store) Close() error {
	return errors.Join(s.closeReaders(), s.closePinned(), s.read.Close(), s.write.Close())
}

// Dir is the data folder.
func (s *Store) Dir() string { return s.dir }

// IndexDir returns the folder that holds the search indexes.
func (s *Store) IndexDir() string { return filepath.Join(s.dir, indexFolder) }

// migrate brings the schema up to date with the numbered files, all in one
// transaction. PRAGMA user_version holds the number of the last one.
func (s *Store) migrate(ctx context.Context) error {
	names, err := migrationNames()
	if err != nil {
		return err
	}
	var done int
	if s.asked(ctx, &done) && done == len(names) {
		return nil
	}
	if err := s.write.QueryRowContext(ctx, "PRAGMA user_version").Scan(&done); err != nil {
		return busy(fmt.Errorf("read the catalogue's version: %w", err))
	}
	if done == len(names) {
		return nil
	}
	if done > len(names) {
		return s.newer(done, len(names))
	}
	tx, err := s.write.BeginTx(ctx, nil)
	if err != nil {
		return busy(err)
	}
	defer tx.Rollback()
	// Another process may have migrated while this one waited for the lock.
	if err := tx.QueryRowContext(ctx, "PRAGMA user_version").Scan(&done); err != nil {
		return err
	}
	if done > len(names) {
		return s.newer(done, len(names))
	}
	for i, name := range names {
		if i < done {
			continue
		}
		text, err := migrations.ReadFile(name)
		if err != nil {
			return err
		}
		if _, err := tx.ExecContext(ctx, string(text)); err != nil {
			return fmt.Errorf("migration %s: %w", filepath.Base(name), err)
		}
	}
	if _, err := tx.ExecContext(ctx, fmt.Sprintf("PRAGMA user_version = %d", len(names))); err != nil {
		return err
	}
	return busy(tx.Commit())
}

func migrationNames() ([]string, error) { return fs.Glob(migrations, "migrations/*.sql") }

func (s *Store) newer(schema, known int) error {
	return fmt.Errorf("the catalogue in %s was written by a newer fitfill (schema %d, this one knows %d): use that one", s.dir, schema, known)
}

// asked reads the schema's number through the reading handle, which a question
// needs anyway: each connection opens files and reads the schema for itself, so
// the writing one is left alone until something is written. It reports false
// where there is no catalogue yet or it cannot be read; why, the writing handle
// finds out.
func (s *Store) asked(ctx context.Context, version *int) bool {
	if _, err := os.Stat(s.path()); err != nil {
		return false
	}
	r, err := s.reader(ctx)
	if err != nil {
		return false
	}
	err = r.each(ctx, "PRAGMA user_version", nil, func(r record) error { return r.Scan(version) })
	s.giveBack(r, err != nil)
	return err == nil
}

// busy turns the database's own "locked" into ErrBusy.
func busy(err error) error {
	var e *sqlite.Error
	if errors.As(err, &e) {
		switch e.Code() & 0xff {
		case sqlite3.SQLITE_BUSY, sqlite3.SQLITE_LOCKED:
			return fmt.Errorf("%w (%s)", ErrBusy, e.Error())
		}
	}
	return err
}
