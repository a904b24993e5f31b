package sqlite

import (
	"context"
	"database/sql"
	"errors"
	"fmt"
	"os"
	"path/filepath"
	"time"

	"modernc.org/sqlite"
	sqlite3 "modernc.org/sqlite/lib"
)

// ErrOpen is returned by OpenAlone while another process has the catalogue open.
var ErrOpen = errors.New("another program has the catalogue open")

// How long OpenAlone waits for others: a question at the command line is over
// in less, a page that is being served is not.
const (
	alonePatience = 3 * time.Second
	aloneEvery    = 50 * time.Millisecond
)

// Alone is a catalogue that no other process can open or has open.
type Alone struct {
	dir  string
	db   *sql.DB
	conn *sql.Conn
}

// OpenAlone opens the catalogue of a data folder for this process alone. ErrOpen
// if others have it open; whoever comes now waits until Close. A page that holds
// the old catalogue would otherwise write into a file that is gone.
func OpenAlone(ctx context.Context, dir string) (*Alone, error) {
	// Exclusive before the log is first read: the database then locks its file as
	// a whole, and not its log.
	db, err := open(filepath.Join(dir, fileName), "_pragma=busy_timeout(0)", "_pragma=locking_mode(EXCLUSIVE)", "_pragma=journal_mode(WAL)", "_pragma=synchronous(FULL)")
	if err != nil {
		return nil, err
	}
	db.SetMaxOpenConns(1)
	for until := time.Now().Add(alonePatience); ; {
		conn, err := db.Conn(ctx)
		if err == nil {
			// Nothing is locked before something is written.
			if _, err = conn.ExecContext(ctx, "BEGIN EXCLUSIVE; COMMIT"); err == nil {
				return &Alone{dir, db, conn}, nil
			}
			err = errors.Join(err, conn.Close())
		}
		locked := errors.Is(busy(err), ErrBusy)
		if !locked || time.Now().After(until) {
			if locked {
				err = ErrOpen
			}
			return nil, errors.Join(err, db.Close())
		}
		select {
		case <-ctx.Done():
			return nil, errors.Join(ctx.Err(), db.Close())
		case <-time.After(aloneEvery):
		}
	}
}

// KeepAs writes the catalogue as it is into a file. It is copied through the
// database: a program that closes the file itself gives up its own locks on it.
func (a *Alone) KeepAs(ctx context.Context, path string) error {
	return a.pages(ctx, func(c copier) (*sqlite.Backup, error) { return c.NewBackup(connectBy(path)) })
}

// Become puts the catalogue that lies in a file in the place of this one, in one
// transaction: where the program or the machine stops, the old one is there.
func (a *Alone) Become(ctx context.Context, path string) error {
	return a.pages(ctx, func(c copier) (*sqlite.Backup, error) { return c.NewRestore(connectBy(path)) })
}

// copier is what the driver's connections can do beside what database/sql knows.
type copier interface {
	NewBackup(to string) (*sqlite.Backup, error)
	NewRestore(from string) (*sqlite.Backup, error)
}

// pagesAtOnce are copied between two looks at whether it is still wanted.
const pagesAtOnce = 4096

func (a *Alone) pages(ctx context.Context, begin func(copier) (*sqlite.Backup, error)) error {
	return a.conn.Raw(func(driver any) error {
		c, ok := driver.(copier)
		if !ok {
			return fmt.Errorf("the driver's connection is a %T, which copies nothing", driver)
		}
		b, err := begin(c)
		if err != nil {
			return full(busy(err))
		}
		more := true
		for more && err == nil {
			if err = ctx.Err(); err == nil {
				more, err = b.Step(pagesAtOnce)
			}
		}
		return full(errors.Join(err, b.Finish())) // what is not whole is rolled back
	})
}

// Close ends it; others may open the catalogue.
func (a *Alone) Close() error { return errors.Join(a.conn.Close(), a.db.Close()) }

// MoveCatalogue moves the files of a catalogue that cannot be opened into
// another folder. No process can have it open.
func MoveCatalogue(dir, to string) error {
	for _, name := range []string{fileName, fileName + "-wal", fileName + "-shm", fileName + "-journal"} {
		if err := os.Rename(filepath.Join(dir, name), filepath.Join(to, name)); err != nil && !errors.Is(err, os.ErrNotExist) {
			return err
		}
	}
	return nil
}

// IsDamaged reports whether an error says that the catalogue's file is no
// database, or a damaged one.
func IsDamaged(err error) bool {
	var e *sqlite.Error
	if !errors.As(err, &e) {
		return false
	}
	code := e.Code() & 0xff
	return code == sqlite3.SQLITE_NOTADB || code == sqlite3.SQLITE_CORRUPT
}
