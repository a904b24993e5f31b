package sqlite

import (
	"context"
	"database/sql"
	"errors"
	"fmt"
	"slices"
	"strings"

	"modernc.org/sqlite"
	sqlite3 "modernc.org/sqlite/lib"
)

// ErrFull is returned when the disk has no room for what is written.
var ErrFull = errors.New("there is no room left on the disk")

// Schema is the number of the schema that this program writes: how many
// migrations it knows.
func Schema() (int, error) {
	names, err := migrationNames()
	return len(names), err
}

// CopyTo writes the catalogue, as it stands at one moment, into a new file:
// others read and write meanwhile. Free pages are left out. Nothing is left of
// the file where it fails, but for what the caller has to remove.
func (s *Store) CopyTo(ctx context.Context, path string) error {
	if _, err := s.write.ExecContext(ctx, "VACUUM INTO ?", path); err != nil {
		return full(busy(err))
	}
	return nil
}

// OpenCopy opens a catalogue that CopyTo wrote into a folder under its usual name,
// as it is: nothing is made or migrated.
func OpenCopy(dir string) (*Store, error) {
	if err := tradeKey(); err != nil {
		return nil, err
	}
	s := &Store{dir: dir}
	var err error
	if s.read, err = open(s.path(), reading...); err != nil {
		return nil, err
	}
	if s.write, err = open(s.path(), pragmas...); err != nil {
		return nil, errors.Join(err, s.read.Close())
	}
	return s, nil
}

// CopySchema returns the number of the schema of a copy, and what the database
// itself finds damaged in it. It migrates nothing and so reads copies of any age.
func CopySchema(ctx context.Context, path string) (schema int, damage []string, err error) {
	db, err := open(path, "_pragma=query_only(1)")
	if err != nil {
		return 0, nil, err
	}
	defer db.Close()
	if err := db.QueryRowContext(ctx, "PRAGMA user_version").Scan(&schema); err != nil {
		return 0, nil, err
	}
	rows, err := db.QueryContext(ctx, "PRAGMA integrity_check")
	if err != nil {
		return schema, nil, err
	}
	err = scanAll(rows, func(r record) error {
		var says string
		err := r.Scan(&says)
		if says != "ok" {
			damage = append(damage, says)
		}
		return err
	})
	return schema, damage, err
}

// CheckSchema compares what the catalogue consists of (tables with their columns,
// indexes, and nothing else) with what this program makes, and returns what
// differs, in plain words.
func (v *View) CheckSchema(ctx context.Context) (wrong []string, err error) {
	fresh, err := sql.Open("sqlite", ":memory:")
	if err != nil {
		return nil, err
	}
	defer fresh.Close()
	fresh.SetMaxOpenConns(1) // each connection has a memory of its own
	names, err := migrationNames()
	if err != nil {
		return nil, err
	}
	for _, name := range names {
		text, err := migrations.ReadFile(name)
		if err != nil {
			return nil, err
		}
		if _, err := fresh.ExecContext(ctx, string(text)); err != nil {
			return nil, fmt.Errorf("%s: %w", name, err)
		}
	}
	var want, got []string
	note := func(list *[]string) func(record) error {
		return func(r record) error {
			var kind, name, columns string
			err := r.Scan(&kind, &name, &columns)
			*list = append(*list, strings.TrimSpace(kind+" "+name+" "+columns))
			return err
		}
	}
	if err := eachRow(ctx, fresh, whatItConsistsOf, nil, note(&want)); err != nil {
		return nil, err
	}
	if err := v.each(ctx, whatItConsistsOf, nil, note(&got)); err != nil {
		return nil, err
	}
	for _, one := range want {
		if !slices.Contains(got, one) {
			wrong = append(wrong, "the catalogue lacks the "+one)
		}
	}
	for _, one := range got {
		if !slices.Contains(want, one) {
			wrong = append(wrong, "no fitfill makes the "+one)
		}
	}
	return wrong, nil
}

const whatItConsistsOf = `SELECT m.type, m.name,
	coalesce((SELECT group_concat(name, ' ') FROM (SELECT name FROM pragma_table_info(m.name) ORDER BY cid)), '')
	FROM sqlite_master m WHERE m.name NOT LIKE 'sqlite\_%' ESCAPE '\' ORDER BY m.type, m.name`

// full turns the database's own "full" into ErrFull.
func full(err error) error {
	var e *sqlite.Error
	if errors.As(err, &e) && e.Code()&0xff == sqlite3.SQLITE_FULL {
		return fmt.Errorf("%w (%s)", ErrFull, e.Error())
	}
	return err
}
