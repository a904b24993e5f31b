package bleveindex

import (
	"bufio"
	"encoding/binary"
	"errors"
	"hash/crc32"
	"io"
	"os"
	"path/filepath"
	"slices"

	"fitfill/catalog"
)

// stated collects the types and engine texts of parts, in the order in which
// they are put into an index.
type stated struct {
	types, engines numberedTexts
	lists          []uint32 // for each part its type, how many engine texts it has, and those
}

// numberedTexts numbers texts in the order in which they come.
type numberedTexts struct {
	numbers map[string]uint32
	texts   []string
}

func (t *numberedTexts) number(text string) uint32 {
	n, ok := t.numbers[text]
	if !ok {
		if t.numbers == nil {
			t.numbers = map[string]uint32{}
		}
		n = uint32(len(t.texts))
		t.numbers[text] = n
		t.texts = append(t.texts, text)
	}
	return n
}

// add takes what is stated of a part and returns where it stands.
func (s *stated) add(d catalog.SearchDoc) (at uint32) {
	at = uint32(len(s.lists))
	s.lists = append(s.lists, s.types.number(d.Type), uint32(len(d.Engines)))
	for _, e := range d.Engines {
		s.lists = append(s.lists, s.engines.number(e))
	}
	return at
}

func (s *stated) listed(at uint32) []uint32 { return s.lists[at+2 : at+2+s.lists[at+1]] }

// write writes the columns of the documents of an index; at says of each where
// what is stated of it stands.
func (s *stated) write(folder string, at []uint32) (err error) {
	f, err := os.Create(filepath.Join(folder, columnsFile))
	if err != nil {
		return err
	}
	defer func() { err = errors.Join(err, f.Close()) }()
	sum := crc32.New(castagnoli)
	w := bufio.NewWriter(io.MultiWriter(f, sum))
	put := func(n, width int) { w.Write(binary.LittleEndian.AppendUint32(w.AvailableBuffer(), uint32(n))[:width]) } // it keeps its first error for Flush
	types, engines := s.types.texts, s.engines.texts
	for _, n := range []int{len(at), len(types), len(engines), len(s.lists) - 2*len(at)} {
		put(n, numberBytes)
	}
	for _, a := range at {
		put(int(s.lists[a]), widthOf(len(types)))
	}
	begin := 0
	for _, a := range at {
		put(begin, numberBytes)
		begin += len(s.listed(a))
	}
	put(begin, numberBytes)
	for _, a := range at {
		for _, e := range s.listed(a) {
			put(int(e), widthOf(len(engines)))
		}
	}
	for _, text := range slices.Concat(types, engines) {
		put(len(text), numberBytes)
		w.WriteString(text)
	}
	if err := w.Flush(); err != nil {
		return err
	}
	_, err = f.Write(binary.LittleEndian.AppendUint32(nil, sum.Sum32()))
	return err
}
