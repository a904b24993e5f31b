package returns

// Status is what became of a row. Every row has exactly one.
type Status uint8

// The statuses.
const (
	Used Status = iota
	Flagged
	SetAside
)

// String returns the status in words.
func (s Status) String() string { return [...]string{"used", "used with flag", "set aside"}[s] }

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
	Ref      int
	Supplier int // index into Ledger.Suppliers
	PartType int // index into Ledger.PartTypes
	Status   Status
	Codes    Codes
}

// ReturnFate is what became of a return.
type ReturnFate struct {
	Fate
	Sales     []Allocation
	Unmatched int // pieces that found no sale
}

func (f *Fate) flag(c Code) {
	f.Codes |= 1 << c
	if f.Status == Used {
		f.Status = Flagged
	}
}

func (f *Fate) setAside(c Code) {
	f.flag(c)
	f.Status = SetAside
}

// Has reports whether the row carries the code.
func (f Fate) Has(c Code) bool { return f.Codes.Has(c) }
