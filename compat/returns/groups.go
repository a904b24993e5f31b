package returns

import (
	"cmp"
	"slices"
)

// Letters puts suppliers that cannot be told apart under one letter: in the
// order of rank, each supplier i opens the longest run i..j with
// worse(j, i) < callAt, and runs inside another are dropped. Two suppliers
// without a common letter are told apart; a common letter claims nothing. Equal
// ranks keep the order of the slice.
func Letters(rank []float64, worse func(a, b int) float64, callAt float64) []string {
	order := make([]int, len(rank))
	for i := range order {
		order[i] = i
	}
	slices.SortStableFunc(order, func(a, b int) int { return cmp.Compare(rank[a], rank[b]) })
	out := make([]string, len(rank))
	end, groups := -1, 0
	for i := range order {
		j := len(order) - 1
		for j > i && worse(order[j], order[i]) >= callAt {
			j--
		}
		if j <= end {
			continue
		}
		end = j
		for _, s := range order[i : j+1] {
			out[s] += letter(groups)
		}
		groups++
	}
	return out
}

// letter numbers groups a, b, … z, a', b', ….
func letter(n int) string {
	s := string(rune('a' + n%26))
	for range n / 26 {
		s += "'"
	}
	return s
}
