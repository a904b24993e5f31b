package words

import "strings"

// GTINRight reports whether the last digit of a barcode number is its check
// digit: GS1 General Specifications, section 7.9: from the right, beside the
// check digit, weights 3 and 1 in turn; the sum and the check digit make a
// multiple of ten. It is false for anything but 8, 12, 13 or 14 digits.
func GTINRight(code string) bool {
	switch len(code) {
	case 8, 12, 13, 14:
	default:
		return false
	}
	if strings.Trim(code, "0123456789") != "" {
		return false
	}
	total, weight := 0, 1
	for i := len(code) - 1; i >= 0; i-- {
		total += weight * int(code[i]-'0')
		weight = 4 - weight
	}
	return total%10 == 0
}

// gtinLength reports whether a text has as many digits as a barcode number of
// cases and pieces; eight digits are as often a part number.
func gtinLength(code string) bool {
	return strings.Trim(code, "0123456789") == "" && len(code) >= 12 && len(code) <= 14
}
