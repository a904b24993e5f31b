package units_test

import (
	"math"
	"math/big"
	"testing"

	"pgregory.net/rapid"

	"fitfill/catalog/units"
)

// Codes are those of ISO 4217; the notations are common practice of price lists.
func TestMoneyNotations(t *testing.T) {
	for _, c := range []struct{ text, dflt, want string }{
		{"12.50", "", "12.50"}, {"12.50", "EUR", "12.50 EUR"}, {"12,50 EUR", "", "12.50 EUR"}, {"€ 12,50", "USD", "12.50 EUR"}, {"12", "", "12.00"},
		{"EUR12.50", "", "12.50 EUR"}, {"12.50 eur", "", "12.50 EUR"}, {"$12.50", "", "12.50 USD"}, {"$12.50", "CAD", "12.50 CAD"}, {"$12.50", "EUR", "12.50 USD"},
		{"$12.50 CAD", "", "12.50 CAD"}, {"£3", "", "3.00 GBP"}, {"¥500", "JPY", "500.00 JPY"}, {"12.50-", "EUR", "-12.50 EUR"}, {"(12.50)", "", "-12.50"},
		{"(12.50 EUR)", "", "-12.50 EUR"}, {"EUR (12.50)", "", "-12.50 EUR"}, {"-£3", "", "-3.00 GBP"}, {"€ -3", "", "-3.00 EUR"}, {"12.50 CR", "", "-12.50"},
		{"12.50 SCR", "", "12.50 SCR"}, {"1.234,50 €", "", "1234.50 EUR"}, {"1,234.50", "", "1234.50"}, {"1 234,50", "", "1234.50"}, {"1 234", "", "1234.00"},
		{"1'234.50 CHF", "", "1234.50 CHF"}, {"1,234,567", "", "1234567.00"}, {"1,00,000.00 INR", "", "100000.00 INR"}, {"0,045", "EUR", "0.0450 EUR"},
		{"0.00453", "", "0.0045"}, {"1.2345", "", "1.2345"}, {"1234,567", "", "1234.5670"},
	} {
		m, err := units.ParseMoney(c.text, c.dflt)
		if err != nil || m.String() != c.want {
			t.Errorf("%q (%s): got %v, %v, want %s", c.text, c.dflt, m, err, c.want)
		}
	}
	for _, r := range []refusal{
		{"1.234", "", units.ErrAmbiguous, "1.234 or 1234"}, {"1,234", "", units.ErrAmbiguous, "1.234 or 1234"}, {"1,234 EUR", "", units.ErrAmbiguous, "decimal mark"},
		{"¥500", "", units.ErrAmbiguous, "JPY or CNY"}, {"12.50 ABC", "", units.ErrUnreadable, "ABC"}, {"12.50", "ABC", units.ErrUnreadable, "ABC"},
		{"€ 12.50 USD", "", units.ErrUnreadable, "two currencies"}, {"--12", "", units.ErrUnreadable, "two signs"}, {"", "", units.ErrUnreadable, "empty"},
		{"on request", "", units.ErrUnreadable, "no number"}, {"12.50 each", "", units.ErrUnreadable, "each"}, {"1e3", "", units.ErrUnreadable, "e3"},
		{"1,23,4", "", units.ErrUnreadable, "marks"}, {"1.23.456", "", units.ErrUnreadable, "marks"},
	} {
		_, err := units.ParseMoney(r.text, string(r.dflt))
		checkRefused(t, r, err)
	}
}

// An amount is printed in digits of its own; it is what the fraction rounds to at
// those places.
func TestAnAmountIsPrintedExactly(t *testing.T) {
	rapid.Check(t, func(r *rapid.T) {
		n := rapid.OneOf(rapid.Int64(), rapid.Int64Range(-20_000, 20_000), rapid.SampledFrom([]int64{0, math.MinInt64, math.MaxInt64})).Draw(r, "ten-thousandths")
		places := 4
		if n%100 == 0 {
			places = 2
		}
		if got, want := units.MoneyOf(n, "EUR").Exact(), big.NewRat(n, 1e4).FloatString(places)+" EUR"; got != want {
			r.Errorf("%d is printed %s, want %s", n, got, want)
		}
	})
}
