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

// Mark is what matching noted on a row.
type Mark struct {
	Status Status
	Codes  Codes
}

// Fate is what became of one row.
type Fate struct {
	Ref      int
	Supplier int32 // index into Ledger.Suppliers
	PartType int32 // index into Ledger.PartTypes
	Mark
}

// ReturnFate is what became of a return.
type ReturnFate struct {
	Fate
	Sales     []Allocation
	Unmatched int // pieces that found no sale
}

func (m *Mark) flag(c Code) {
	m.Codes |= 1 << c
	if m.Status == Used {
		m.Status = Flagged
	}
}

func (m *Mark) setAside(c Code) {
	m.flag(c)
	m.Status = SetAside
}

// Has reports whether the row carries the code.
func (m Mark) Has(c Code) bool { return m.Codes.Has(c) }
