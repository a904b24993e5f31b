package importers

import (
	"bytes"
	"runtime"
	"sync"
)

// splitFrom is the size from which a text is cut into records in several parts at
// once.
const splitFrom = 8 << 20

// splitParts cuts the text up to end into records. What a record is depends on nothing
// before it; so each processor starts at some line end, and what it found counts if
// the part before ends just there. Where it does not, because the line stands inside a
// cell of several lines, the part is cut once more from where the one before ended.
func (s *Sheet) splitParts(width, end, parts int) recordTable {
	splitter := func() *splitter { return newSplitter(nil, s.Dialect, width, s.sizes) }
	starts := []int{0}
	for k := 1; k < parts; k++ {
		if at := s.text.lineStart(end/parts*k, end); at > starts[len(starts)-1] && at < end {
			starts = append(starts, at)
		}
	}
	tables := make([]recordTable, len(starts))
	var group sync.WaitGroup
	for k, from := range starts {
		to := end
		if k+1 < len(starts) {
			to = starts[k+1]
		}
		group.Go(func() { splitter().stretch(s.text, from, to, end, &tables[k]) })
	}
	group.Wait()
	all := tables[0]
	for k := 1; k < len(starts); k++ {
		if at := int(all.end); at != starts[k] {
			tables[k] = recordTable{}
			to := end
			if k+1 < len(starts) {
				to = starts[k+1]
			}
			splitter().stretch(s.text, at, to, end, &tables[k])
		}
		all.append(&tables[k])
		tables[k] = recordTable{}
	}
	return all
}

// lineStart returns where the first line behind a place of the text begins, end if
// none does nearby.
func (t *text) lineStart(from, end int) int {
	for at := from; at < min(end, from+splitFrom/2); at += passBytes {
		piece := t.copyOf(at, min(passBytes, end-at))
		if k := bytes.IndexByte(piece, '\n'); k >= 0 {
			return at + k + 1
		}
	}
	return end
}

// processors is how many goroutines work on one sheet at a time.
func processors() int { return min(maxWorkers, runtime.GOMAXPROCS(0)) }
