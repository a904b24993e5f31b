package app

// Nearest returns the name with the fewest letters to change, add or take away
// (Levenshtein distance); the first of equals. Of no names it is empty.
func Nearest(text string, names []string) string {
	best, bestAt := "", -1
	for _, n := range names {
		if d := distance(text, n); bestAt < 0 || d < bestAt {
			best, bestAt = n, d
		}
	}
	return best
}

func distance(a, b string) int {
	row := make([]int, len(b)+1)
	for j := range row {
		row[j] = j
	}
	for i := range len(a) {
		above := row[0]
		row[0] = i + 1
		for j := range len(b) {
			change := above
			if a[i] != b[j] {
				change++
			}
			above = row[j+1]
			row[j+1] = min(change, row[j+1]+1, row[j]+1)
		}
	}
	return row[len(b)]
}
