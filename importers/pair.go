package importers

import "math"

// pair gives every row at most one column and every column to at most one row,
// so that the sum of the scores is the largest possible (the Hungarian method
// with potentials). It returns the column of each row, −1 for none.
func pair(scores [][]float64) []int {
	rows := len(scores)
	columns := 0
	if rows > 0 {
		columns = len(scores[0])
	}
	result := make([]int, rows)
	n := max(rows, columns) // the matrix is filled up to a square with zeros
	cost := func(r, c int) float64 {
		if r < rows && c < columns {
			return -scores[r][c]
		}
		return 0
	}
	rowPrice, colPrice := make([]float64, n+1), make([]float64, n+1)
	owner, way := make([]int, n+1), make([]int, n+1) // of columns, counted from 1
	for r := 1; r <= n; r++ {
		owner[0] = r
		least, used := make([]float64, n+1), make([]bool, n+1)
		for i := range least {
			least[i] = math.Inf(1)
		}
		at := 0
		for {
			used[at] = true
			row, delta, next := owner[at], math.Inf(1), 0
			for c := 1; c <= n; c++ {
				if used[c] {
					continue
				}
				if d := cost(row-1, c-1) - rowPrice[row] - colPrice[c]; d < least[c] {
					least[c], way[c] = d, at
				}
				if least[c] < delta {
					delta, next = least[c], c
				}
			}
			for c := range n + 1 {
				if used[c] {
					rowPrice[owner[c]] += delta
					colPrice[c] -= delta
				} else {
					least[c] -= delta
				}
			}
			if at = next; owner[at] == 0 {
				break
			}
		}
		for at != 0 {
			owner[at] = owner[way[at]]
			at = way[at]
		}
	}
	for r := range result {
		result[r] = -1
	}
	for c := 1; c <= columns; c++ {
		if r := owner[c] - 1; r >= 0 && r < rows {
			result[r] = c - 1
		}
	}
	return result
}
