//go:build !linux

package sqlite

import (
	"fmt"
	"path/filepath"
	"strings"
)

// refuseNetworkShare returns an error when dir is written as a path of a
// network share (\\server\share), where the locks that the catalogue needs do
// not hold.
func refuseNetworkShare(dir string) error {
	if abs, err := filepath.Abs(dir); err == nil && strings.HasPrefix(abs, `\\`) {
		return fmt.Errorf("the data folder %s lies on a network share, where several programs would damage the catalogue: choose a folder on a disk of this machine with --home", dir)
	}
	return nil
}
