package catalog

import (
	"cmp"
	"slices"
)

// LogKind is a kind of entry in the garage's own log.
type LogKind string

// The kinds of entry.
const (
	LogVehicle LogKind = "vehicle"
	LogFill    LogKind = "fill"
	LogFitted  LogKind = "fitted"
	LogReturn  LogKind = "comeback"
)

// Logged is an entry of the garage's own log, written by hand and not read from
// a sheet. Exactly one of the pointers is set.
type Logged struct {
	ID int64
	At string // RFC 3339: when it was entered

	Vehicle *Vehicle
	Fill    *Fill
	Fitted  *Fitted
	Return  *Return
}

// Kind returns what kind of entry it is, empty where no pointer is set.
func (l Logged) Kind() LogKind {
	switch {
	case l.Vehicle != nil:
		return LogVehicle
	case l.Fill != nil:
		return LogFill
	case l.Fitted != nil:
		return LogFitted
	case l.Return != nil:
		return LogReturn
	}
	return ""
}

// Origin returns where an entry stands: in the log of the day it was entered,
// under its number.
func (l Logged) Origin() Origin {
	return Origin{Sheet: "logged by hand " + l.At[:min(len(l.At), len("2006-01-02"))], Line: int(l.ID)}
}

// ByHand reports whether the origin is an entry of the garage's own log.
func (o Origin) ByHand() bool { return o.Known() && o.SHA256 == "" }

// SameFill reports whether two records tell of one filling: same day, vehicle
// and circuit, and nothing that both state differs.
func SameFill(a, b Fill) bool {
	return a.Date == b.Date && Key(a.Vehicle) == Key(b.Vehicle) && Fold(cmp.Or(a.Circuit, DefaultCircuit)) == Fold(cmp.Or(b.Circuit, DefaultCircuit)) &&
		agree(Key(a.Number), Key(b.Number)) && agree(Fold(a.Chemistry), Fold(b.Chemistry)) &&
		(!a.Volume.Known || !b.Volume.Known || a.Volume.Value == b.Volume.Value) &&
		(!a.Drained.Known || !b.Drained.Known || a.Drained.Value == b.Drained.Value)
}

// SameFitted reports whether two records tell of one part put in: same day,
// vehicle and number, and not from two suppliers.
func SameFitted(a, b Fitted) bool {
	return a.Date == b.Date && Key(a.Vehicle) == Key(b.Vehicle) && Key(a.Number) == Key(b.Number) && agree(Fold(a.Supplier), Fold(b.Supplier))
}

// ReturnDays is how many days may lie between the day on which a return was
// logged by hand and that of the sheet's line about it: the counter logs when
// the part comes back, the office when it goes out.
const ReturnDays = 7

// SameReturn reports whether a sheet's line may be about a return logged by
// hand: same supplier and number, and days apart by at most ReturnDays. The
// suppliers' names are those that name gives.
func SameReturn(hand, sheet Return, name func(string) string) bool {
	apart := hand.Date - sheet.Date
	return Fold(name(hand.Supplier)) == Fold(name(sheet.Supplier)) && Key(hand.Number) == Key(sheet.Number) && max(apart, -apart) <= ReturnDays &&
		hand.Quantity.e3 <= sheet.Quantity.e3
}

// agree reports whether two texts are equal or one of them says nothing.
func agree(a, b string) bool { return a == "" || b == "" || a == b }

// Once returns the records of the sheets and those entries of the log that none
// of them tells of: each record stands for one entry at most. Where one stands
// for an entry, tell may add to it what only the entry says.
func Once[T any](sheets, hand []T, same func(hand, sheet T) bool, tell func(sheet *T, hand T)) []T {
	all := slices.Clone(sheets)
	taken := make([]bool, len(sheets))
	for _, h := range hand {
		i := 0
		for i < len(sheets) && (taken[i] || !same(h, sheets[i])) {
			i++
		}
		if i == len(sheets) {
			all = append(all, h)
			continue
		}
		taken[i] = true
		if tell != nil {
			tell(&all[i], h)
		}
	}
	return all
}
