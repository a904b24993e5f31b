package returns

// Status is what became of a row. Every row has exactly one.
type Status string

// The statuses.
const (
	Used     Status = "used"
	Flagged  Status = "used with flag"
	SetAside Status = "set aside"
)

// Code names why a row was flagged or set aside.
type Code string

// The codes.
const (
	KeyFolded            Code = "key-folded"
	Duplicate            Code = "duplicate"
	PossibleDuplicate    Code = "possible-duplicate"
	ZeroQuantity         Code = "zero-quantity"
	FractionalQuantity   Code = "fractional-quantity"
	FutureDate           Code = "future-date"
	AfterAsOf            Code = "after-as-of"
	CoreLine             Code = "core"
	PartTypeMissing      Code = "part-type-missing"
	DelayedEntry         Code = "delayed-entry"
	BeforeRecording      Code = "before-recording"
	CreditNetted         Code = "credit-note-netted"
	CreditOfReturn       Code = "credit-note-of-return"
	OrphanCredit         Code = "orphan-credit"
	ReturnReversed       Code = "return-reversed"
	OrphanReversal       Code = "orphan-reversal"
	SplitOverLots        Code = "split-over-lots"
	LinkDisagrees        Code = "link-disagrees"
	ToleratedDate        Code = "return-before-sale-within-tolerance"
	TimeSetToZero        Code = "time-set-to-0"
	OutOfWarranty        Code = "out-of-warranty"
	NeutralReason        Code = "neutral"
	SupplyErrorReason    Code = "supply-error"
	ReasonUnknown        Code = "reason-unknown"
	NotConfirmedReason   Code = "not-confirmed"
	ReturnBeforeSale     Code = "return-before-sale"
	MoreReturnsThanSales Code = "more-returns-than-sales"
	SoldByOther          Code = "sold-by-other-supplier"
	NeverSold            Code = "no-sale-on-file"
	SaleBeforeDataStart  Code = "sale-before-data-start"
)

var says = map[Code]string{
	KeyFolded:            "The supplier or part number is spelled differently elsewhere; both spellings were taken as one.",
	Duplicate:            "The same line of the same document is on file already; this copy was not counted.",
	PossibleDuplicate:    "Another row is identical and no line number tells them apart; both were counted. Remove one if it is a copy.",
	ZeroQuantity:         "The quantity is zero, so there is nothing to count.",
	FractionalQuantity:   "The quantity is no whole number, or this part is sold by measure; the line was counted as one piece.",
	FutureDate:           "The date lies after the last day that both sales and returns cover; the row waits until that day moves.",
	AfterAsOf:            "It came back after the last day that both sales and returns cover; the row waits until that day moves.",
	CoreLine:             "Cores and deposits are not goods that failed; they are left out.",
	PartTypeMissing:      "No part type is given; the part is compared among unclassified parts only. Add its type to the catalogue.",
	DelayedEntry:         "It was sold before returns were recorded, so it is watched only from the first recorded day on.",
	BeforeRecording:      "It came back at an age that was not yet recorded for this sale, so it is not counted.",
	CreditNetted:         "A credit note was taken off the latest earlier sale of the part that was large enough.",
	CreditOfReturn:       "This credit note is the money side of a return; nothing was taken off the sale.",
	OrphanCredit:         "No earlier sale of this part is large enough for this credit note; look for the missing sale.",
	ReturnReversed:       "A later row took this return back, in full or in part.",
	OrphanReversal:       "It takes back a return, but no earlier return of this part is large enough; look for the missing return.",
	SplitOverLots:        "The pieces came from several sales.",
	LinkDisagrees:        "The sale it names is of another supplier or part, so the link was not used. Check the number.",
	ToleratedDate:        "It is dated a few days before its sale; it was counted as back on the day of sale.",
	TimeSetToZero:        "Dead on arrival: counted as failed on the day of sale, whatever the date of the return.",
	OutOfWarranty:        "It came back after the supplier's warranty; it is listed but not counted.",
	NeutralReason:        "Not the part's fault; the piece simply leaves the count on that day.",
	SupplyErrorReason:    "Counted as a mistake of the supplier, not as a failed part.",
	ReasonUnknown:        "No reason is given or it is not in your table of reasons; counted only in the upper bound.",
	NotConfirmedReason:   "Returned as faulty, but a test found it sound; counted apart and not as a failed part.",
	ReturnBeforeSale:     "It came back before the part was first sold; counted only in the upper bound. Check both dates.",
	MoreReturnsThanSales: "More came back than was sold; the excess counts only in the upper bound. Look for the missing sale.",
	SoldByOther:          "Only another supplier sold this part; counted only in the upper bound. Check the supplier's name.",
	NeverSold:            "No sale of this part is on file; counted only in the upper bound. Check the part number.",
	SaleBeforeDataStart:  "It was probably sold before the sales on file begin, so it is not counted at all.",
}

// Says returns the code as a sentence for the user.
func (c Code) Says() string { return says[c] }

// Rule is how a return found its sale.
type Rule string

// The rules, strongest first.
const (
	BySaleID     Rule = "sale id or document line"
	ByDocument   Rule = "same document or job"
	ByBoughtDay  Rule = "stated day of purchase"
	ByOldestSale Rule = "oldest open sale"
)

// Allocation is the pieces of a return that came from one sale.
type Allocation struct {
	Sale   int // index into Books.Sales
	Pieces int
	Days   int // from sale to return, as counted
	Rule   Rule
}

// Fate is what became of one row.
type Fate struct {
	Ref       int
	Supplier  int // index into Ledger.Suppliers
	PartType  int // index into Ledger.PartTypes
	Status    Status
	Codes     []Code       // in the order they were found
	Sales     []Allocation // of a return
	Unmatched int          // pieces of a return that found no sale
}

func (f *Fate) flag(c Code) {
	for _, have := range f.Codes {
		if have == c {
			return
		}
	}
	f.Codes = append(f.Codes, c)
	if f.Status == Used {
		f.Status = Flagged
	}
}

func (f *Fate) setAside(c Code) {
	f.flag(c)
	f.Status = SetAside
}

// Has reports whether the row carries the code.
func (f Fate) Has(c Code) bool {
	for _, have := range f.Codes {
		if have == c {
			return true
		}
	}
	return false
}
