package coolant

import (
	"fitfill/catalog/units"
	"fitfill/compat"
)

// Answer is the judgement on a top-off. The outcome is about the bottle: what
// pouring it does. What is wrong with the fill already stands in Before.
type Answer struct {
	First      string // at most 60 characters: the verdict and how it is known
	Outcome    compat.Outcome
	Findings   []compat.Finding
	NotChecked []compat.Finding // what lacked its fact; moves nothing
	Settle     []Settle         // how to find out, the cheapest first
	Result     Result
	Poured     bool   // the amount is known, so the outcome is of that one
	Ladder     []Step // none where nothing may go on top
	PerLitre   bool   // nobody knows how much it holds: amounts are for every litre in it
	LadderNote string // what the amounts of the ladder rest on
	Before     Before
	Mend       string   // how to bring it to the strength it needs, or ""
	GetHome    *GetHome // nil where no water may go in
	Candidates []string // what the fill may be, the likeliest first
	AddMayBe   []string // the same of the bottle
	Ask        string   // the one question that has to be answered first, or ""
	Cautions   []string
}

// Settle is one way to find out.
type Settle struct {
	Test  string `json:"test"`
	Tells string `json:"tells"`
	Cost  string `json:"cost"` // in time or money
	strip bool
}

// Strip reports whether it is a strip or a kit, whose readings have to be known
// before it is used.
func (s Settle) Strip() bool { return s.strip }

// Figure is a computed value with its uncertainty.
type Figure[V, D any] struct {
	Value V
	PM    D
}

// Result is the system after the top-off. A nil figure could not be computed.
type Result struct {
	Glycol       string // ethylene, propylene, mixed, or "" where there is none or it is not known
	Strength     *Figure[units.Percent, units.Percent]
	Freeze       *Figure[units.Temperature, units.TempDelta]
	BoilOpen     *Figure[units.Temperature, units.TempDelta]
	BoilCapped   *Figure[units.Temperature, units.TempDelta] // if the cap holds
	ForeignShare *units.Percent                              // of the concentrate
	ForeignPM    units.Percent

	Density  *float64                            // kg/m³ at 20 °C
	Grows    *Figure[units.Volume, units.Volume] // from a cold fill to hot
	HeadRoom *units.Volume                       // that should be free above the coolant when it is cold
	Months   int                                 // to the next change; 0: due, or the label says, or it does not go together
	Due      Due
	Charge   *Charge // nil where volumes or strengths are not known
}

// Step is one rung of the ladder: up to UpTo the outcome holds.
type Step struct {
	UpTo    units.Volume
	Outcome compat.Outcome
	Why     string
}

// Before is the fill as it is, judged apart from the bottle.
type Before struct {
	Outcome  compat.Outcome
	Says     []string
	Strength *units.Percent
	Freeze   *units.Temperature
}

// GetHome is the most water that keeps the engine usable until it is mended.
type GetHome struct {
	Water  units.Volume
	Freeze *units.Temperature
	Says   string
}
