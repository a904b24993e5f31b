package vin

// checkPlace is the position of the check digit, counted from 1.
const checkPlace = 9

// weights are the factors of positions 1 to 17 (49 CFR 565.15 (c), table IV).
// The check digit itself has none.
var weights = [Length]int{8, 7, 6, 5, 4, 3, 2, 10, 0, 9, 8, 7, 6, 5, 4, 3, 2}

// letterValues are the numbers that stand in for letters, from A on (49 CFR
// 565.15 (c), table III); 0 marks I, O and Q, which no VIN holds.
var letterValues = [26]int{1, 2, 3, 4, 5, 6, 7, 8, 0, 1, 2, 3, 4, 5, 0, 7, 0, 9, 2, 3, 4, 5, 6, 7, 8, 9}

// allowed reports whether a VIN may hold the character: A to Z without I, O
// and Q, and 0 to 9 (ISO 3779; 49 CFR 565.13 (g)).
func allowed(c byte) bool {
	return c >= '0' && c <= '9' || c >= 'A' && c <= 'Z' && letterValues[c-'A'] > 0
}

// sum adds up value times weight over all positions. Characters that no VIN
// holds count nothing.
func sum(vin string) int {
	total := 0
	for i := range min(len(vin), Length) {
		c := vin[i]
		switch {
		case c >= '0' && c <= '9':
			total += weights[i] * int(c-'0')
		case c >= 'A' && c <= 'Z':
			total += weights[i] * letterValues[c-'A']
		}
	}
	return total
}

// checkDigit returns the character that belongs at position 9: the sum modulo
// 11, X for ten (49 CFR 565.15 (c) (4)).
func checkDigit(vin string) byte {
	if r := sum(vin) % 11; r < 10 {
		return byte('0' + r)
	}
	return 'X'
}

// sound reports whether a text is seventeen allowed characters with the right
// check digit.
func sound(vin string) bool {
	if len(vin) != Length {
		return false
	}
	for i := range len(vin) {
		if !allowed(vin[i]) {
			return false
		}
	}
	return vin[checkPlace-1] == checkDigit(vin)
}
