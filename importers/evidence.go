package importers

import (
	"strings"

	"fitfill/catalog"
	"fitfill/catalog/pattern"
	"fitfill/catalog/units"
)

// evidence is what the values of one column show about how they are read.
type evidence struct {
	filled  int
	samples []string

	comma, point         int // values that only that decimal mark explains
	loneComma, lonePoint int // those of them that show no thousands
	unclear              int // values such as 1.234, which have two readings
	unclearText          string

	dmy, mdy, anyOrder int
	orderText          string

	bare, withUnit int

	shares, parts int // bare shares above 1 and of 1 or less
	shareText     string

	arrows, pairs       int // years such as ">92" and "03/04"
	arrowText, pairText string
	pairMonths          int // pairs that can only be a month and a year
	pairYears           int

	fractions    int // numbers of pieces that are not whole
	fractionText string

	engineLists int // cells that seem to list several engines
	engineText  string

	below     int // numbers of pieces below zero
	belowText string

	pointZero int // part numbers that end in ".0"
	prices    medianSample
}

func (e *evidence) sample(cell string) {
	if r := []rune(cell); len(r) > 30 {
		cell = string(r[:30]) + "…"
	}
	for _, s := range e.samples {
		if s == cell {
			return
		}
	}
	e.samples = append(e.samples, strings.Clone(cell))
}

func (e *evidence) examples() string {
	return strings.Join(e.samples, " | ")
}

// value notes a value of a column of that field.
func (e *evidence) value(f field, cell string) {
	switch {
	case f.name == "number":
		if strings.HasSuffix(cell, ".0") && pointZero.MatchString(cell) {
			e.pointZero++
		}
	case f.name == "engine":
		if len(enginesIn(cell)) > 1 {
			if e.engineLists++; e.engineText == "" {
				e.engineText = strings.Clone(cell)
			}
		}
	case f.kind == catalog.KindDate:
		e.date(cell)
	case f.kind == catalog.KindYears:
		e.years(cell)
	case f.kind == catalog.KindText || f.kind == catalog.KindBool:
	default:
		e.number(f.kind, cell)
	}
}

var (
	pointZero = pattern.New(`^\d+\.0$`)
	yearPair  = pattern.New(`^(\d{2}|\d{4})[/-](\d{2})$`)
)

func (e *evidence) number(kind catalog.Kind, cell string) {
	strict := kind == catalog.KindMoney || kind == catalog.KindCount
	if kind == catalog.KindCount && strings.HasPrefix(signed(cell), "-") {
		if e.below++; e.belowText == "" {
			e.belowText = strings.Clone(cell)
		}
	}
	for rest := cell; ; {
		var number string
		if number, rest = nextNumber(rest); number == "" {
			break
		}
		if kind == catalog.KindCount && notWhole(number) {
			if e.fractions++; e.fractionText == "" {
				e.fractionText = strings.Clone(cell)
			}
		}
		switch m := marksOf(number, strict); m.vote() {
		case commaDecimal:
			if e.comma++; m&lone != 0 {
				e.loneComma++
			}
		case pointDecimal:
			if e.point++; m&lone != 0 {
				e.lonePoint++
			}
		case unclearMark:
			if e.unclear++; e.unclearText == "" {
				e.unclearText = strings.Clone(cell)
			}
		}
	}
	switch {
	case strings.ContainsFunc(cell, isUnitSign):
		e.withUnit++
	case kind == catalog.KindPercent:
		e.bare++
		e.share(cell)
	default:
		e.bare++
	}
	if kind == catalog.KindMoney {
		e.prices.add(cell)
	}
}

// notWhole reports whether a number has one mark and other digits than zero behind
// it, and no thousands.
func notWhole(number string) bool {
	m := marksOf(number, true)
	i := strings.LastIndexAny(number, ".,")
	return m&lone != 0 && strings.Trim(number[i+1:], "0") != ""
}

func (e *evidence) share(cell string) {
	number, rest := nextNumber(cell)
	if rest != "" || len(number) != len(cell) {
		return
	}
	switch n, ok := scaled(strings.Replace(number, ",", ".", 1), 6); {
	case !ok:
	case n > 1_000_000:
		e.shares++
	case n > 0:
		if e.parts++; e.shareText == "" {
			e.shareText = strings.Clone(cell)
		}
	}
}

// years notes arrows and pairs. A pair can be two years or a month and a year;
// a value that only one of the readings explains speaks for its column.
func (e *evidence) years(cell string) {
	if strings.ContainsAny(cell, "<>→←") && !arrowBetween.MatchString(cell) {
		if e.arrows++; e.arrowText == "" {
			e.arrowText = strings.Clone(cell)
		}
	}
	if len(cell) != len("03/04") && len(cell) != len("1999-04") || !yearPair.MatchString(cell) {
		return
	}
	month, monthErr := units.ParseModelYearsWith(cell, units.YearOptions{Pair: units.PairMonthYear})
	years, yearsErr := units.ParseModelYearsWith(cell, units.YearOptions{Pair: units.PairYears})
	asMonth, asYears := monthErr == nil && !month.Built.Open(), yearsErr == nil && len(years.Ranges) > 0
	switch {
	case asMonth && asYears:
		if e.pairs++; e.pairText == "" {
			e.pairText = strings.Clone(cell)
		}
	case asMonth:
		e.pairMonths++
	case asYears:
		e.pairYears++
	}
}

var arrowBetween = pattern.New(`\d\s*>\s*\d`)

func hasDigit(s string) bool {
	for i := range len(s) {
		if s[i] >= '0' && s[i] <= '9' {
			return true
		}
	}
	return false
}

func onlyDigits(s string) bool {
	for i := range len(s) {
		if s[i] < '0' || s[i] > '9' {
			return false
		}
	}
	return true
}

// isUnitSign reports whether the character says that a unit stands with a
// number: any letter, a degree or inch sign, a percent sign.
func isUnitSign(r rune) bool {
	return r >= 'a' && r <= 'z' || r >= 'A' && r <= 'Z' || strings.ContainsRune(`"″'′%°℃℉`, r)
}
