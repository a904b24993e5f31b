package fit

import (
	"cmp"
	"slices"

	"fitfill/catalog"
	"fitfill/catalog/units"
	"fitfill/compat"
)

// Part types that have checks of their own; every other type is judged by the
// lists only, and says so.
const (
	Thermostat = "thermostat"
	Seal       = "seal"
	Cap        = "cap"
)

// Link is a chain of cross-references and supersessions that leads from a listed
// part to a candidate.
type Link struct {
	Via      *catalog.Part // the listed part, never nil; supplier and number suffice
	Relation catalog.Relation
	Hops     int // cross-references on the way, at least 1
	Origin   catalog.Origin
	Chain    []Step // the steps from the listed part; empty where Relation and Origin say it all
}

// Candidate is one supplier's part with all that speaks for or against it.
type Candidate struct {
	Part       *catalog.Part     // never nil; it is only looked at
	Listings   []catalog.Fitment // those that the caller resolved to this engine
	Links      []Link
	OtherSizes []*catalog.Part // the same part as other sheets print it; without a supplier: measured by the garage
	Poison     *Poison         // the cross-references around it cannot all be right
}

// Question is what was asked: an engine, a type of part and what is known of
// the vehicle. Unknown is the zero value. Show changes words, never outcomes.
type Question struct {
	Engine           catalog.EngineFamily
	Type             string // type of part; empty: what each part's sheet says
	Year             int
	Half             Half
	Built            Month
	VIN8             string
	Displacement     catalog.Stated[units.Volume] // as told; the engine's own comes first
	With, Without    []string                     // what the vehicle has and has not: "A/C", "HD"
	Old              catalog.Part                 // what was read off the part that came out
	CoolantChemistry string                       // chemistry id; empty: the engine's own
	Bath             Bath                         // what the part in hand did in the water bath
	Altitude         units.Length                 // above the sea
	On               catalog.Part                 // the thermostat that a seal is to go on
	Others           []*catalog.Part              // the engine's other thermostats
	Used             []Used                       // what was put into vehicles of this engine, oldest first
	Today            catalog.Date
	Show             units.System
}

// Verdict is the judgement of one candidate. First is at most 60 characters
// and says how it is known; Ask holds what would settle the doubt, the
// cheapest first.
type Verdict struct {
	Part     *catalog.Part // the candidate's
	Outcome  compat.Outcome
	First    string
	Findings []compat.Finding
	Ask      []Ask

	// Refuted is what sizes and ratings say against the part, firm enough to
	// refuse it or not; Excluded says that its own list leaves the vehicle out.
	Refuted  []compat.Finding
	Excluded bool
	Faulty   bool // the piece in hand failed its test, whatever its kind fits
}

// trial is one candidate before the checks.
type trial struct {
	*Tables
	q     *Question
	c     *evidence
	kind  string // type of part
	field *field
	show  shower
}

// evidence is a candidate's, in one order.
type evidence struct {
	Part       *catalog.Part // never nil; it is only looked at
	Listings   []catalog.Fitment
	Links      []*Link
	OtherSizes []*catalog.Part
	Poison     *Poison
}

// check looks at one thing and returns what it found, nothing where the part
// has nothing to do with it.
type check func(trial) []result

var checks = map[string][]check{
	Thermostat: {trial.rating, trial.fullOpen, trial.thermostatType, trial.bypassDisc, trial.flangeBore, trial.flangeSeat, trial.edgeRing, trial.airBleed, trial.index, trial.suppliedSeal, trial.material, trial.oldPart, trial.bath, trial.direction},
	Cap:        {trial.capRating, trial.capForm, trial.capSeat, trial.capVacuum},
	Clamp:      {trial.clampRange},
	Seal:       {trial.sealForm, trial.set, trial.ringGroove, trial.ringPlug, trial.ringSize, trial.oldRing, trial.edgeRing, trial.material},
}

// Judge judges the candidates of a question, best first: by outcome, then by
// the strength of their evidence, then supplier and number. The order in which
// candidates, listings and sheets are given changes nothing.
func (t *Tables) Judge(q Question, cands []Candidate) []Verdict { return t.Weigh(q, cands).Judge() }

func (t *Tables) trial(q *Question, c *Candidate, around *field) trial {
	return trial{Tables: t, q: q, c: tidy(c), kind: kindOf(q, c), field: around, show: showIn(q.Show)}
}

func kindOf(q *Question, c *Candidate) string {
	if q.Type != "" {
		return q.Type
	}
	return c.Part.Type.Value
}

func (w *weighed) judge() (Verdict, float64) {
	listed, lists := w.listed()
	results := slices.Concat(listed, w.copiedList(), w.linked(lists.met > 0), w.used, w.checked, w.amongLists())
	return w.combine(results, lists)
}

// checked runs the checks of the part's type.
func (t trial) checked() []result {
	own, ok := checks[t.kind]
	if !ok {
		return append([]result{listOnly(t.kind)}, t.byText()...)
	}
	out := make([]result, 0, len(own)+1)
	for _, c := range own {
		out = append(out, c(t)...)
	}
	return out
}

// byText reads what the text of a part says that is judged by the lists only.
func (t trial) byText() []result {
	if t.kind == Hose {
		return t.hose()
	}
	return nil
}

// tidy returns the evidence of a candidate in one order, whatever order it came
// in.
func tidy(c *Candidate) *evidence {
	e := &evidence{Part: c.Part, Listings: slices.Clone(c.Listings), OtherSizes: slices.Clone(c.OtherSizes), Poison: c.Poison}
	slices.SortStableFunc(e.Listings, func(a, b catalog.Fitment) int { return byOrigin(a.Origin, b.Origin) })
	for i := range c.Links {
		e.Links = append(e.Links, &c.Links[i])
	}
	slices.SortStableFunc(e.Links, func(a, b *Link) int {
		return cmp.Or(cmp.Compare(a.Hops, b.Hops), byOrigin(a.Origin, b.Origin), cmp.Compare(a.Via.Key, b.Via.Key))
	})
	slices.SortStableFunc(e.OtherSizes, func(a, b *catalog.Part) int {
		return cmp.Or(cmp.Compare(a.Supplier, b.Supplier), cmp.Compare(a.Key, b.Key), cmp.Compare(a.Number, b.Number), cmp.Compare(a.ID, b.ID))
	})
	return e
}

func byOrigin(a, b catalog.Origin) int {
	return cmp.Or(cmp.Compare(a.Supplier, b.Supplier), cmp.Compare(a.Sheet, b.Sheet), cmp.Compare(a.Line, b.Line), cmp.Compare(a.Text, b.Text))
}
