package bleveindex

import (
	"errors"
	"fmt"
	"path/filepath"
	"sync"

	"github.com/blevesearch/bleve/v2/index/scorch"
	"github.com/blevesearch/bleve/v2/util"
	index "github.com/blevesearch/bleve_index_api"
)

// sharedMapping is the mapping of every index: how one was built stands in its
// format file.
var sharedMapping = sync.OnceValues(indexMapping)

// openLibrary opens the library's own part of an index folder for reading. The
// library opens it with the mapping that is kept in it, which takes longer to
// read and to make ready than all the rest, once for each folder.
func openLibrary(folder string) (i index.Index, err error) {
	i, err = scorch.NewScorch(scorch.Name, map[string]any{
		"path": filepath.Join(folder, "store"), "create_if_missing": false, "error_if_exists": false, "read_only": true,
	}, nil) // nothing is analysed that is only read
	if err != nil {
		return nil, err
	}
	if err := i.Open(); err != nil {
		return nil, err
	}
	defer func() {
		if err != nil {
			err = errors.Join(err, i.Close())
		}
	}()
	reader, err := i.Reader()
	if err != nil {
		return nil, err
	}
	kept, err := reader.GetInternal(util.MappingInternalKey)
	if err == nil && len(kept) == 0 {
		err = fmt.Errorf("%s was not built to its end", folder)
	}
	return i, errors.Join(err, reader.Close())
}

// errClosed is returned by an index that nobody uses any more.
var errClosed = errors.New("the search index was closed")

// Reader reads the index, which the library would also do after it was closed.
func (i *opened) Reader() (index.IndexReader, error) {
	if i.users.Load() == 0 {
		return nil, errClosed
	}
	return i.Index.Reader()
}

// documentCount is how many documents an index has.
func documentCount(i index.Index) (count uint64, err error) {
	reader, err := i.Reader()
	if err != nil {
		return 0, err
	}
	defer func() { err = errors.Join(err, reader.Close()) }()
	return reader.DocCount()
}
