package units

import (
	"strconv"

	"fitfill/catalog/pattern"
)

// ends says which end of a stretch is open.
type ends int

const (
	closed ends = iota
	openStart
	openEnd
)

// Two digits from pivot up are 19xx, below it 20xx (a setting of ours; the
// trade's sheets reach from the 1940s to the next few years). The first and
// last years keep a part number from being taken for a year.
const (
	pivot     = 40
	firstYear = 1880
	lastYear  = 2099
)

const (
	yearForm  = `'?(\d{4}|\d{2})(?:\.([05]))?`
	monthForm = `(?:(\d{1,2})([/.])(\d{4}|\d{2})|(\d{4})[-/.](\d{2}))`
	toForm    = ` ?(?:-|/|\.\.+|to|thru|through|until|till|bis) ?`
)

var (
	oneYear   = pattern.New(`^(?i)` + yearForm + `$`)
	twoYears  = pattern.New(`^(?i)` + yearForm + `(` + toForm + `)` + yearForm + `$`)
	oneMonth  = pattern.New(`^(?i)` + monthForm + `$`)
	twoMonths = pattern.New(`^(?i)` + monthForm + toForm + monthForm + `$`)
)

// wholeYears reads "1999" and "1992-2004" as all other code here does, in a
// hundredth of the time: almost every line of a list has one of them.
func wholeYears(text string) (ModelYears, bool) {
	const digits = len("1999")
	year := func(four string) (y int, ok bool) {
		for _, c := range []byte(four) {
			if c < '0' || c > '9' {
				return 0, false
			}
			y = 10*y + int(c-'0')
		}
		return y, y >= firstYear && y <= lastYear
	}
	if len(text) != digits && (len(text) != 2*digits+1 || text[digits] != '-') {
		return ModelYears{}, false
	}
	from, okFrom := year(text[:digits])
	last, okLast := year(text[len(text)-digits:])
	if !okFrom || !okLast || from > last {
		return ModelYears{}, false
	}
	return ModelYears{Ranges: []YearRange{Years(from, last)}}, true
}

// reading holds what a text can mean on either axis.
type reading struct {
	years    YearRange
	months   MonthRange
	asYears  bool
	asMonths bool
	backward bool
	text     string
}

func readings(s string, end ends, worded bool) reading {
	r := reading{text: s}
	if m := oneYear.FindStringSubmatch(s); m != nil {
		if at, ok := halfYear(m[1], m[2]); ok {
			r.years, r.asYears = endAt(at, m[2], end), true
		}
	}
	if m := twoYears.FindStringSubmatch(s); m != nil && (end == closed || worded && m[3] != "/") {
		a, okA := halfYear(m[1], m[2])
		b, okB := halfYear(m[4], m[5])
		slashed := m[3] == "/" && len(m[1]) < len(m[4])
		if okA && okB && !slashed {
			r.years = YearRange{a, lastHalf(b, m[5])}
			r.asYears = r.years.From < r.years.To
			r.backward = !r.asYears
		}
	}
	if m := oneMonth.FindStringSubmatch(s); m != nil {
		if at, ok := monthIndex(m[1:6]); ok {
			r.asMonths = true
			switch end {
			case openStart:
				r.months = MonthRange{0, at + 1}
			case openEnd:
				r.months = MonthRange{at, 0}
			default:
				r.months = MonthRange{at, at + 1}
			}
		}
	}
	if m := twoMonths.FindStringSubmatch(s); m != nil && (end == closed || worded) {
		a, okA := monthIndex(m[1:6])
		b, okB := monthIndex(m[6:11])
		if okA && okB {
			r.months, r.asMonths, r.backward = MonthRange{a, b + 1}, a <= b, a > b
		}
	}
	return r
}

// pick settles what the text says, or why it cannot be settled.
func pick(r reading, built bool, sense PairSense) (ModelYears, *ParseError) {
	if r.asYears && r.asMonths && !built && sense == PairRefused {
		return ModelYears{}, ambiguous("could be a month and a year or two years", `write "built 2004-03" for a month of build, "2003-2004" for model years`)
	}
	switch {
	case r.asMonths && (built || !r.asYears || sense == PairMonthYear):
		return ModelYears{Built: r.months}, nil
	case r.asYears && !built:
		return ModelYears{Ranges: []YearRange{r.years}}, nil
	case r.backward:
		return ModelYears{}, unreadable("runs backwards", "write the earlier year first")
	case r.asYears:
		return ModelYears{}, unreadable("states a year of build without its month", `write "built from 2004-03", or leave "built" out for model years`)
	}
	return ModelYears{}, unreadable("does not read as years", `write them as "1992-2004", "from 1992" or "from 2004-03"`)
}

// endAt makes one stated year a stretch with the open end.
func endAt(at int32, half string, end ends) YearRange {
	switch end {
	case openStart:
		return YearRange{0, lastHalf(at, half)}
	case openEnd:
		return YearRange{at, 0}
	}
	if half == "5" {
		return YearRange{at, at + 1}
	}
	return YearRange{at, at + 2}
}

// lastHalf is the end of a stretch: "2004" takes in both halves, "2004.5" ends
// before the second half (common practice).
func lastHalf(at int32, half string) int32 {
	if half == "5" {
		return at
	}
	return at + 2
}

func halfYear(digits, half string) (int32, bool) {
	y, err := strconv.Atoi(digits)
	if len(digits) == 2 {
		y = fullYear(y)
	}
	at := int32(2 * y)
	if half == "5" {
		at++
	}
	return at, err == nil && y >= firstYear && y <= lastYear
}

func fullYear(two int) int {
	if two < pivot {
		return 2000 + two
	}
	return 1900 + two
}

// monthIndex takes the groups of monthForm: month, mark and year, or year and
// month. "3.04" is left alone, because a dot before two digits may be a half.
func monthIndex(g []string) (int32, bool) {
	year, month := g[2], g[0]
	if year == "" {
		year, month = g[3], g[4]
	}
	y, errY := strconv.Atoi(year)
	mo, errM := strconv.Atoi(month)
	if len(year) == 2 {
		if g[1] == "." {
			return 0, false
		}
		y = fullYear(y)
	}
	ok := errY == nil && errM == nil && mo >= 1 && mo <= 12 && y >= firstYear && y <= lastYear
	return int32(12*y + mo - 1), ok
}
