package returns

import "math/bits"

// Code names why a row was flagged or set aside.
type Code uint8

// The codes, in the order in which matching comes upon them.
const (
	KeyFolded Code = iota
	PartTypeMissing
	ZeroQuantity
	CoreLine
	PossibleDuplicate
	Duplicate
	FutureDate
	AfterAsOf
	CreditOfReturn
	CreditNetted
	OrphanCredit
	ReturnReversed
	OrphanReversal
	FractionalQuantity
	DelayedEntry
	LinkDisagrees
	ToleratedDate
	TimeSetToZero
	NeutralReason
	SupplyErrorReason
	ReasonUnknown
	NotConfirmedReason
	OutOfWarranty
	BeforeRecording
	SplitOverLots
	SaleBeforeDataStart
	MoreReturnsThanSales
	SoldByOther
	ReturnBeforeSale
	NeverSold

	numCodes = iota
)

// codes are the names of the codes and what each tells the user.
var codes = [numCodes]struct{ name, says string }{
	KeyFolded:            {"key-folded", "The supplier or part number is spelled differently elsewhere; both spellings were taken as one."},
	PartTypeMissing:      {"part-type-missing", "No part type is given; the part is compared among unclassified parts only. Add its type to the catalogue."},
	ZeroQuantity:         {"zero-quantity", "The quantity is zero, so there is nothing to count."},
	CoreLine:             {"core", "Cores and deposits are not goods that failed; they are left out."},
	PossibleDuplicate:    {"possible-duplicate", "Another row is identical and no line number tells them apart; both were counted. Remove one if it is a copy."},
	Duplicate:            {"duplicate", "The same line of the same document is on file already; this copy was not counted."},
	FutureDate:           {"future-date", "The date lies after the last day that both sales and returns cover; the row waits until that day moves."},
	AfterAsOf:            {"after-as-of", "It came back after the last day that both sales and returns cover; the row waits until that day moves."},
	CreditOfReturn:       {"credit-note-of-return", "This credit note is the money side of a return; nothing was taken off the sale."},
	CreditNetted:         {"credit-note-netted", "A credit note was taken off the latest earlier sale of the part that was large enough."},
	OrphanCredit:         {"orphan-credit", "No earlier sale of this part is large enough for this credit note; look for the missing sale."},
	ReturnReversed:       {"return-reversed", "A later row took this return back, in full or in part."},
	OrphanReversal:       {"orphan-reversal", "It takes back a return, but no earlier return of this part is large enough; look for the missing return."},
	FractionalQuantity:   {"fractional-quantity", "The quantity is no whole number, or this part is sold by measure; the line was counted as one piece."},
	DelayedEntry:         {"delayed-entry", "It was sold before returns were recorded, so it is watched only from the first recorded day on."},
	LinkDisagrees:        {"link-disagrees", "The sale it names is of another supplier or part, so the link was not used. Check the number."},
	ToleratedDate:        {"return-before-sale-within-tolerance", "It is dated a few days before its sale; it was counted as back on the day of sale."},
	TimeSetToZero:        {"time-set-to-0", "Dead on arrival: counted as failed on the day of sale, whatever the date of the return."},
	NeutralReason:        {"neutral", "Not the part's fault; the piece simply leaves the count on that day."},
	SupplyErrorReason:    {"supply-error", "Counted as a mistake of the supplier, not as a failed part."},
	ReasonUnknown:        {"reason-unknown", "No reason is given or it is not in your table of reasons; counted only in the upper bound."},
	NotConfirmedReason:   {"not-confirmed", "Returned as faulty, but a test found it sound; counted apart and not as a failed part."},
	OutOfWarranty:        {"out-of-warranty", "It came back after the supplier's warranty; it is listed but not counted."},
	BeforeRecording:      {"before-recording", "It came back at an age that was not yet recorded for this sale, so it is not counted."},
	SplitOverLots:        {"split-over-lots", "The pieces came from several sales."},
	SaleBeforeDataStart:  {"sale-before-data-start", "It was probably sold before the sales on file begin, so it is not counted at all."},
	MoreReturnsThanSales: {"more-returns-than-sales", "More came back than was sold; the excess counts only in the upper bound. Look for the missing sale."},
	SoldByOther:          {"sold-by-other-supplier", "Only another supplier sold this part; counted only in the upper bound. Check the supplier's name."},
	ReturnBeforeSale:     {"return-before-sale", "It came back before the part was first sold; counted only in the upper bound. Check both dates."},
	NeverSold:            {"no-sale-on-file", "No sale of this part is on file; counted only in the upper bound. Check the part number."},
}

// String returns the name of the code.
func (c Code) String() string { return codes[c].name }

// Says returns the code as a sentence for the user.
func (c Code) Says() string { return codes[c].says }

// Codes is a set of codes: a million rows carry theirs without a list each.
type Codes uint32

// Has reports whether the code is in the set.
func (s Codes) Has(c Code) bool { return s>>c&1 == 1 }

// List returns the codes in their order.
func (s Codes) List() []Code {
	var out []Code
	for ; s != 0; s &= s - 1 {
		out = append(out, Code(bits.TrailingZeros32(uint32(s))))
	}
	return out
}
