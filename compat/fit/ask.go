package fit

import "slices"

// Ask is a question to the counter and the flag that takes its answer; without
// a flag it is answered by looking.
type Ask struct{ Text, Flag string }

// The flags that take an answer, in the order in which a counter asks: what is
// known at once, then what stands on papers, then what has to be looked at or
// measured.
const (
	FlagDisplacement = "--displacement"
	FlagVIN8         = "--vin8"
	FlagYear         = "--year"
	FlagBuilt        = "--built"
	FlagWith         = "--with"
	FlagOn           = "--on"
	FlagMeasured     = "--measured"
)

var cheapest = []string{FlagDisplacement, FlagVIN8, FlagYear, FlagBuilt, FlagWith, FlagOn, FlagMeasured, ""}

// cost is the place of a question in the counter's order.
func (a Ask) cost() int {
	flag := a.Flag
	if i := slices.IndexFunc([]byte(flag), func(b byte) bool { return b == ' ' }); i >= 0 {
		flag = flag[:i]
	}
	if i := slices.Index(cheapest, flag); i >= 0 {
		return i
	}
	return len(cheapest)
}

// byCost puts questions in the counter's order; those of one cost stay as they
// stand.
func byCost(asks []Ask) {
	slices.SortStableFunc(asks, func(a, b Ask) int { return a.cost() - b.cost() })
}

func askOnce(list []Ask, a Ask) []Ask {
	for _, have := range list {
		if have.Text == a.Text {
			return list
		}
	}
	return append(list, a)
}

// sizeFlag returns the flag that takes a size read off a part or an engine.
func sizeFlag(what string) string { return FlagMeasured + ` "` + what + ` SIZE"` }
