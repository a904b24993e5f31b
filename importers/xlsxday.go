package importers

import (
	"math"
	"time"
)

// The days of a workbook (ISO/IEC 29500-1, 18.17.4.1): day 61 of those counted
// from 1900 is 1900-03-01, and day 0 of those counted from 1904 is 1904-01-01. The
// last of either is 9999-12-31.
var (
	daysFrom1900 = time.Date(1899, time.December, 30, 0, 0, 0, 0, time.UTC)
	daysFrom1904 = time.Date(1904, time.January, 1, 0, 0, 0, 0, time.UTC)
	daysEnd      = time.Date(10000, time.January, 1, 0, 0, 0, 0, time.UTC).Unix()
)

const secondsOfDay = 24 * 60 * 60

// day writes a date, with the time of day, to the second, where there is one.
// Days before the first of March 1900 are told apart by no program alike: their
// number stays, as does one beyond the last day.
func (b *book) day(number string, v float64) string {
	const firstSure = 61
	if v < 1 {
		return number // a time of day
	}
	from := daysFrom1904
	if !b.from {
		if from = daysFrom1900; v < firstSure {
			return number
		}
	}
	if v >= float64((daysEnd-from.Unix())/secondsOfDay) {
		return number
	}
	whole, part := math.Modf(v)
	at := from.AddDate(0, 0, int(whole))
	if part == 0 {
		return at.Format("2006-01-02")
	}
	at = at.Add(time.Duration(math.Round(part*secondsOfDay)) * time.Second)
	return at.Format("2006-01-02 15:04:05")
}
