package sqlite

import (
	"cmp"
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
	"slices"
	"strconv"
	"strings"
)

// IndexFolder is the name of the search index folder of this stage: one per
// supplier and import.
func (st *Stage) IndexFolder() string {
	return fmt.Sprintf("supplier-%d-sheet-%d", st.supplierID, st.sheetID)
}

// FreeFolder is the name of an index folder for a supplier that does not exist
// yet.
func (s *Store) FreeFolder(supplierID int64) (string, error) {
	var last int64
	if err := s.read.QueryRow("SELECT coalesce(max(id), 0) FROM sheet").Scan(&last); err != nil {
		return "", err
	}
	for n := 1; ; n++ {
		name := fmt.Sprintf("supplier-%d-sheet-%d-again-%d", supplierID, last, n)
		if _, err := os.Stat(filepath.Join(s.IndexDir(), name)); errors.Is(err, fs.ErrNotExist) {
			return name, nil
		} else if err != nil {
			return "", err
		}
	}
}

// StaleFolders returns which of the index folders may be deleted: all but those
// in keep and, for each supplier, the newest of the others, which a reader that
// took its pointer a moment ago may still open. What an interrupted build left
// is stale too.
func StaleFolders(entries []fs.DirEntry, keep map[string]bool) []string {
	type folder struct {
		name                   string
		supplier, sheet, again int64
	}
	var others []folder
	var stale []string
	for _, e := range entries {
		if keep[e.Name()] {
			continue
		}
		f := folder{name: e.Name()}
		if n, err := fmt.Sscanf(e.Name(), "supplier-%d-sheet-%d", &f.supplier, &f.sheet); err != nil || n != 2 {
			stale = append(stale, e.Name())
			continue
		}
		if _, again, ok := strings.Cut(e.Name(), "-again-"); ok {
			f.again, _ = strconv.ParseInt(again, 10, 64) // what is no number was built first
		}
		others = append(others, f)
	}
	slices.SortFunc(others, func(a, b folder) int {
		return cmp.Or(cmp.Compare(b.sheet, a.sheet), cmp.Compare(b.again, a.again))
	})
	kept := map[int64]bool{}
	for _, f := range others {
		if kept[f.supplier] {
			stale = append(stale, f.name)
		}
		kept[f.supplier] = true
	}
	return stale
}
