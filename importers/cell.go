package importers

import (
	"fmt"
	"math"
	"strconv"
	"strings"

	"fitfill/catalog"
)

// The cell types of the import structs accept canonical text and nothing else:
// the mapper has already read the sheet's own way of writing. An empty cell is
// "not stated".

// stating is what every cell type can say: the whole number and the word of a
// catalog.Fact, and whether the cell states anything.
type stating interface {
	fact() (n int64, word string, known bool)
	take(from stating) // copies a cell of the same type
	UnmarshalCSV(cell string) error
}

// word is any text.
type word struct{ text string }

// UnmarshalCSV takes the text as it is.
func (w *word) UnmarshalCSV(s string) error { w.text = s; return nil }

func (w *word) take(from stating) { *w = *from.(*word) }

func (w *word) fact() (int64, string, bool) { return 0, w.text, w.text != "" }

// optional is a whole number or nothing in eight bytes: zero is nothing, and
// numbers from zero up are kept one higher.
type optional int64

func some(n int64) optional {
	if n >= 0 {
		n++
	}
	return optional(n)
}

func (o optional) value() (n int64, known bool) {
	if o > 0 {
		return int64(o) - 1, true
	}
	return int64(o), o != 0
}

// whole is a whole number of base units.
type whole struct{ opt optional }

// UnmarshalCSV accepts digits with an optional minus sign.
func (w *whole) UnmarshalCSV(s string) error {
	*w = whole{}
	if s == "" {
		return nil
	}
	n, ok := digitsOf(s)
	if !ok {
		return fmt.Errorf("%q is not a whole number", s)
	}
	w.opt = some(n)
	return nil
}

// digitsOf reads digits with an optional minus sign, most of which are few.
func digitsOf(s string) (n int64, ok bool) {
	if len(s) > 0 && len(s) <= fewDigits && onlyDigits(s) {
		for i := range len(s) {
			n = n*10 + int64(s[i]-'0')
		}
		return n, true
	}
	n, err := strconv.ParseInt(s, 10, 64)
	return n, err == nil && s[0] != '+' && n != math.MaxInt64
}

// fewDigits always fit.
const fewDigits = 18

func (w *whole) take(from stating) { *w = *from.(*whole) }

func (w *whole) fact() (int64, string, bool) {
	n, known := w.opt.value()
	return n, "", known
}

func (w *whole) number() int64 {
	n, _ := w.opt.value()
	return n
}

func (w *whole) known() bool { return w.opt != 0 }

// flag is 1 for yes and 0 for no.
type flag struct{ yes, known bool }

// UnmarshalCSV accepts 0 and 1.
func (f *flag) UnmarshalCSV(s string) error {
	switch s {
	case "", "0", "1":
		*f = flag{s == "1", s != ""}
		return nil
	}
	return fmt.Errorf("%q is neither 0 nor 1", s)
}

func (f *flag) take(from stating) { *f = *from.(*flag) }

func (f *flag) fact() (int64, string, bool) {
	if f.yes {
		return 1, "", f.known
	}
	return 0, "", f.known
}

// day is a date.
type day struct{ opt optional }

// UnmarshalCSV accepts YYYY-MM-DD.
func (d *day) UnmarshalCSV(s string) error {
	*d = day{}
	if s == "" {
		return nil
	}
	date, err := catalog.ParseDate(s)
	if err != nil {
		return err
	}
	d.opt = some(int64(date))
	return nil
}

func (d *day) take(from stating) { *d = *from.(*day) }

func (d *day) fact() (int64, string, bool) {
	n, known := d.opt.value()
	return n, "", known
}

func (d *day) date() catalog.Date {
	n, _ := d.opt.value()
	return catalog.Date(n)
}

func (d *day) known() bool { return d.opt != 0 }

// money is an amount in ten-thousandths and its currency.
type money struct {
	opt  optional
	code [3]byte // zero where no currency was stated
}

// UnmarshalCSV accepts a whole number of ten-thousandths, alone or with a
// currency of three capital letters behind one space.
func (m *money) UnmarshalCSV(s string) error {
	*m = money{}
	if s == "" {
		return nil
	}
	amount, currency, two := strings.Cut(s, " ")
	n, ok := digitsOf(amount)
	if !ok || two && !threeCapitals(currency) {
		return fmt.Errorf("%q is not a canonical amount", s)
	}
	m.opt = some(n)
	copy(m.code[:], currency)
	return nil
}

// threeCapitals is isCurrencyCode for every row of a sheet.
func threeCapitals(s string) bool {
	return len(s) == 3 && s[0]-'A' < 26 && s[1]-'A' < 26 && s[2]-'A' < 26
}

func (m *money) take(from stating) { *m = *from.(*money) }

func (m *money) fact() (int64, string, bool) {
	n, known := m.opt.value()
	return n, currencyName(m.code), known
}

// currencyName returns the code as a text without making a new one for the
// usual currencies.
func currencyName(code [3]byte) string {
	switch code {
	case [3]byte{}:
		return ""
	case [3]byte{'E', 'U', 'R'}:
		return "EUR"
	case [3]byte{'U', 'S', 'D'}:
		return "USD"
	case [3]byte{'G', 'B', 'P'}:
		return "GBP"
	}
	return string(code[:])
}
