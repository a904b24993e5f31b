package coolant

import (
	"cmp"
	"slices"
	"strings"

	"fitfill/compat"
)

// mostReasons is how many reasons are told before anybody asks why.
const mostReasons = 3

// told orders the checks whose findings are told first among those that weigh
// the same.
var told = []string{
	checkCircuit, checkCondition, checkRefractometer, checkReading, checkWater, checkMixing, checkCold, checkCoolant, checkExcluded, checkLiner, checkNitrite, checkRadiator,
	checkHeat, checkStrength, checkThin, checkRoom, checkGlycol,
}

// Reasons returns the findings that carry the verdict, at most three, the
// gravest first. Where the answer is no, what speaks for the bottle is left
// out: it changes nothing.
func (a *Answer) Reasons() []compat.Finding {
	var list []compat.Finding
	for _, f := range a.Findings {
		if a.Outcome == compat.No && f.Outcome == compat.Yes {
			continue
		}
		list = append(list, f)
	}
	rank := func(f compat.Finding) int {
		if i := slices.Index(told, f.Check); i >= 0 {
			return i
		}
		return len(told)
	}
	slices.SortStableFunc(list, func(x, y compat.Finding) int {
		switch {
		case x.Outcome.Worse(y.Outcome):
			return -1
		case y.Outcome.Worse(x.Outcome):
			return 1
		}
		return cmp.Compare(rank(x), rank(y))
	})
	return list[:min(len(list), mostReasons)]
}

// Rungs returns the ladder in as few steps as there are verdicts in a row:
// neighbours of the same outcome are one step, worded by what they have in
// common, else by the longest of them. It ends where more than half of the
// old coolant would have to be out before the verdict gets better again: that
// is a change and no top-off.
func (a *Answer) Rungs() []Step {
	if len(a.Ladder) == 0 {
		return nil
	}
	var steps []Step
	half := a.Ladder[len(a.Ladder)-1].UpTo.Scale(0.5)
	longest := 0.0
	for i, s := range a.Ladder {
		from := 0.0
		if i > 0 {
			before := a.Ladder[i-1]
			from = before.UpTo.Litres()
			if before.Outcome.Worse(s.Outcome) && before.UpTo.Compare(half) > 0 {
				return steps
			}
		}
		length := s.UpTo.Litres() - from
		n := len(steps)
		if n == 0 || steps[n-1].Outcome != s.Outcome {
			steps, longest = append(steps, s), length
			continue
		}
		last := &steps[n-1]
		switch {
		case strings.HasPrefix(s.Why, last.Why):
			longest = max(longest, length)
		case strings.HasPrefix(last.Why, s.Why), length > longest:
			last.Why, longest = s.Why, max(longest, length)
		}
		last.UpTo = s.UpTo
	}
	return steps
}

// Missing names the facts that checks lacked, each once: what the question
// asked for first.
func (a *Answer) Missing() []string {
	var list []string
	for _, f := range a.NotChecked {
		switch {
		case f.Missing == "" || slices.Contains(list, f.Missing):
		case f.Check == checkCold:
			list = slices.Insert(list, 0, f.Missing)
		default:
			list = append(list, f.Missing)
		}
	}
	return list
}
