package returns

import "fitfill/catalog"

// Class is what a reason for a return comes to. The zero Class is unknown: a
// blank or unmapped reason is never guessed.
type Class uint8

// The classes.
const (
	UnknownReason  Class = iota
	QualityFailure       // leaked, failed in service, damaged inside the box
	DeadOnArrival        // a quality failure of day 0, whatever the paper's date
	SupplyError          // wrong part supplied, short, carton damaged on the way
	Neutral              // ordered wrong, customer changed mind, stock clear-out
	Core                 // an old part or deposit going back: no return at all
	NotConfirmed         // returned as faulty, and a test found it sound
)

// quality reports whether the class counts against the part.
func (c Class) quality() bool { return c == QualityFailure || c == DeadOnArrival }

// Sale is one line of goods sold or, where a garage records only those, bought.
type Sale struct {
	Ref          int    // the caller's mark for the row; must differ between sales
	Import       int    // the caller's mark for the sheet it came from
	Supplier     string // as written
	Part         string // part number as written
	PartType     string // empty: compared among the unclassified only
	Day          catalog.Date
	Quantity     catalog.Count // negative on a credit note
	ID           string        // sale id, if the shop keeps one
	Document     string        // invoice or delivery note
	DocumentLine string        // line on that document
	Job          string        // job or vehicle the pieces went to
}

// Return is one line of goods that came back.
type Return struct {
	Ref          int
	Import       int
	Supplier     string
	Part         string
	Day          catalog.Date
	Quantity     catalog.Count // negative: takes an earlier return back
	Class        Class
	SaleID       string // ID of the sale it belongs to
	Document     string // invoice it was sold on
	DocumentLine string
	Job          string
	Bought       catalog.Stated[catalog.Date]
}

// Books are the rows to be matched.
type Books struct {
	Sales      []Sale
	Returns    []Return
	Warranties []Warranty
	// AsOf is the last day covered by sales and by returns: see AsOf.
	AsOf catalog.Date
	// SalesFrom is the first day covered by the sales; not stated, the day of
	// the first sale.
	SalesFrom catalog.Stated[catalog.Date]
	// ReturnsFrom is the first day on which returns were recorded; not stated,
	// they always were.
	ReturnsFrom catalog.Stated[catalog.Date]
	// LastInFirstOut hands returns without a link to the youngest open sale
	// instead of the oldest: a check how much hangs on that choice.
	LastInFirstOut bool
}

// AsOf returns the earlier of the last sale day and the last return day: the
// day up to which both are known. It is never today, since a stale list of
// returns would make every recent part look sound. With no sale or no return
// it cannot be told; the user has to state it.
func AsOf(sales []Sale, back []Return) (catalog.Date, bool) {
	if len(sales) == 0 || len(back) == 0 {
		return 0, false
	}
	lastSale, lastReturn := sales[0].Day, back[0].Day
	for _, s := range sales {
		lastSale = max(lastSale, s.Day)
	}
	for _, r := range back {
		lastReturn = max(lastReturn, r.Day)
	}
	return min(lastSale, lastReturn), true
}
