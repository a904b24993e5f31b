package app

import (
	"fmt"
	"strings"
)

// Nearest returns the name with the fewest letters to change, add or take away
// (Levenshtein distance, capitals do not matter); the first of equals. It is
// empty where no name is near: more than a third of the letters would change.
func Nearest(text string, names []string) string {
	best, bestAt := "", max(2, len(text)/3)+1
	for _, n := range names {
		if d := distance(strings.ToLower(text), strings.ToLower(n)); d < bestAt {
			best, bestAt = n, d
		}
	}
	return best
}

// nearestHint words the nearest name as a hint, or the alternative where no
// name is near.
func nearestHint(text string, names []string, otherwise string) string {
	if near := Nearest(text, names); near != "" {
		return fmt.Sprintf("the nearest known one is %q", near)
	}
	return otherwise
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
