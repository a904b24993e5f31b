//go:build unix

package bleveindex

import (
	"errors"
	"os"
	"syscall"
)

// readWhole returns the bytes of a file of an index folder, and what ends their
// use. They are the file's own pages: a question looks at few of them, and reading
// them into memory takes longer than that. The library holds its files so, too.
func readWhole(path string) (raw []byte, done func() error, err error) {
	f, err := os.Open(path)
	if err != nil {
		return nil, nil, err
	}
	defer func() { err = errors.Join(err, f.Close()) }()
	info, err := f.Stat()
	if err != nil || info.Size() == 0 {
		return nil, func() error { return nil }, err
	}
	if raw, err = syscall.Mmap(int(f.Fd()), 0, int(info.Size()), syscall.PROT_READ, syscall.MAP_SHARED); err != nil {
		return nil, nil, &os.PathError{Op: "map", Path: path, Err: err}
	}
	return raw, func() error { return syscall.Munmap(raw) }, nil
}
