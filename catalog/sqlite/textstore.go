package sqlite

import (
	"errors"
	"fmt"
	"os"
)

// textStore keeps texts in the order in which they come, numbered from zero, without
// holding them in memory: a list of a million rows has millions of different cells.
// While they are few it does; from then on they lie in a scratch file. What goes wrong
// there stays as the error of err, which whoever uses the texts asks in the end.
type textStore struct {
	dir    string
	file   *os.File // nil while all of it lies in tail
	ends   []int64  // of each text
	onFile int64    // bytes in the file
	tail   []byte   // and what follows them
	block  []byte   // what was read last
	from   int64    // and where it lies
	failed error
}

// tailBytes is how much text waits to be written, and blockBytes how much is read at a
// time: texts are asked for in their order as a rule.
const (
	tailBytes  = 1 << 20
	blockBytes = 16 << 10
)

func (s *textStore) len() int { return len(s.ends) }

// add puts a text behind the others.
func (s *textStore) add(text string) {
	s.tail = append(s.tail, text...)
	s.ends = append(s.ends, s.onFile+int64(len(s.tail)))
	if len(s.tail) >= tailBytes && s.failed == nil {
		s.failed = s.flush()
	}
}

func (s *textStore) flush() (err error) {
	if s.file == nil {
		if s.file, err = os.CreateTemp(s.dir, "texts-*"); err != nil {
			return err
		}
	}
	n, err := s.file.Write(s.tail)
	s.onFile += int64(n)
	s.tail = s.tail[:copy(s.tail, s.tail[n:])]
	return err
}

// bytes returns a text, which is only good until the next call.
func (s *textStore) bytes(i int) []byte {
	var from int64
	if i > 0 {
		from = s.ends[i-1]
	}
	to := s.ends[i]
	if from >= s.onFile {
		return s.tail[from-s.onFile : to-s.onFile]
	}
	if from < s.from || to > s.from+int64(len(s.block)) {
		size := min(max(to-from, blockBytes), s.onFile-from)
		if int64(cap(s.block)) < size {
			s.block = make([]byte, size)
		}
		s.block, s.from = s.block[:size], from
		if _, err := s.file.ReadAt(s.block, from); err != nil {
			clear(s.block)
			s.failed = errors.Join(s.failed, err)
		}
	}
	return s.block[from-s.from : to-s.from]
}

// text returns a text.
func (s *textStore) text(i int) string { return string(s.bytes(i)) }

// err is what went wrong with the scratch file, if anything did.
func (s *textStore) err() error {
	if s.failed != nil {
		return fmt.Errorf("the texts of the sheet cannot be kept while it is read: make room on the disk: %w", s.failed)
	}
	return nil
}

// close takes the scratch file away.
func (s *textStore) close() error {
	if s.file == nil {
		return nil
	}
	err := errors.Join(s.file.Close(), os.Remove(s.file.Name()))
	s.file = nil
	return err
}
