package fit

import (
	"iter"
	"math"
	"strconv"
	"strings"

	"fitfill/catalog"
	"fitfill/catalog/pattern"
	"fitfill/catalog/units"
)

// printed is a size as a sheet prints it.
type printed struct {
	tolerance span    // the size with the tolerance stated beside it, if any
	digit     float64 // half of what the last printed digit stands for
}

// span returns everything that the printed digits allow.
func (p printed) span() span { return p.tolerance.widen(p.digit) }

var (
	plusMinus    = pattern.New(`(?:±|\+\s*/\s*[-−–]|\+\s*[-−–])\s*(\d*[.,]?\d+)`).Needing("±+")
	plusAndMinus = pattern.New(`\+\s*(\d*[.,]?\d+)\s*/?\s*[-−–]?\s*(\d*[.,]?\d+)`).Needing("+")
	fractionText = pattern.New(`\d\s*[/⁄]\s*\d|[` + fractions + `]`).Needing("/⁄" + fractions)
)

const fractions = "¼½¾⅛⅜⅝⅞⅓⅔⅕⅖⅗⅘⅙⅚"

// printed reads what the printed digits of a length allow: "54" is 53.5 to
// 54.5 mm, "54.0" 53.95 to 54.05 mm, an inch fraction is good to 1/64 in
// either way, and a tolerance that stands beside the number replaces the half
// digit. The unit of the text is the one in which it gives the stated value. A
// size without text is taken with the digits of its value in millimetres.
func (t *Tables) printed(s catalog.Stated[units.Length]) printed {
	mm := s.Value.Millimetres()
	text, minus, plus, toleranced := statedTolerance(s.Text)
	unit, digit := lastDigit(text, mm)
	if fractionText.MatchString(text) {
		unit, digit = units.Inches(1).Millimetres(), t.limits.of(printedFraction)
	}
	if toleranced {
		return printed{around(mm, minus*unit, plus*unit), 0}
	}
	return printed{exactly(mm), digit}
}

// statedTolerance splits "53.6 ±0.1" and "54.0 +0.2/0" into the size and the
// tolerance beside it.
func statedTolerance(text string) (size string, minus, plus float64, ok bool) {
	if m := plusMinus.FindStringSubmatchIndex(text); m != nil {
		tol := decimal(text[m[2]:m[3]])
		return text[:m[0]], tol, tol, true
	}
	if m := plusAndMinus.FindStringSubmatchIndex(text); m != nil {
		return text[:m[0]], decimal(text[m[4]:m[5]]), decimal(text[m[2]:m[3]]), true
	}
	return text, 0, 0, false
}

// lastDigit finds the number in the text that gives mm in some unit, and
// returns that unit and half of the last digit, both in millimetres.
func lastDigit(text string, mm float64) (unit, half float64) {
	for m := range numbersIn(text) {
		v := decimal(m)
		for _, u := range []float64{1, units.Inches(1).Millimetres(), 10} {
			if near(v*u, mm) {
				return u, u * halfDigit(decimals(m))
			}
		}
	}
	return 1, halfDigit(decimals(strconv.FormatFloat(mm, 'f', -1, 64)))
}

// numbersIn yields the numbers of a text, with a decimal point or comma.
func numbersIn(text string) iter.Seq[string] {
	digits := func(at int) int {
		for at < len(text) && '0' <= text[at] && text[at] <= '9' {
			at++
		}
		return at
	}
	return func(yield func(string) bool) {
		for at := 0; at < len(text); at++ {
			end := digits(at)
			if end < len(text) && (text[end] == '.' || text[end] == ',') {
				if more := digits(end + 1); more > end+1 {
					end = more
				}
			}
			if end > at {
				if !yield(text[at:end]) {
					return
				}
				at = end - 1
			}
		}
	}
}

// firstNumber returns the first number of a text, empty where there is none.
func firstNumber(text string) string {
	for n := range numbersIn(text) {
		return n
	}
	return ""
}

func halfDigit(decimals int) float64 { return 0.5 * math.Pow10(-decimals) }

func decimals(number string) int {
	if i := strings.IndexAny(number, ".,"); i >= 0 {
		return len(number) - i - 1
	}
	return 0
}

// decimal reads digits with a decimal point or comma; what is above lets nothing
// else through.
func decimal(s string) float64 {
	v, _ := strconv.ParseFloat(strings.Replace(s, ",", ".", 1), 64)
	return v
}

// near allows for a value that was rounded to whole nanometres.
func near(a, b float64) bool { return math.Abs(a-b) < 1e-5 }
