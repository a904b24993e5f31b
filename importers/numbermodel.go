package importers

import (
	"strconv"
	"strings"

	"fitfill/catalog"
	"fitfill/catalog/pattern"
)

// numberModel is what the part numbers of one sheet look like as a whole, in a
// few counters: damage shows against it.
type numberModel struct {
	limits   limits
	known    func(key string) bool
	all      int
	plainE   int // 12E3
	five     int // 45933
	dateable int // 3-10, which spreadsheets take for a day
	dated    int // 3-Oct, what they make of it
	digits   int
	length   [maxWord + 1]int // of numbers of digits alone
	zeroLed  [maxWord + 1]int // those that start with a zero
	usual    int              // the length that most of them have, with zeros in front of some; 0 if there is none
}

var dateable = pattern.New(`^\d{1,2}[-/.]\d{1,2}([-/.]\d{2,4})?$`)

// add counts one number of the sheet.
func (m *numberModel) add(v *vocabulary, cell string) {
	if cell == "" || len(cell) > maxWord {
		return
	}
	m.all++
	s := shapeOf(cell)
	switch {
	case s.digits == len(cell):
		m.digits++
		m.length[len(cell)]++
		if cell[0] == '0' {
			m.zeroLed[len(cell)]++
		}
		if s.serial() {
			m.five++
		}
	case s.exponent && plainE.MatchString(cell):
		m.plainE++
	case s.plain == s.digits && s.digits <= 8 && dateable.MatchString(cell):
		m.dateable++
	case s.month && (v.namesMonth(dayMonth, cell) || v.namesMonth(monthYear, cell)):
		m.dated++
	}
}

// merge adds the counts of another stretch of the sheet.
func (m *numberModel) merge(o *numberModel) {
	m.all += o.all
	m.plainE += o.plainE
	m.five += o.five
	m.dateable += o.dateable
	m.dated += o.dated
	m.digits += o.digits
	for i := range m.length {
		m.length[i] += o.length[i]
		m.zeroLed[i] += o.zeroLed[i]
	}
}

// close finds the usual length.
func (m *numberModel) close() {
	for length, n := range m.length {
		if m.digits > 1 && m.zeroLed[length] > 0 && share(n, m.digits) >= m.limits.get("number_length_share") {
			m.usual = length
		}
	}
}

func (m *numberModel) isKnown(number string) bool {
	return m != nil && m.known != nil && m.known(catalog.Key(number))
}

// strangeExponent reports whether a number such as 12E3, which can be real, is
// the only one of its kind and not on file.
func (m *numberModel) strangeExponent(cell string) bool {
	return m != nil && m.plainE < m.limits.count("number_exponent_alike") && !m.isKnown(cell)
}

// strangeSerial reports whether five digits are the day number of a date among
// numbers that spreadsheets take for dates.
func (m *numberModel) strangeSerial(v *vocabulary, cell string) bool {
	if m == nil || m.dateable+m.dated == 0 || m.isKnown(cell) {
		return false
	}
	n, err := strconv.Atoi(cell)
	if err != nil || n < v.limits.count("serial_first") || n > v.limits.count("serial_last") {
		return false
	}
	return m.five == 1 || share(m.five, m.all) < m.limits.get("number_serial_share")
}

// lostZeros returns the number with the zeros that it seems to have lost: a
// number on file that it is without them, or the length of the sheet's others.
func (m *numberModel) lostZeros(cell string) string {
	if m == nil || cell[0] == '0' || m.isKnown(cell) {
		return ""
	}
	if m.known != nil {
		full := cell
		for len(full) < maxZeros {
			if full = "0" + full; m.known(full) {
				return full
			}
		}
	}
	if m.usual > len(cell) {
		return strings.Repeat("0", m.usual-len(cell)) + cell
	}
	return ""
}

// maxZeros is the length up to which zeros are tried.
const maxZeros = 18
