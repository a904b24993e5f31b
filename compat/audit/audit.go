package audit

import (
	"cmp"
	"slices"

	"fitfill/catalog"
	"fitfill/catalog/units"
	"fitfill/compat"
)

// Finding is one thing that cannot be right, with the lines of the sheet that
// say it.
type Finding struct {
	Check    string            `json:"check"`
	Supplier string            `json:"supplier"` // whose sheet says it; empty: the garage's own
	Number   string            `json:"number,omitempty"`
	Engine   string            `json:"engine,omitempty"`
	Says     string            `json:"says"`
	Grade    compat.Grade      `json:"grade"`
	Lines    []compat.Evidence `json:"lines"`         // of the sheet that says it
	Against  []compat.Evidence `json:"against"`       // what speaks against it
	Own      []compat.Finding  `json:"own,omitempty"` // what the garage itself saw of the part: its own lines, never sent to a supplier
	Cost     Cost              `json:"cost"`
}

// Cost is how much hangs on a finding. The most costly is the one about the part
// of which the most pieces were bought, then the one about the most engines, then
// about the most parts.
type Cost struct {
	Bought  int `json:"bought"` // pieces, all purchases on file
	Engines int `json:"engines"`
	Parts   int `json:"parts"`
}

// Compare orders costs from low to high.
func (c Cost) Compare(d Cost) int {
	return cmp.Or(cmp.Compare(c.Bought, d.Bought), cmp.Compare(c.Engines, d.Engines), cmp.Compare(c.Parts, d.Parts))
}

// Engine is one engine family with everything that lists name for it.
type Engine struct {
	Family catalog.EngineFamily // facts are known where the garage has them
	Parts  []Listed
	Slips  []Slip
	Torque *Torque // where a figure is on file
}

// Listed is a part that a list names for an engine.
type Listed struct {
	Part     catalog.Part
	Fitments []catalog.Fitment
	Refuted  []compat.Finding // what the sizes and ratings say against it
	Excluded bool             // its own list excludes the engine: that is no mistake
	Opens    catalog.Stated[units.Temperature]
	Place    string // where the part sits, by its own words
	Own      Own
	Doubted  []string // the checks by which sizes doubt it without refuting it
}

// doubted reports whether one of the checks doubts the part.
func (l *Listed) doubted(checks []string) bool {
	return slices.ContainsFunc(l.Doubted, func(c string) bool { return slices.Contains(checks, c) })
}

// Slip is a spelling that several suppliers share: their lists are copies.
type Slip struct {
	Written, Meant string
	Suppliers      []string
	Lines          []catalog.Origin
}

// Torque is a judgement of the torque on file for an engine's housing.
type Torque struct {
	Outcome  compat.Outcome
	Says     string
	Findings []compat.Finding
	Origin   catalog.Origin
}

// Group is a group of cross-references or supersessions that cannot be right.
type Group struct {
	Check  string // GroupCheck or CircleCheck
	Says   string
	Parts  []catalog.Part
	Ends   []catalog.Part   // those that the weakest statement joins
	Lines  []catalog.Origin // of the weakest statement
	Others []compat.Evidence
}

// The names of the checks on groups.
const (
	GroupCheck  = "cross-reference"
	CircleCheck = "supersession"
)

// Settings is what an audit needs besides the sheets.
type Settings struct {
	Show   units.System
	Bought func(supplier, key string) int // pieces bought of a part
}

// Auditor collects what its checks find.
type Auditor struct {
	engines []engineCheck
	ends    []endCheck
	set     *settings
	found   []Finding
}

type settings struct {
	Settings
	*Tables
}

// engineCheck looks at one engine.
type engineCheck interface {
	engine(*settings, *Engine) []Finding
}

// endCheck speaks when everything has been seen.
type endCheck interface {
	end(*settings) []Finding
}

var registered []func() any

// register adds a check; make builds one for a run.
func register(make func() any) struct{} {
	registered = append(registered, make)
	return struct{}{}
}

// New starts an audit.
func (t *Tables) New(s Settings) *Auditor {
	a := &Auditor{set: &settings{s, t}}
	for _, make := range registered {
		c := make()
		if e, ok := c.(engineCheck); ok {
			a.engines = append(a.engines, e)
		}
		if e, ok := c.(endCheck); ok {
			a.ends = append(a.ends, e)
		}
	}
	return a
}

// Engine looks at one engine.
func (a *Auditor) Engine(e Engine) {
	slices.SortStableFunc(e.Parts, func(x, y Listed) int { return comparePart(&x.Part, &y.Part) })
	for _, c := range a.engines {
		a.found = append(a.found, c.engine(a.set, &e)...)
	}
}

// Findings ends the audit and returns everything found, the most costly first,
// then by supplier, sheet and line.
func (a *Auditor) Findings() []Finding {
	for _, c := range a.ends {
		a.found = append(a.found, c.end(a.set)...)
	}
	slices.SortStableFunc(a.found, func(x, y Finding) int {
		return cmp.Or(y.Cost.Compare(x.Cost), cmp.Compare(x.Supplier, y.Supplier), compareLines(x.Lines, y.Lines),
			cmp.Compare(x.Check, y.Check), cmp.Compare(x.Engine, y.Engine), cmp.Compare(x.Number, y.Number))
	})
	return a.found
}

func compareLines(x, y []compat.Evidence) int {
	if len(x) == 0 || len(y) == 0 {
		return len(x) - len(y)
	}
	return cmp.Or(cmp.Compare(x[0].Sheet, y[0].Sheet), cmp.Compare(x[0].Line, y[0].Line))
}

func comparePart(a, b *catalog.Part) int {
	return cmp.Or(cmp.Compare(a.Supplier, b.Supplier), cmp.Compare(a.Key, b.Key), cmp.Compare(a.ID, b.ID))
}

// about begins the finding on one part for one engine.
func (s *settings) about(check string, e *Engine, l *Listed) Finding {
	f := Finding{Check: check, Supplier: l.Part.Supplier, Number: l.Part.Number, Engine: e.Family.Family, Grade: compat.Listed,
		Against: []compat.Evidence{}, Cost: Cost{Bought: s.bought(&l.Part), Engines: 1, Parts: 1}}
	f.Lines, f.Own = linesOf(l.Fitments), l.Own.Seen
	return f
}

func (s *settings) bought(p *catalog.Part) int {
	if s.Bought == nil {
		return 0
	}
	return s.Bought(p.Supplier, p.Key)
}

func linesOf(list []catalog.Fitment) []compat.Evidence {
	var out []compat.Evidence
	for _, f := range list {
		out = append(out, compat.From(f.Origin))
	}
	return once(out)
}

// once leaves out evidence that stands in the list already.
func once(list []compat.Evidence) []compat.Evidence {
	out := []compat.Evidence{}
	for _, e := range list {
		if e != (compat.Evidence{}) && !slices.Contains(out, e) {
			out = append(out, e)
		}
	}
	return out
}
