package main

import (
	"fmt"
	"io/fs"
	"math"
	"strings"
)

// horizon is the day at which a part type's share of failures is stated.
const horizon = 365

// hazard is what is stated of a part type: the truth behind a history.
type hazard struct {
	Type        string
	Fail        float64 // per cent failed by the horizon, at a relative rate of 1
	DOA         float64 // per cent of those dead on arrival
	Shape       float64 // Weibull shape of the rest: below 1 early, above 1 late
	ChangedMind float64 // per cent brought back unused within a fortnight
	Wrong       float64 // per cent supplied wrongly
	Core        float64 // per cent whose old part goes back for its deposit
	Reasons     []string
}

// fate is what becomes of one piece: brought back after so many days, or never.
type fate struct {
	back   bool
	days   int
	reason string
}

// fate draws what becomes of a piece whose supplier's parts fail at a relative
// rate. With e exponential over the hazard at the horizon, e up to the share
// dead on arrival is day 0, the rest follows a Weibull: the share failed by the
// horizon is 1 - (1 - Fail)^relative.
func (h *hazard) fate(r *pcg, relative float64) fate {
	switch {
	case r.chance(h.ChangedMind):
		return fate{true, 1 + r.below(14), pick(r, "customer changed mind", "ordered wrong by us")}
	case r.chance(h.Wrong):
		return fate{true, r.below(4), "wrong part supplied"}
	case h.Fail <= 0:
		return fate{}
	}
	e := r.exponential() / (-math.Log(1-h.Fail/100) * relative)
	doa := h.DOA / 100
	if e <= doa {
		return fate{true, 0, "dead on arrival"}
	}
	days := math.Ceil(horizon * math.Pow((e-doa)/(1-doa), 1/h.Shape))
	if days > 20*horizon {
		return fate{}
	}
	return fate{true, int(days), pick(r, h.Reasons...)}
}

func pick(r *pcg, list ...string) string { return list[r.below(len(list))] }

// readHazards reads what is stated of each part type.
func readHazards(fsys fs.FS, name string) (map[string]*hazard, error) {
	rows, err := readTable(fsys, name)
	if err != nil {
		return nil, err
	}
	hazards := map[string]*hazard{}
	for i, r := range rows {
		h := &hazard{Type: r["type"], Reasons: strings.Split(r["reasons"], "|")}
		err := r.numbers(map[string]*float64{
			"fail_365_pct": &h.Fail, "dead_on_arrival_pct": &h.DOA, "shape": &h.Shape,
			"changed_mind_pct": &h.ChangedMind, "wrong_supplied_pct": &h.Wrong, "core_pct": &h.Core,
		})
		if err != nil {
			return nil, fmt.Errorf("%s, line %d: %w", name, i+2, err)
		}
		hazards[h.Type] = h
	}
	return hazards, nil
}
