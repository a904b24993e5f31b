package returns

import (
	"slices"

	"fitfill/catalog"
)

// Record is how often a supplier supplied or listed the wrong thing.
type Record struct {
	Supplier string
	Sold     int
	Wrong    int // pieces that came back as a supply error
	// Share is Wrong of Sold with mid-P limits, 0..1. More back than sold leaves
	// everything possible.
	Share Interval
}

// Records counts supply errors per supplier up to b.AsOf, by name. Returns are not matched to
// sales: a piece counts where its return says that the supplier erred. Negative
// quantities take back what stands before them.
func Records(b Books, conf float64) []Record {
	names, sold, wrong := spellings{}, map[string]int64{}, map[string]int64{}
	for _, s := range b.Sales {
		if s.Day > b.AsOf {
			continue
		}
		names.add(catalog.Fold(s.Supplier), s.Supplier)
		sold[catalog.Fold(s.Supplier)] += s.Quantity.Thousandths()
	}
	for _, r := range b.Returns {
		if r.Class == SupplyError && r.Day <= b.AsOf {
			wrong[catalog.Fold(r.Supplier)] += r.Quantity.Thousandths()
		}
	}
	index, list := names.names()
	out := make([]Record, len(list))
	for key, i := range index {
		r := Record{Supplier: list[i], Sold: int(max(0, sold[key]) / 1000), Wrong: int(max(0, wrong[key]) / 1000)}
		r.Share = MidP(float64(min(r.Wrong, r.Sold)), float64(r.Sold), conf)
		if r.Wrong > r.Sold {
			r.Share = Interval{1, 0, 1}
		}
		out[i] = r
	}
	return slices.DeleteFunc(out, func(r Record) bool { return r.Sold == 0 })
}
