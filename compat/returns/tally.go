package returns

// Tally counts pieces of one supplier and part type. Pieces sold are net of
// credit notes.
type Tally struct {
	Supplier, PartType int
	Sold               int
	Faulty             int // quality failures within warranty, dead on arrival included
	DeadOnArrival      int
	SupplyErrors       int // wrong part supplied
	Neutral            int // not the supplier's fault: ordered wrong, changed mind
	NotConfirmed       int // returned as faulty, found sound in a test
	Core               int // cores and deposits sent back
	Unknown            int // came back, reason not known
	OutOfWarranty      int // quality failures after the warranty
	BeforeRecording    int // quality failures at ages not yet recorded for their sale
	Unmatched          int // pieces back without a sale, any reason
	UnmatchedFaulty    int // of these, for quality reasons
	BeforeDataStart    int // pieces back whose sale lies before the data
}

func (t *Tally) add(o Tally) {
	t.Sold += o.Sold
	t.Faulty += o.Faulty
	t.DeadOnArrival += o.DeadOnArrival
	t.SupplyErrors += o.SupplyErrors
	t.Neutral += o.Neutral
	t.NotConfirmed += o.NotConfirmed
	t.Core += o.Core
	t.Unknown += o.Unknown
	t.OutOfWarranty += o.OutOfWarranty
	t.BeforeRecording += o.BeforeRecording
	t.Unmatched += o.Unmatched
	t.UnmatchedFaulty += o.UnmatchedFaulty
	t.BeforeDataStart += o.BeforeDataStart
}

// place counts pieces of a return that found their sale: late after the
// warranty, or early at an age that was not yet recorded.
func (t *Tally) place(c Class, pieces int, late, early bool) {
	switch {
	case c.quality() && late:
		t.OutOfWarranty += pieces
	case c.quality() && early:
		t.BeforeRecording += pieces
	case c.quality():
		t.Faulty += pieces
		if c == DeadOnArrival {
			t.DeadOnArrival += pieces
		}
	case c == SupplyError:
		t.SupplyErrors += pieces
	case c == Neutral:
		t.Neutral += pieces
	case c == NotConfirmed:
		t.NotConfirmed += pieces
	case c == UnknownReason:
		t.Unknown += pieces
	}
}

// Provisional reports whether more than the share limit of the supplier's
// quality returns found no sale.
func (t Tally) Provisional(limit float64) bool {
	all := t.Faulty + t.OutOfWarranty + t.BeforeRecording + t.UnmatchedFaulty
	return t.UnmatchedFaulty > 0 && float64(t.UnmatchedFaulty) > limit*float64(all)
}
