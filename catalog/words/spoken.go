package words

import (
	"fmt"
	"strconv"
)

// spoken turns figures that were said as words into figures: "two thousand and
// eight", "nineteen ninety eight", "ninety eight or nine" and "oh four" are
// years, "three four", "three point four" and "three litre" engine sizes, "inch
// and a half" a length.
func (t *Table) spoken(list []token) []token {
	var out []token
	for i := 0; i < len(list); {
		text, n := t.figure(list, i)
		if n == 0 {
			out = append(out, list[i])
			i++
			continue
		}
		for _, w := range text {
			out = append(out, token{text: w, fold: w})
		}
		i += n
	}
	return out
}

// figure reads the figure that begins at token i and returns how many tokens
// it takes; none if no figure begins there.
func (t *Table) figure(list []token, i int) ([]string, int) {
	for _, read := range []func([]token, int) ([]string, int){t.saidInch, t.saidPlain, t.saidYear, t.saidSize} {
		if text, n := read(list, i); n > 0 {
			return text, n
		}
	}
	return nil, 0
}

func (t *Table) number(list []token, i int) (int, bool) {
	if i >= len(list) {
		return 0, false
	}
	n, ok := t.numbers[list[i].fold]
	return n, ok
}

func at(list []token, i int, words ...string) bool {
	if i >= len(list) {
		return false
	}
	for _, w := range words {
		if list[i].fold == w {
			return true
		}
	}
	return false
}

// saidInch reads "inch and a half", "two and a quarter inch".
func (t *Table) saidInch(list []token, i int) ([]string, int) {
	part := map[string]string{"half": "1/2", "quarter": "1/4"}
	whole, n := 1, 0
	if w, ok := t.number(list, i); ok && !at(list, i+1, "inch", "inches") {
		whole, n = w, 1
	} else if at(list, i, "inch") {
		n = 1
	} else {
		return nil, 0
	}
	if at(list, i+n, "and") && at(list, i+n+1, "a") && i+n+2 < len(list) && part[list[i+n+2].fold] != "" {
		text := fmt.Sprintf(`%d-%s"`, whole, part[list[i+n+2].fold])
		n += 3
		if at(list, i, "inch") {
			return []string{text}, n
		}
		if at(list, i+n, "inch", "inches") {
			return []string{text}, n + 1
		}
	}
	return nil, 0
}

// saidYear reads a year of four digits, or the last two of one where another
// year is said beside it or an apostrophe is heard.
func (t *Table) saidYear(list []token, i int) ([]string, int) {
	n, ok := t.number(list, i)
	if !ok {
		return nil, 0
	}
	if n == 2 && at(list, i+1, "thousand") {
		k := 2
		if at(list, i+k, "and") {
			k++
		}
		if low, used := t.below100(list, i+k); used > 0 {
			return t.years(list, i, 2000+low, k+used)
		}
		return t.years(list, i, 2000, 2)
	}
	if n == 19 || n == 20 {
		if low, used := t.below100(list, i+1); used > 0 && (low >= 10 || used == 2) {
			return t.years(list, i, n*100+low, 1+used)
		}
	}
	if n == 0 { // oh four
		if low, ok := t.number(list, i+1); ok && low < 10 {
			return t.years(list, i, 2000+low, 2)
		}
	}
	if low, used := t.below100(list, i); used == 2 && low >= 40 {
		return t.years(list, i, 1900+low, 2)
	}
	return nil, 0
}

// years adds the other year of "ninety eight or nine".
func (t *Table) years(list []token, i, year, used int) ([]string, int) {
	out := []string{strconv.Itoa(year)}
	if at(list, i+used, "or", "to") {
		if low, n := t.below100(list, i+used+1); n > 0 && low < 10 {
			return append(out, strconv.Itoa(year/10*10+low)), used + 1 + n
		}
	}
	return out, used
}

// below100 reads "ninety eight", "oh five", "twelve", "five".
func (t *Table) below100(list []token, i int) (n, used int) {
	first, ok := t.number(list, i)
	if !ok {
		return 0, 0
	}
	second, ok := t.number(list, i+1)
	switch {
	case ok && first >= 20 && second > 0 && second < 10:
		return first + second, 2
	case ok && first == 0 && second < 10:
		return second, 2
	}
	return first, 1
}

// saidSize reads an engine size: two digits in a row, or with "point" between
// them, or one before "litre".
func (t *Table) saidSize(list []token, i int) ([]string, int) {
	a, ok := t.number(list, i)
	if !ok || a == 0 || a > 9 {
		return nil, 0
	}
	if at(list, i+1, "litre", "litres", "liter", "liters") {
		return []string{strconv.Itoa(a) + "L"}, 2
	}
	next := i + 1
	if at(list, next, "point") {
		next++
	}
	b, ok := t.number(list, next)
	if !ok || b > 9 {
		return nil, 0
	}
	used := next + 1 - i
	size := fmt.Sprintf("%d.%d", a, b)
	if at(list, next+1, "litre", "litres", "liter", "liters") {
		return []string{size + "L"}, used + 1
	}
	return []string{size}, used
}

// saidPlain reads a number that stands before a unit or after "size"; any other
// number word stays a word ("six cylinder" is a phrase).
func (t *Table) saidPlain(list []token, i int) ([]string, int) {
	n, used := t.below100(list, i)
	if used == 0 || !at(list, i+used, "degree", "degrees", "mm", "millimetre", "millimetres", "millimeter", "millimeters", "psi", "pounds", "bar", "inch", "inches", "litre", "litres", "liter", "liters") {
		return nil, 0
	}
	return []string{strconv.Itoa(n)}, used
}
