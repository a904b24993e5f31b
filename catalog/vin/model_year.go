package vin

import "strings"

// yearCodes are the characters of position 10 from 1980 on; they come round
// every thirty years (49 CFR 565.15 (d), table VII).
const yearCodes = "ABCDEFGHJKLMNPRSTVWXY123456789"

const (
	firstYear  = 1980
	yearPlace  = 10
	classPlace = 7 // tells the thirty years apart, for light vehicles
)

// modelYears returns the model years that the position-10 code can mean: two
// at most, none where the code is no year. Position 7 tells them apart for
// cars, multipurpose vehicles and trucks up to the weight of 49 CFR 565.15 (d)
// (1): a digit is the thirty years from 1980, a letter those from 2010.
// Heavier ones, buses, trailers and motorcycles keep both.
func modelYears(vin string, heavy bool) []int {
	at := strings.IndexByte(yearCodes, vin[yearPlace-1])
	if at < 0 {
		return nil
	}
	early, late := firstYear+at, firstYear+at+len(yearCodes)
	switch c := vin[classPlace-1]; {
	case heavy:
		return []int{early, late}
	case c >= '0' && c <= '9':
		return []int{early}
	}
	return []int{late}
}
