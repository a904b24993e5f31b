package coolant

import (
	"encoding/json"

	"fitfill/compat"
)

// MarshalJSON writes the plan in litres, degrees Celsius and per cent; what
// could not be computed is null.
func (p FlushPlan) MarshalJSON() ([]byte, error) {
	type round struct {
		Drain      float64  `json:"drain_l"`
		Refill     string   `json:"refill"`
		RefillL    float64  `json:"refill_l"`
		Coolant    float64  `json:"coolant_l"`
		Water      float64  `json:"water_l"`
		OldLeft    float64  `json:"old_left_pct"`
		Strength   float64  `json:"strength_vol_pct"`
		High       float64  `json:"strength_high_vol_pct"`
		Freeze     *float64 `json:"freeze_c"`
		FreezePM   *float64 `json:"freeze_c_pm,omitempty"`
		DoNotLeave bool     `json:"do_not_leave_standing"`
	}
	type way struct {
		Flag   string  `json:"flag"`
		Says   string  `json:"says"`
		Rounds int     `json:"rounds"`
		Bottle float64 `json:"coolant_l"`
		Final  float64 `json:"final_strength_vol_pct"`
	}
	out := struct {
		First      string           `json:"first"`
		Outcome    compat.Outcome   `json:"outcome"`
		Reachable  bool             `json:"reachable"`
		Rounds     []round          `json:"rounds"`
		LeftMax    float64          `json:"old_left_max_pct"`
		ShareMax   float64          `json:"old_share_max_pct"`
		OldShare   float64          `json:"old_share_pct"`
		Target     float64          `json:"target_strength_vol_pct"`
		Final      *float64         `json:"final_strength_vol_pct"`
		FinalHigh  *float64         `json:"final_strength_high_vol_pct"`
		Freeze     *float64         `json:"final_freeze_c"`
		FreezePM   *float64         `json:"final_freeze_c_pm,omitempty"`
		Coolant    float64          `json:"coolant_l"`
		CoolantIs  string           `json:"coolant_is"`
		Water      float64          `json:"water_l"`
		Waste      float64          `json:"waste_l"`
		Findings   []compat.Finding `json:"findings"`
		NotChecked []compat.Finding `json:"not_checked"`
		Nearest    []way            `json:"nearest"`
		Steps      []string         `json:"steps"`
		Cautions   []string         `json:"cautions"`
		Candidates []string         `json:"candidates"`
		Ask        string           `json:"ask,omitempty"`
	}{
		First: p.First, Outcome: p.Outcome, Reachable: p.Reachable, Rounds: []round{}, LeftMax: p.LeftMax.Percents(),
		ShareMax: p.ShareMax.Percents(), OldShare: p.OldShare.Percents(), Target: p.Target.Percents(),
		Final: percent(p.Final), FinalHigh: percent(p.FinalHigh), Coolant: p.Bottle.Litres(), CoolantIs: p.BottleIs,
		Water: p.Water.Litres(), Waste: p.Waste.Litres(), Findings: some(p.Findings), NotChecked: some(p.NotChecked),
		Nearest: []way{}, Steps: some(p.Steps), Cautions: some(p.Cautions), Candidates: some(p.Candidates), Ask: p.Ask,
	}
	out.Freeze, out.FreezePM = temperature(p.Freeze)
	for _, r := range p.Rounds {
		x := round{
			Drain: r.Drain.Litres(), Refill: r.With, RefillL: r.Bottle.Add(r.Water).Litres(), Coolant: r.Bottle.Litres(), Water: r.Water.Litres(),
			OldLeft: r.OldLeft.Percents(), Strength: r.Strength.Percents(), High: r.StrengthHigh.Percents(), DoNotLeave: r.DoNotLeave,
		}
		x.Freeze, x.FreezePM = temperature(r.Freeze)
		out.Rounds = append(out.Rounds, x)
	}
	for _, w := range p.Nearest {
		out.Nearest = append(out.Nearest, way{w.Flag, w.Says, w.Rounds, w.Bottle.Litres(), w.Final.Percents()})
	}
	return json.Marshal(out)
}
