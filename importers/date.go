package importers

import (
	"fmt"
	"strconv"
	"strings"

	"fitfill/catalog"
	"fitfill/catalog/pattern"
)

var dateOrders = []string{"dmy", "mdy", "ymd"}

var (
	isoDate     = pattern.New(`^(\d{4})[-/.](\d{1,2})[-/.](\d{1,2})(?:[T ]\d{1,2}:\d{2}(?::\d{2})?.*)?$`)
	compactDate = pattern.New(`^(\d{4})(\d{2})(\d{2})$`)
	markedDate  = pattern.New(`^(\d{1,2})([-/. ])\s*(\d{1,2})[-/. ]\s*(\d{2}|\d{4})(?: \d{1,2}:\d{2}(?::\d{2})?.*)?$`)
	namedDate   = pattern.New(`^(\d{1,2})[-. ]+(\pL{3,})[-. ,]+(\d{2}|\d{4})$`)
	usNamedDate = pattern.New(`^(\pL{3,})[. ]+(\d{1,2}),? +(\d{4})$`)
	serialDate  = pattern.New(`^[2-6]\d{4}$`)
)

// date notes what a cell shows about the order of day and month. Points as in
// 3.4.2026 stand between day and month in that order (common practice).
func (e *evidence) date(cell string) {
	m := markedDate.FindStringSubmatch(cell)
	if m == nil {
		return
	}
	a, _ := strconv.Atoi(m[1])
	b, _ := strconv.Atoi(m[3])
	switch {
	case m[2] == "." && b <= 12, a > 12 && b <= 12:
		e.dmy++
	case b > 12 && a <= 12:
		e.mdy++
	case a == b:
	default:
		if e.anyOrder++; e.orderText == "" {
			e.orderText = strings.Clone(cell)
		}
	}
}

// readDate reads a date cell as YYYY-MM-DD. Order says what comes first where
// the cell is all digits. A year of two digits lies between 1970 and 2069.
func (v *vocabulary) readDate(cell, order string) (string, *problem) {
	if m := isoDate.FindStringSubmatch(cell); m != nil {
		return calendarDay(cell, m[1], m[2], m[3])
	}
	if m := compactDate.FindStringSubmatch(cell); m != nil {
		return calendarDay(cell, m[1], m[2], m[3])
	}
	if m := namedDate.FindStringSubmatch(cell); m != nil {
		return calendarDay(cell, m[3], v.month(m[2]), m[1])
	}
	if m := usNamedDate.FindStringSubmatch(cell); m != nil {
		return calendarDay(cell, m[3], v.month(m[1]), m[2])
	}
	m := markedDate.FindStringSubmatch(cell)
	if m == nil {
		why := "is not a date: write it as YYYY-MM-DD"
		if serialDate.MatchString(cell) {
			why = "is a spreadsheet's own day number: format the column as a date and export again"
		}
		return "", &problem{code: "date", why: fmt.Sprintf("%q %s", cell, why)}
	}
	first, second, year := m[1], m[3], m[4]
	switch a, _ := strconv.Atoi(first); {
	case order == "ymd" && len(year) == 2:
		return calendarDay(cell, first, second, year)
	case order == "mdy":
		return calendarDay(cell, year, first, second)
	case order == "dmy", m[2] == ".", a > 12, first == second:
		return calendarDay(cell, year, second, first)
	}
	if b, _ := strconv.Atoi(second); b > 12 {
		return calendarDay(cell, year, first, second)
	}
	return "", &problem{code: "date-order", why: fmt.Sprintf("%q could mean two days: say --set dates=dmy or --set dates=mdy", cell)}
}

func (v *vocabulary) month(name string) string {
	if m := v.words["month"][fold(name)]; len(m) == 1 {
		return m[0]
	}
	return ""
}

func calendarDay(cell, year, month, dayOfMonth string) (string, *problem) {
	y, _ := strconv.Atoi(year)
	m, _ := strconv.Atoi(month)
	d, _ := strconv.Atoi(dayOfMonth)
	if len(year) <= 2 {
		y += 1900
		if y < 1970 {
			y += 100
		}
	}
	text := fmt.Sprintf("%04d-%02d-%02d", y, m, d)
	if _, err := catalog.ParseDate(text); err != nil || m == 0 || d == 0 {
		return "", &problem{code: "date-impossible", why: fmt.Sprintf("%q is no day of the calendar: correct it, or say --set dates=dmy, mdy or ymd", cell)}
	}
	return text, nil
}
