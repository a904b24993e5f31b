package importers

import (
	"slices"
	"strconv"
	"strings"
	"time"

	"fitfill/catalog/pattern"
)

var exponentParts = pattern.New(`^[+-]?(\d+)(?:[.,](\d+))?[Ee]\+?(\d{1,3})$`)

// roundsTo returns a test for the numbers that a spreadsheet shows as that
// power of ten.
func roundsTo(cell string) func(string) bool {
	m := exponentParts.FindStringSubmatch(cell)
	if m == nil {
		return nil
	}
	shown := m[1] + m[2]
	exp, err := strconv.Atoi(m[3])
	length := exp + len(m[1])
	if err != nil || length > maxWord || length < len(shown) {
		return nil
	}
	return func(number string) bool {
		if len(number) != length || strings.Trim(number, "0123456789") != "" || length == 0 {
			return false
		}
		head := number[:len(shown)]
		if head == shown {
			return len(number) == len(shown) || number[len(shown)] < '5'
		}
		return len(number) > len(shown) && number[len(shown)] >= '5' && oneMore(head) == shown
	}
}

// oneMore adds one to a decimal number of the same length.
func oneMore(digits string) string {
	b := []byte(digits)
	for i := len(b) - 1; i >= 0; i-- {
		if b[i] < '9' {
			b[i]++
			return string(b)
		}
		b[i] = '0'
	}
	return ""
}

// readsAsDate returns a test for the numbers, such as 3-10 or 10-3, that a
// spreadsheet turns into that day.
func (v *vocabulary) readsAsDate(cell string) func(string) bool {
	var d, m, y int
	if n, err := strconv.Atoi(cell); err == nil {
		day := time.Date(1899, 12, 30, 0, 0, 0, 0, time.UTC).AddDate(0, 0, n) // day 0 of spreadsheets
		d, m, y = day.Day(), int(day.Month()), day.Year()
	} else {
		parts := strings.FieldsFunc(cell, func(r rune) bool { return strings.ContainsRune("-/. :", r) })
		var numbers []int
		for _, p := range parts {
			if n, err := strconv.Atoi(p); err == nil {
				numbers = append(numbers, n)
			} else if name := v.month(p); name != "" {
				m, _ = strconv.Atoi(name)
			}
		}
		switch {
		case m > 0 && len(numbers) > 0:
			d = numbers[0]
			if len(numbers) > 1 {
				y = numbers[1]
			}
		case len(numbers) >= 3:
			d, m, y = numbers[0], numbers[1], numbers[2]
			if d > 31 {
				d, y = y, d
			}
		default:
			return nil
		}
	}
	ways := [][]int{{d, m}, {m, d}}
	if y > 0 {
		ways = append(ways, []int{d, m, y % 100}, []int{m, d, y % 100}, []int{d, m, y}, []int{m, d, y}, []int{m, y % 100}, []int{y % 100, m})
	}
	return func(number string) bool {
		if len(number) > maxWord || !strings.ContainsAny(number, "-/.") {
			return false
		}
		var runs []int
		for _, p := range strings.FieldsFunc(number, func(r rune) bool { return strings.ContainsRune("-/.", r) }) {
			n, err := strconv.Atoi(p)
			if err != nil {
				return false
			}
			runs = append(runs, n)
		}
		return slices.ContainsFunc(ways, func(w []int) bool { return slices.Equal(w, runs) })
	}
}
