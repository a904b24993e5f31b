package bleveindex

import (
	"encoding/binary"
	"fmt"
	"hash/crc32"
	"path/filepath"
	"sync"

	"fitfill/catalog"
)

// columnsFile stands in an index folder and holds the type of each document and
// the engines that it is listed for, in the order of the documents: what parts
// are picked and counted by. The library can keep such values too, packed a
// thousand documents together, and unpacking them for each hit costs more than
// all the rest of a question.
//
// It holds how many documents, types, engine texts and listings there are; for
// each document the number of its type; for each document, and once more, where
// its listings begin; for each listing the number of its engine text; then the
// types and the engine texts, each a length and its bytes; at the end the CRC-32C
// of all before it. Numbers have 4 bytes, little-endian, those of types and
// engine texts 2 where that is enough for all of them.
//
// The file is written before its folder is in use and never again. One that is
// missing or not as it was written is a damaged index, which is built anew.
const columnsFile = "fitfill-columns"

const (
	numberBytes = 4
	shortBytes  = 2
)

// widthOf is how many bytes the numbers of so many texts need.
func widthOf(texts int) int {
	if texts <= 1<<(8*shortBytes) {
		return shortBytes
	}
	return numberBytes
}

var castagnoli = crc32.MakeTable(crc32.Castagnoli)

// column is numbers of a columns file, each of so many bytes.
type column struct {
	raw   []byte
	width int
}

func (c column) at(n int) int {
	if c.width == shortBytes {
		return int(binary.LittleEndian.Uint16(c.raw[n*shortBytes:]))
	}
	return int(binary.LittleEndian.Uint32(c.raw[n*numberBytes:]))
}

// columns is what a columns file says.
type columns struct {
	count                  int
	types, begins, engines column // the number of a type, where the listings begin, the number of an engine text
	typeTexts, engineTexts []string
	engineKeys             func() []string // engineTexts, folded
}

func readColumns(from *files, folder string) (*columns, error) {
	raw, err := from.read(filepath.Join(folder, columnsFile))
	if err != nil {
		return nil, fmt.Errorf("%w: %v", ErrDamaged, err)
	}
	end := len(raw) - crc32.Size
	if end < 0 || crc32.Checksum(raw[:end], castagnoli) != binary.LittleEndian.Uint32(raw[end:]) {
		return nil, fmt.Errorf("%w: %s in %s is not as it was written", ErrDamaged, columnsFile, folder)
	}
	rest := raw[:end]
	take := func(numbers, width int) column {
		c := column{rest[:numbers*width], width}
		rest = rest[numbers*width:]
		return c
	}
	texts := func(count int) []string {
		list := make([]string, count)
		for n := range list {
			size := take(1, numberBytes).at(0)
			list[n], rest = string(rest[:size]), rest[size:]
		}
		return list
	}
	head := take(4, numberBytes)
	count, types, engines, listings := head.at(0), head.at(1), head.at(2), head.at(3)
	c := &columns{count: count, types: take(count, widthOf(types)), begins: take(count+1, numberBytes), engines: take(listings, widthOf(engines))}
	c.typeTexts, c.engineTexts = texts(types), texts(engines)
	c.engineKeys = sync.OnceValue(func() []string {
		keys := make([]string, len(c.engineTexts))
		for n, text := range c.engineTexts {
			keys[n] = catalog.Key(text)
		}
		return keys
	})
	return c, nil
}

// ofTypes returns the documents that are of one of the types.
func (c *columns) ofTypes(types []string) documents {
	wanted := wantedOf(c.typeTexts, types)
	docs := noDocuments(c.count)
	for doc := range c.count {
		if wanted[c.types.at(doc)] {
			docs.add(doc)
		}
	}
	return docs
}

// forEngines returns the documents that are listed for one of the engines, by
// their folded names: of those in among, or of all where that is nil.
func (c *columns) forEngines(keys []string, among documents) documents {
	wanted := wantedOf(c.engineKeys(), keys)
	docs := noDocuments(c.count)
	look := func(doc int) {
		for n := c.begins.at(doc); n < c.begins.at(doc+1); n++ {
			if wanted[c.engines.at(n)] {
				docs.add(doc)
				break
			}
		}
	}
	if among != nil {
		among.each(look)
		return docs
	}
	for doc := range c.count {
		look(doc)
	}
	return docs
}

// wantedOf says of each text whether it is asked for. An empty one never is.
func wantedOf(texts, asked []string) []bool {
	set := make(map[string]bool, len(asked))
	for _, a := range asked {
		set[a] = a != ""
	}
	wanted := make([]bool, len(texts))
	for n, text := range texts {
		wanted[n] = set[text]
	}
	return wanted
}

// countIn counts documents by type and by engine text, in no order.
func (c *columns) countIn(docs documents) (types, engines []Value) {
	byType, byEngine := make([]int, len(c.typeTexts)), make([]int, len(c.engineTexts))
	docs.each(func(doc int) {
		byType[c.types.at(doc)]++
		for n := c.begins.at(doc); n < c.begins.at(doc+1); n++ {
			byEngine[c.engines.at(n)]++
		}
	})
	return counted(c.typeTexts, byType), counted(c.engineTexts, byEngine)
}

func counted(texts []string, counts []int) (list []Value) {
	for n, count := range counts {
		if count > 0 && texts[n] != "" {
			list = append(list, Value{texts[n], count})
		}
	}
	return list
}
