//go:build !unix

package bleveindex

import "os"

// readWhole returns the bytes of a file of an index folder, and what ends their
// use.
func readWhole(path string) (raw []byte, done func() error, err error) {
	raw, err = os.ReadFile(path)
	return raw, func() error { return nil }, err
}
