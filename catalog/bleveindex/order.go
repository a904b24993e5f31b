package bleveindex

import (
	"cmp"
	"encoding/binary"
	"errors"
	"fmt"
	"os"
	"path/filepath"
	"slices"
	"strconv"

	"github.com/blevesearch/bleve/v2"
)

// orderFile stands in an index folder and holds the parts in the order of their
// numbers: for each document of the index its place in that order (4 bytes), in
// the order of the documents, and then for each place the part (8 bytes), all
// little-endian. The library keeps its documents in an order of its own, and
// fetching each hit's number to sort by costs more than finding it.
const orderFile = "fitfill-order"

const (
	placeBytes = 4
	partBytes  = 8
)

// order is what an order file says.
type order struct {
	count  int
	places []byte
	parts  []byte
}

func readOrder(from *files, folder string) (*order, error) {
	raw, err := from.read(filepath.Join(folder, orderFile))
	if err != nil {
		return nil, fmt.Errorf("%w: %v", ErrDamaged, err)
	}
	count := len(raw) / (placeBytes + partBytes)
	if len(raw) != count*(placeBytes+partBytes) {
		return nil, fmt.Errorf("%w: %s in %s is cut off", ErrDamaged, orderFile, folder)
	}
	return &order{count, raw[:count*placeBytes], raw[count*placeBytes:]}, nil
}

// place returns the place of a document; ok is false for a document that the
// order does not know.
func (o *order) place(doc int) (place uint32, ok bool) {
	if doc >= o.count {
		return 0, false
	}
	place = binary.LittleEndian.Uint32(o.places[doc*placeBytes:])
	return place, int(place) < o.count
}

// part returns the part at a place.
func (o *order) part(place uint32) int64 {
	return int64(binary.LittleEndian.Uint64(o.parts[int(place)*partBytes:]))
}

// numbered is a part that goes into an index.
type numbered struct {
	key   string
	id    int64
	place uint32
	at    uint32 // where what is stated of it stands
}

// writeOrder writes the order of the parts that were put into the index in
// folder, and returns for each document where what is stated of it stands.
func writeOrder(folder string, list []numbered) (at []uint32, err error) {
	i, err := bleve.OpenUsing(folder, map[string]any{"read_only": true})
	if err != nil {
		return nil, err
	}
	defer func() { err = errors.Join(err, i.Close()) }()
	raw := make([]byte, len(list)*(placeBytes+partBytes))
	slices.SortFunc(list, func(a, b numbered) int { return cmp.Or(cmp.Compare(a.key, b.key), cmp.Compare(a.id, b.id)) })
	for place := range list {
		list[place].place = uint32(place)
		binary.LittleEndian.PutUint64(raw[len(list)*placeBytes+place*partBytes:], uint64(list[place].id))
	}
	slices.SortFunc(list, func(a, b numbered) int { return cmp.Compare(a.id, b.id) })
	at = make([]uint32, len(list))
	err = eachDocument(i, func(doc uint64, id int64) error {
		n, ok := slices.BinarySearchFunc(list, id, func(n numbered, id int64) int { return cmp.Compare(n.id, id) })
		if !ok || doc >= uint64(len(list)) {
			return fmt.Errorf("document %d is part %d, which was not put into the index", doc, id)
		}
		binary.LittleEndian.PutUint32(raw[doc*placeBytes:], list[n].place)
		at[doc] = list[n].at
		return nil
	})
	if err != nil {
		return nil, err
	}
	return at, os.WriteFile(filepath.Join(folder, orderFile), raw, 0o644)
}

// eachDocument calls do with each document of an index and the part that it is.
func eachDocument(i bleve.Index, do func(doc uint64, id int64) error) (err error) {
	inner, err := i.Advanced()
	if err != nil {
		return err
	}
	reader, err := inner.Reader()
	if err != nil {
		return err
	}
	defer func() { err = errors.Join(err, reader.Close()) }()
	docs, err := reader.DocIDReaderAll()
	if err != nil {
		return err
	}
	defer func() { err = errors.Join(err, docs.Close()) }()
	for {
		doc, err := docs.Next()
		if err != nil || doc == nil {
			return err
		}
		name, err := reader.ExternalID(doc)
		if err != nil {
			return err
		}
		id, err := strconv.ParseInt(name, 10, 64)
		if err != nil {
			return err
		}
		if err := do(doc.Value(), id); err != nil {
			return err
		}
	}
}
