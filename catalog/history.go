package catalog

import (
	"fmt"
	"time"

	"fitfill/catalog/units"
)

// Date is a calendar day, counted from 1970-01-01. The zero Date is that day:
// use Stated[Date] where a date may be missing.
type Date int32

// DateOf returns the day of year y, month m, day d.
func DateOf(y, m, d int) Date {
	return Date(time.Date(y, time.Month(m), d, 0, 0, 0, 0, time.UTC).Unix() / 86400)
}

// ParseDate reads YYYY-MM-DD.
func ParseDate(s string) (Date, error) {
	t, err := time.Parse(time.DateOnly, s)
	if err != nil {
		return 0, fmt.Errorf("%q is not a date: write it as YYYY-MM-DD", s)
	}
	return Date(t.Unix() / 86400), nil
}

// String returns YYYY-MM-DD.
func (d Date) String() string {
	return time.Unix(int64(d)*86400, 0).UTC().Format(time.DateOnly)
}

// Count is a number of pieces in thousandths, so that 2.5 stays exact.
type Count struct{ e3 int64 }

// CountOf builds a count from thousandths of a piece.
func CountOf(thousandths int64) Count { return Count{thousandths} }

// Thousandths returns the stored number.
func (c Count) Thousandths() int64 { return c.e3 }

// Float returns the number of pieces.
func (c Count) Float() float64 { return float64(c.e3) / 1000 }

// Vehicle is a car or machine that the shop knows by its own mark or plate.
type Vehicle struct {
	Mark      string
	VIN       string
	Engine    string
	FirstFill string // chemistry or colour of the first fill, "factory" if untouched
	Origin    Origin
}

// Purchase is one line of goods bought from a supplier.
type Purchase struct {
	Date      Date
	Supplier  string
	Number    string
	Type      string
	Quantity  Count
	UnitPrice Stated[units.Money]
	Document  string
	Vehicle   string
	Origin    Origin
}

// Return is one line of goods that came back.
type Return struct {
	Date         Date
	Supplier     string
	Number       string
	Quantity     Count
	Reason       string // as written
	PurchaseDate Stated[Date]
	FittedDate   Stated[Date]
	Document     string
	Note         string
	Origin       Origin

	// What only the garage's own log says of it.
	Vehicle  string
	Bath     string // BathOK or BathFaulty: what a test of the part said, empty if there was none
	Followed Told   // whether the part was fitted as it was told that day
}

// What a part that came back did when it was tested.
const (
	BathOK     = "ok"
	BathFaulty = "faulty"
)

// Told is whether a part was fitted as this program had answered. The zero Told
// is not known.
type Told byte

// The ways.
const (
	ToldNothing Told = iota // nothing on record about it
	ToldFits                // the answer was that it fits, or should
	ToldNot                 // the answer was that it does not, or that nobody can say
)

// Fill is what went into a cooling circuit of a vehicle on one day.
type Fill struct {
	Date      Date
	Vehicle   string
	Engine    string
	Circuit   string
	Number    string
	Chemistry string
	Colour    string
	Strength  Stated[units.Percent]
	Volume    Stated[units.Volume]
	Drained   Stated[units.Volume]
	Note      string
	Origin    Origin
}

// Fitted is a part that was put into a vehicle.
type Fitted struct {
	Date     Date
	Vehicle  string
	Number   string
	Supplier string
	Measured string
	Origin   Origin
}
