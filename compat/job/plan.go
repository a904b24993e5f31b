package job

import (
	"fmt"
	"slices"
	"strings"

	"fitfill/catalog"
	"fitfill/catalog/units"
	"fitfill/compat"
)

// Question is a job on an engine, with the judged candidates of each role.
type Question struct {
	Engine     *catalog.EngineFamily
	Job        Job
	Candidates map[string][]Candidate // by role, in the order of their evidence
	Take       map[string]string      // number that is wanted for a role

	// Together judges whether a part goes on another one: a seal on its
	// thermostat. It does not speak where the sheets state nothing about it.
	Together func(on, part *catalog.Part) (compat.Finding, bool)
}

// Line is one line of the list.
type Line struct {
	Role, Need string
	Part       *catalog.Part // nil where nothing on file fills the role
	Pieces     int
	Outcome    compat.Outcome
	First      string
	Ground     Ground
	Findings   []compat.Finding
	RunnerUp   *Candidate
	Missing    string // why nothing fills the role, and what to do
	Each       catalog.Stated[units.Money]
	Expected   catalog.Stated[units.Money] // of one piece, comebacks counted
	Brings     string                      // role that its bag fills
}

// Sum is what the pieces of a line cost.
func (l *Line) Sum() catalog.Stated[units.Money] {
	sum := l.Each
	sum.Value = sum.Value.Times(int64(l.Pieces))
	return sum
}

// Parts puts the parts of a job on a list. Parts that go on one another are
// chosen as a set: the best outcome first, then a set that closes, then what
// the whole set costs. A part that brings another one in its bag drops that
// line. Problems are sets that cannot be closed.
func (t *Tables) Parts(q Question) (lines []Line, problems []string) {
	chosen := map[string]*Line{}
	for _, role := range q.Job.Roles {
		if role.GoesOn == "" {
			chosen[role.Name] = q.best(role)
		}
	}
	for _, role := range q.Job.Roles {
		if role.GoesOn == "" {
			continue
		}
		on := chosen[role.GoesOn]
		if _, taken := q.Take[role.GoesOn]; on.Part != nil && !taken {
			q.rechoose(role, on)
		}
		line, problem := q.onTop(role, on)
		if problem != "" {
			problems = append(problems, problem)
		}
		switch {
		case line == nil:
			on.Brings = role.Name
		case line.Part != nil && on.Part != nil: // one for each
			line.Pieces = max(line.Pieces, on.Pieces)
			on.Pieces = line.Pieces
		}
		chosen[role.Name] = line
	}
	for _, role := range q.Job.Roles {
		if l := chosen[role.Name]; l != nil {
			lines = append(lines, *l)
		}
	}
	return lines, problems
}

// best fills a role that stands alone.
func (q *Question) best(role Role) *Line {
	cands, ground := usable(q.Candidates[role.Name])
	return q.line(role, cands, ground)
}

func (q *Question) line(role Role, cands []Candidate, ground Ground) *Line {
	l := &Line{Role: role.Name, Need: role.Need, Pieces: role.Count, Ground: ground}
	if l.Pieces == 0 {
		l.Pieces = int(q.Engine.BoltCount.Value.Thousandths() / 1000)
	}
	if number, ok := q.Take[role.Name]; ok {
		key := catalog.Key(number)
		at := slices.IndexFunc(q.Candidates[role.Name], func(c Candidate) bool { return c.Part.Key == key })
		if at >= 0 {
			taken := q.Candidates[role.Name][at]
			cands = slices.Insert(slices.DeleteFunc(slices.Clone(cands), func(c Candidate) bool { return c.Part.Key == key }), 0, taken)
			l.Ground = ByTake
		}
	}
	if len(cands) == 0 {
		l.Missing = q.missing(role)
		return l
	}
	l.fill(cands[0], role)
	if len(cands) > 1 {
		l.RunnerUp = &cands[1]
	}
	return l
}

func (l *Line) fill(c Candidate, role Role) {
	l.Part, l.Outcome, l.First, l.Findings, l.Each, l.Expected = c.Part, c.Outcome, c.First, c.Findings, c.Part.PriceEach(), c.Expected
	if role.Count == 1 && c.Pieces > 1 {
		l.Pieces = c.Pieces
	}
}

// missing says why nothing fills a role, and what to do instead.
func (q *Question) missing(role Role) string {
	e := q.Engine
	if role.Type == "bolt" && e.BoltThread.Known {
		text := "none in the sheets: " + e.BoltThread.Value
		if e.BoltClass.Known {
			text += ", class " + e.BoltClass.Value
		}
		return text + ", length from the old ones"
	}
	if role.Measure != "" && len(q.Candidates[role.Name]) == 0 {
		return role.MeasureFirst()
	}
	refused := len(q.Candidates[role.Name])
	switch {
	case refused == 1:
		return "the one in the sheets does not fit, or nobody can say"
	case refused > 1:
		return fmt.Sprintf("none of the %d in the sheets fits for sure", refused)
	}
	return "no sheet lists one for this engine"
}

