package importers

import (
	"slices"
	"strconv"
	"strings"
	"unicode"
)

// footers gives the total lines at the end of the sheet their class: lines that
// begin with a word such as "Total", and a last line whose only numbers are the
// sums of the columns above.
func (s *Sheet) footers(voc *vocabulary, from int) {
	var cells []string
	for i := s.records.n - 1; i >= from; i-- {
		class := s.records.class(i)
		if class == ClassBlank {
			continue
		}
		if s.records.fault(i) != NoFault || class != ClassData && class != ClassSection {
			return
		}
		cells = s.Cells(i, cells)
		switch {
		case voc.isFooter(cells) && !(countFilled(cells) > 1 && (holdsPartNumber(cells) || s.firstWordRecurs(from, i, cells))):
			s.records.setClass(i, ClassFooter)
		case class == ClassSection:
		default:
			if s.isSumOfAbove(i, from, cells) {
				s.records.setClass(i, ClassFooter)
			}
			return
		}
	}
}

// holdsPartNumber reports whether a cell is letters and digits as in TQ-100, and no
// quantity, day or formula: no total holds one, the row of a brand called Total does.
func holdsPartNumber(cells []string) bool {
	for _, c := range cells {
		if c = trim(c); c != "" && c[0] != '=' && c[0] != '#' && formOf(c) == formCode && strings.ContainsFunc(c, unicode.IsLetter) {
			return true
		}
	}
	return false
}

// firstWordRecurs reports whether a row before record i begins with the same word:
// what recurs is a brand or a group of goods, and no total.
func (s *Sheet) firstWordRecurs(from, i int, cells []string) bool {
	k := slices.IndexFunc(cells, func(c string) bool { return trim(c) != "" })
	for j := from; j < i; j++ {
		if s.records.class(j) == ClassData && s.records.fault(j) == NoFault && trim(s.cell(j, k)) == trim(cells[k]) {
			return true
		}
	}
	return false
}

// isFooter recognises a total line: its first filled cell is a word such as
// "Total", alone or in front of a colon.
func (v *vocabulary) isFooter(cells []string) bool {
	for _, c := range cells {
		if c = trim(c); c == "" {
			continue
		}
		word, _, _ := strings.Cut(c, ":")
		return len(v.words["footer"][fold(word)]) > 0
	}
	return false
}

// isSumOfAbove reports whether a line with a blank first cell holds numbers
// only, and each is the sum of two or more numbers of its column.
func (s *Sheet) isSumOfAbove(i, from int, cells []string) bool {
	numbers := map[int]int64{}
	for j, c := range cells {
		if c = trim(c); c == "" {
			continue
		}
		n, ok := minorUnits(c)
		if j == 0 || !ok || n == 0 {
			return false
		}
		numbers[j] = n
	}
	return s.sumsOf(numbers, from, i, len(numbers))
}

// sumsOf reports whether at least that many of the numbers, by column, are the sum
// of two or more numbers of their column in the rows from..to-1.
func (s *Sheet) sumsOf(numbers map[int]int64, from, to, need int) bool {
	if len(numbers) == 0 {
		return false
	}
	sums, counts := map[int]int64{}, map[int]int{}
	var row []string
	for k := from; k < to; k++ {
		if s.records.class(k) != ClassData || s.records.fault(k) != NoFault {
			continue
		}
		row = s.Cells(k, row)
		for j := range numbers {
			if j < len(row) {
				if n, ok := minorUnits(trim(row[j])); ok {
					sums[j] += n
					counts[j]++
				}
			}
		}
	}
	right := 0
	for j, n := range numbers {
		if counts[j] >= 2 && sums[j] == n {
			right++
		}
	}
	return right >= need
}

// minorUnits reads a number with up to two decimals behind its last mark as
// hundredths, whatever the marks are.
func minorUnits(cell string) (int64, bool) {
	digits, decimals := strings.Builder{}, -1
	for i := range len(cell) {
		switch c := cell[i]; {
		case c >= '0' && c <= '9':
			digits.WriteByte(c)
			if decimals >= 0 {
				decimals++
			}
		case c == '.' || c == ',':
			decimals = 0
		case c != ' ' && c != '\'':
			return 0, false
		}
	}
	if decimals < 0 || decimals > 2 {
		decimals = 0
	}
	n, err := strconv.ParseInt(digits.String()+"00"[decimals:], 10, 64)
	return n, err == nil && n < 1<<50
}
