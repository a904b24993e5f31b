package importers

import (
	"slices"
	"strings"
)

// medianSample keeps the first sampleSize amounts of a column and every n-th
// of the rest, n doubling as the sample fills up: the same sheet always gives
// the same sample, and its memory is bounded.
type medianSample struct {
	values []string
	seen   int
	step   int
}

const sampleSize = 2048

func (m *medianSample) add(cell string) {
	if m.step == 0 {
		m.step = 1
	}
	m.seen++
	if (m.seen-1)%m.step != 0 {
		return
	}
	if len(m.values) == sampleSize {
		for i := range sampleSize / 2 {
			m.values[i] = m.values[2*i]
		}
		m.values = m.values[:sampleSize/2]
		m.step *= 2
		if (m.seen-1)%m.step != 0 {
			return
		}
	}
	m.values = append(m.values, strings.Clone(cell))
}

// median returns the middle of the amounts that read lets through, false
// without any.
func (m *medianSample) median(read func(cell string) (int64, bool)) (int64, bool) {
	var amounts []int64
	for _, v := range m.values {
		if n, ok := read(v); ok {
			amounts = append(amounts, n)
		}
	}
	if len(amounts) == 0 {
		return 0, false
	}
	slices.Sort(amounts)
	return amounts[len(amounts)/2], true
}
