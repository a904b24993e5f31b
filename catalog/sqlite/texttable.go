package sqlite

import (
	"hash/maphash"
	"strings"
)

// textTable is a textStore that knows which texts it has: twenty bytes each, and the
// few that come again and again in memory too.
type textTable struct {
	textStore
	slots []uint64 // half of the hash, and one more than the number of the text; zero: free
	hot   [2]map[string]int
}

// mostHot bounds each of the two generations of texts that are known by heart.
const mostHot = 1 << 14

var textSeed = maphash.MakeSeed()

// number returns the number of a text, and whether it has it only now.
func (t *textTable) number(text string) (i int, isNew bool) {
	if i, ok := t.hot[0][text]; ok {
		return i, false
	}
	i, ok := t.hot[1][text]
	if !ok {
		if i, ok = t.find(text); !ok {
			t.insert(text)
			return t.len() - 1, true
		}
	}
	t.remember(text, i)
	return i, false
}

// remember keeps a text that came again. Those that do not come any more go with their
// generation.
func (t *textTable) remember(text string, i int) {
	if t.hot[0] == nil || len(t.hot[0]) >= mostHot {
		t.hot[0], t.hot[1] = map[string]int{}, t.hot[0]
	}
	t.hot[0][strings.Clone(text)] = i // it may be a piece of a page of the sheet
}

// find looks for a text.
func (t *textTable) find(text string) (int, bool) {
	if len(t.slots) == 0 {
		return 0, false
	}
	hash, mask := maphash.String(textSeed, text), uint64(len(t.slots)-1)
	for at := hash >> 32 & mask; t.slots[at] != 0; at = (at + 1) & mask {
		if t.slots[at]>>32 != hash>>32 {
			continue
		}
		if i := int(uint32(t.slots[at])) - 1; string(t.bytes(i)) == text {
			return i, true
		}
	}
	return 0, false
}

func (t *textTable) insert(text string) {
	if 4*(t.len()+1) > 3*len(t.slots) {
		t.grow()
	}
	t.add(text)
	t.put(maphash.String(textSeed, text)>>32<<32 | uint64(t.len()))
}

func (t *textTable) put(slot uint64) {
	mask := uint64(len(t.slots) - 1)
	at := slot >> 32 & mask
	for t.slots[at] != 0 {
		at = (at + 1) & mask
	}
	t.slots[at] = slot
}

func (t *textTable) grow() {
	old := t.slots
	t.slots = make([]uint64, max(1<<10, 2*len(old)))
	for _, slot := range old {
		if slot != 0 {
			t.put(slot)
		}
	}
}