// rechoose takes another candidate for the part below where the set that it
// makes is better: one that closes, then the better verdict on top, then the
// cheaper set.
func (q *Question) rechoose(top Role, on *Line) {
	below := q.Job.role(on.Role)
	cands, ground := usable(q.Candidates[below.Name])
	type set struct {
		at     int
		closes bool
		tier   int
		top    compat.Outcome
		cost   catalog.Stated[units.Money]
	}
	var sets []set
	var among []Candidate // one memory for all
	for i, c := range cands {
		if c.Outcome != cands[0].Outcome {
			break // fit comes before everything
		}
		s := set{at: i, closes: true, tier: tierOf(c), top: compat.Yes, cost: costOf(ground, c)}
		if !brings(c.Part, top, below) {
			var goesOn Candidate
			if goesOn, s.closes, among = q.bestOn(top, c.Part, among); s.closes {
				s.top = goesOn.Outcome
				s.cost = sum(s.cost, costOf(ground, goesOn))
			}
		}
		sets = append(sets, s)
	}
	slices.SortStableFunc(sets, func(a, b set) int {
		switch {
		case a.closes != b.closes:
			return order(a.closes)
		case a.tier != b.tier:
			return order(a.tier < b.tier)
		case a.top != b.top:
			return order(b.top.Worse(a.top))
		}
		return cheaper(a.cost, b.cost)
	})
	picked := sets[0].at
	cands = append([]Candidate{cands[picked]}, slices.Delete(slices.Clone(cands), picked, picked+1)...)
	*on = *q.line(below, cands, ground)
}

func order(first bool) int {
	if first {
		return -1
	}
	return 1
}

func costOf(g Ground, c Candidate) catalog.Stated[units.Money] {
	if g == ByExpected && c.Expected.Known {
		return c.Expected
	}
	return c.Part.PriceEach()
}

func sum(a, b catalog.Stated[units.Money]) catalog.Stated[units.Money] {
	total, same := a.Value.Plus(b.Value)
	if !a.Known || !b.Known || !same {
		return catalog.Stated[units.Money]{}
	}
	return catalog.Stated[units.Money]{Value: total, Known: true}
}

// brings reports whether a part has the one that goes on it in its bag. Where
// the part below is only wanted perhaps, the one on top is needed all the same.
func brings(on *catalog.Part, top, below Role) bool {
	return top.Type == "seal" && on.SealIncluded.Known && on.SealIncluded.Value && below.Need == ""
}

// together returns the candidates of a role that go on a part, the best first.
func (q *Question) together(role Role, on *catalog.Part) ([]Candidate, Ground) {
	var out []Candidate
	for _, c := range q.Candidates[role.Name] {
		if f, speaks := q.Together(on, c.Part); speaks {
			c.Findings = append(slices.Clone(c.Findings), f)
			if f.Outcome.Worse(c.Outcome) {
				c.Outcome, c.First = f.Outcome, strings.TrimSuffix(f.Says, ".")
			}
		}
		out = append(out, c)
	}
	return usable(out)
}

// bestOn returns the first of what together returns, without its findings: of a
// long list every part below asks, and the others need no order. among is memory
// for those that are compared.
func (q *Question) bestOn(role Role, on *catalog.Part, among []Candidate) (best Candidate, ok bool, used []Candidate) {
	among = among[:0]
	tier := unusable
	for i := range q.Candidates[role.Name] {
		c := &q.Candidates[role.Name][i]
		outcome := c.Outcome
		if f, speaks := q.Together(on, c.Part); speaks {
			outcome = compat.Worst(outcome, f.Outcome)
		}
		switch t := tierOf(Candidate{Outcome: outcome, Listed: c.Listed}); {
		case t == unusable || t > tier:
			continue
		case t < tier:
			tier, among = t, among[:0]
		}
		among = append(among, Candidate{Part: c.Part, Outcome: outcome, Listed: c.Listed, Expected: c.Expected})
	}
	if len(among) == 0 {
		return best, false, among
	}
	ground := groundOf(among)
	return slices.MinFunc(among, func(a, b Candidate) int { return byGround(ground, a, b) }), true, among
}

// onTop fills the role of a part that goes on another one.
func (q *Question) onTop(role Role, on *Line) (*Line, string) {
	if on.Part == nil {
		return q.best(role), ""
	}
	if brings(on.Part, role, q.Job.role(on.Role)) {
		return nil, ""
	}
	cands, ground := q.together(role, on.Part)
	line := q.line(role, cands, ground)
	if line.Part == nil && len(q.Candidates[role.Name]) > 0 {
		return line, fmt.Sprintf("No %s on file goes on %s of %s: take the %s from the maker of the %s.", role.Name, on.Part.Number, on.Part.Supplier, role.Name, on.Role)
	}
	if line.Part == nil {
		return line, ""
	}
	f, speaks := q.Together(on.Part, line.Part)
	if _, taken := q.Take[on.Role]; on.Need != "" && !taken && speaks && f.Outcome != compat.No {
		line.Outcome = compat.Worst(line.Outcome, compat.Caution)
		line.First = fmt.Sprintf("goes on %s: if the old %s stays in, compare the flange; %s", on.Part.Number, on.Role, line.First)
	}
	if speaks && f.Outcome == compat.No { // it was asked for
		line.Outcome, line.First, line.Findings = f.Outcome, strings.TrimSuffix(f.Says, "."), append(line.Findings, f)
		return line, fmt.Sprintf("%s of %s does not go on %s: %s", line.Part.Number, line.Part.Supplier, on.Part.Number, f.Says)
	}
	return line, ""
}
