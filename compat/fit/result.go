package fit

import (
	"fitfill/catalog"
	"fitfill/compat"
)

// role says what a result does when findings are combined.
type role uint8

const (
	note      role = iota // shown, moves nothing
	listed                // a direct listing whose conditions are met
	unsettled             // a direct listing under a condition nobody has settled
	elsewhere             // a listing of this engine for another year or VIN
	excluded              // the list says: not this one
	linked                // a cross-reference to a listed part
	agrees                // a size was checked and works
	fails                 // a size was checked and cannot work
	against               // cannot work, whoever says so
	faulty                // the piece in hand does not do what it should
	stays                 // was fitted to this engine and stayed
	doubt                 // works with a reservation, or two facts disagree
)

// result is a finding with what combining needs to know of it.
type result struct {
	compat.Finding
	role         role
	short        string // ends the first line: "flange 55.0 mm, bore 54.0 mm"
	check        string // ends "check the ..." where a failing size is only a caution
	ask          string // what would settle it
	flag         string // takes the answer to ask, if one does
	like, unlike bool   // of the old part: the same, or not
	sure         bool   // of a size that fails: measured on the part, or printed by two sheets
	own          bool   // of a size that fails: the engine's fact is the garage's own
}

// decides reports whether a result makes a no.
func (r *result) decides() bool {
	switch r.role {
	case excluded, fails, against, faulty:
		return true
	}
	return false
}

func unchecked(check, missing, says string) result {
	return result{Finding: compat.NotChecked(check, missing, says)}
}

// from collects sheet lines as evidence, each once.
func from(origins ...catalog.Origin) []compat.Evidence {
	out := make([]compat.Evidence, 0, len(origins))
	for _, o := range origins {
		if o != (catalog.Origin{}) {
			out = cite(out, compat.From(o))
		}
	}
	return out
}
