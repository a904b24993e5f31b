package sqlite

import (
	"fmt"
	"io/fs"
	"slices"
)

// IndexFolder is the name of the search index folder of this stage: one per
// supplier and import.
func (st *Stage) IndexFolder() string {
	return fmt.Sprintf("supplier-%d-sheet-%d", st.supplierID, st.sheetID)
}

// StaleFolders returns which of the index folders may be deleted: all but those
// in keep and, for each supplier, the newest of the others, which a reader that
// took its pointer a moment ago may still open. What an interrupted build left
// is stale too.
func StaleFolders(entries []fs.DirEntry, keep map[string]bool) []string {
	type folder struct {
		name            string
		supplier, sheet int64
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
		others = append(others, f)
	}
	slices.SortFunc(others, func(a, b folder) int { return int(b.sheet - a.sheet) })
	kept := map[int64]bool{}
	for _, f := range others {
		if kept[f.supplier] {
			stale = append(stale, f.name)
		}
		kept[f.supplier] = true
	}
	return stale
}
