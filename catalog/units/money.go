package units

import (
	"strconv"
	"strings"

	"fitfill/catalog/pattern"
)

var (
	inBrackets = pattern.New(`^\((.*)\)$`)
	credit     = pattern.New(`(?:^|[^A-Za-z])CR$`)
)

// Money is an amount in one currency, held in ten-thousandths of the unit
// (sheets state prices per piece out of packs of a thousand). Currency is an
// ISO 4217 code, empty where none was stated.
type Money struct {
	e4       int64
	currency string
}

// MoneyOf builds an amount from ten-thousandths of the currency unit.
func MoneyOf(e4 int64, currency string) Money { return Money{e4, currency} }

// TenThousandths returns the stored whole number of 0.0001 currency units.
func (m Money) TenThousandths() int64 { return m.e4 }

// Units returns the amount in currency units.
func (m Money) Units() float64 { return float64(m.e4) / 1e4 }

// Currency returns the ISO 4217 code, empty where none was stated.
func (m Money) Currency() string { return m.currency }

// prices has one nameless unit, the currency's own.
var prices = &dimension{quantity: "price", scales: map[Unit]*scale{"": times("1e4", 2, 4)}}

// ParseMoney reads an amount: "12.50", "12,50 EUR", "€ 12,50", "$1,234.50",
// "12.50-", "(12.50)". The currency is an ISO 4217 code or a sign; without one
// the amount takes dfltCurrency, which may be empty. "$" and "¥" belong to
// several currencies: they take dfltCurrency where that is one of them, "$" is
// USD otherwise and "¥" is refused. A lone mark before exactly three digits is
// refused (ErrAmbiguous), be it a dot or a comma. Rounded to 0.0001.
func ParseMoney(text, dfltCurrency string) (Money, error) {
	m, perr := readMoney(clean(text), dfltCurrency)
	if perr != nil {
		return Money{}, perr.of("price", text)
	}
	return m, nil
}

func readMoney(s, dflt string) (Money, *ParseError) {
	switch {
	case s == "":
		return Money{}, unreadable("is empty", "write an amount")
	case len(s) > maxText:
		return Money{}, unreadable("is too long for a price", "write only the amount and its currency")
	}
	mark, neg := "", false
	for range 3 { // a sign, a currency and a bracket may each stand outside the others
		var perr *ParseError
		s, neg = moneyMinus(s, neg)
		if s, mark, perr = takeCurrency(s, mark); perr != nil {
			return Money{}, perr
		}
	}
	code, perr := settleCurrency(mark, dflt)
	if perr != nil {
		return Money{}, perr
	}
	n, rest, perr := scanNumeral(s, false, true)
	switch {
	case perr != nil:
		return Money{}, perr
	case rest != "":
		return Money{}, unreadable(`has "`+rest+`" behind the amount`, "write one amount and its currency")
	case n.val.Sign() < 0 || strings.HasPrefix(s, "+") && neg:
		return Money{}, unreadable("has two signs", "write the sign once")
	}
	e4, ok := prices.base(n.val, "")
	if perr := prices.check(e4, ok); perr != nil {
		return Money{}, perr
	}
	if neg {
		e4 = -e4
	}
	return Money{e4, code}, nil
}

// moneyMinus takes off one sign: a minus in front or behind, brackets, or CR
// for a credit note. A second sign stays, and is then refused as a number.
func moneyMinus(s string, neg bool) (string, bool) {
	s = strings.Trim(s, " ")
	if neg {
		return s, true
	}
	if m := inBrackets.FindStringSubmatch(s); m != nil {
		return strings.Trim(m[1], " "), true
	}
	if credit.MatchString(s) {
		return strings.Trim(strings.TrimSuffix(s, "CR"), " "), true
	}
	if t, ok := strings.CutSuffix(s, "-"); ok {
		return strings.Trim(t, " "), true
	}
	if t, ok := strings.CutPrefix(s, "-"); ok {
		return strings.Trim(t, " "), true
	}
	return s, false
}

// Exact prints m with two decimals, or with four where two do not hold it:
// "12.50 EUR", "0.0450 EUR" (three would read as thousands). ParseMoney reads it
// back as m.
func (m Money) Exact() string {
	n := uint64(m.e4)
	text := make([]byte, 0, 32)
	if m.e4 < 0 {
		n, text = -n, append(text, '-')
	}
	text = append(strconv.AppendUint(text, n/1e4, 10), '.')
	part, digit := n%1e4, uint64(1e3)
	for range 2 {
		text, part, digit = append(text, '0'+byte(part/digit)), part%digit, digit/10
	}
	if part != 0 {
		text = append(text, '0'+byte(part/10), '0'+byte(part%10))
	}
	if m.currency != "" {
		text = append(append(text, ' '), m.currency...)
	}
	return string(text)
}

// String is Exact.
func (m Money) String() string { return m.Exact() }

// Times returns n pieces' worth of m.
func (m Money) Times(n int64) Money { return Money{m.e4 * n, m.currency} }

// Scale returns m times f, rounded to 0.0001 of the currency unit.
func (m Money) Scale(f float64) Money { return Money{round(float64(m.e4) * f), m.currency} }

// Plus adds two amounts. It reports false where their currencies differ.
func (m Money) Plus(n Money) (Money, bool) {
	if m.currency != n.currency {
		return Money{}, false
	}
	return Money{m.e4 + n.e4, m.currency}, true
}

// Rounded returns m rounded to 0.01 of the currency unit: a computed amount
// tells no more than a price tag does.
func (m Money) Rounded() Money { return Money{round(float64(m.e4)/100) * 100, m.currency} }
