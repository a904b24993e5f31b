package app

import (
	"slices"

	"fitfill/compat"
)

// mostReasons is how many reasons are read at a glance.
const mostReasons = 3

// The checks that the choice of reasons knows by name.
const (
	checkListed    = "listed"
	checkBefore    = "fitted before"
	checkCrossed   = "cross-reference"
	checkDirection = "direction"
)

// Reasons returns the few findings that carry the verdict: what is against the
// part first, then who lists it, what the garage saw of it, and what was
// measured. more counts the rest.
func (p PartFit) Reasons() (top []compat.Finding, more int) {
	for _, f := range p.Findings {
		if !f.NotChecked && f.Check != checkDirection {
			top = append(top, f)
		}
	}
	slices.SortStableFunc(top, func(a, b compat.Finding) int { return weightOf(a) - weightOf(b) })
	more = max(0, len(top)-mostReasons)
	return top[:len(top)-more], more
}

// weightOf puts findings in the order in which they are told.
func weightOf(f compat.Finding) int {
	switch {
	case f.Outcome == compat.No:
		return 0
	case f.Outcome != compat.Yes:
		return 1
	case f.Check == checkListed:
		return 2
	case f.Check == checkBefore:
		return 3
	case f.Check == checkCrossed:
		return 6
	case f.Grade == compat.Measured:
		return 4
	}
	return 5
}

// GoesIn is how the part goes in, empty where there is nothing to say.
func (p PartFit) GoesIn() string {
	for _, f := range p.Findings {
		if f.Check == checkDirection && !f.NotChecked {
			return f.Says
		}
	}
	return ""
}

// Missing names the facts for want of which something was not checked.
func (p PartFit) Missing() (facts []string) {
	for _, f := range p.Findings {
		if f.NotChecked && f.Missing != "" && !slices.Contains(facts, f.Missing) {
			facts = append(facts, f.Missing)
		}
	}
	return facts
}
