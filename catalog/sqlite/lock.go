package sqlite

import (
	"fmt"
	"os"
	"path/filepath"

	"github.com/gofrs/flock"
)

// ImportLock is the right to import. The operating system takes it back when
// its holder dies, so a killed import never blocks the next one.
type ImportLock struct{ lock *flock.Flock }

// backupLock keeps two backups of one catalogue apart: each sweeps away what a
// killed one left.
const backupLock = "backup.lock"

// LockBackups takes the right to make a backup; ErrBusy if another process has
// it. Imports go on meanwhile.
func (s *Store) LockBackups() (*ImportLock, error) {
	l := flock.New(filepath.Join(s.dir, backupLock))
	ok, err := l.TryLock()
	if err != nil {
		return nil, fmt.Errorf("lock the catalogue for a backup: %w", err)
	}
	if !ok {
		return nil, ErrBusy
	}
	return &ImportLock{l}, nil
}

// restoreFolder, in the data folder, holds a backup while it is unpacked; whoever
// does that has the import lock.
const restoreFolder = "restoring"

// RestoreDir returns the folder in which a backup is unpacked.
func RestoreDir(dir string) string { return filepath.Join(dir, restoreFolder) }

// LockImports takes the import lock; ErrBusy if another process has it. What a
// killed import or restore left is removed.
func (s *Store) LockImports() (*ImportLock, error) { return LockImports(s.dir) }

// LockImports takes the import lock of a data folder whose catalogue is not open.
func LockImports(dir string) (*ImportLock, error) {
	l := flock.New(filepath.Join(dir, lockFile))
	ok, err := l.TryLock()
	if err != nil {
		return nil, fmt.Errorf("lock the catalogue for an import: %w", err)
	}
	if !ok {
		return nil, ErrBusy
	}
	for _, left := range []string{stageFolder, restoreFolder} {
		if err := os.RemoveAll(filepath.Join(dir, left)); err != nil {
			l.Unlock()
			return nil, fmt.Errorf("clear what an interrupted import left: %w", err)
		}
	}
	return &ImportLock{l}, nil
}

// HoldsLeavings reports whether something lies in the staging folder: an import is
// under way, or one was killed.
func (s *Store) HoldsLeavings() bool {
	entries, err := os.ReadDir(filepath.Join(s.dir, stageFolder))
	return err == nil && len(entries) > 0
}

// Unlock gives the lock back.
func (l *ImportLock) Unlock() error { return l.lock.Unlock() }
