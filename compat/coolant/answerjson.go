package coolant

import (
	"encoding/json"

	"fitfill/catalog/units"
	"fitfill/compat"
)

// MarshalJSON writes the answer in the keys and units (litres, degrees
// Celsius, vol %) that other programs rely on; what could not be computed is
// null.
func (a Answer) MarshalJSON() ([]byte, error) {
	type step struct {
		UpTo    float64        `json:"up_to_l"`
		Outcome compat.Outcome `json:"outcome"`
		Why     string         `json:"why"`
	}
	type before struct {
		Outcome  compat.Outcome `json:"outcome"`
		Says     []string       `json:"says"`
		Strength *float64       `json:"strength_vol_pct"`
		Freeze   *float64       `json:"freeze_c"`
	}
	type missing struct {
		Check   string `json:"check"`
		Missing string `json:"missing"`
		Says    string `json:"says"`
	}
	type home struct {
		Water  float64  `json:"water_l"`
		Freeze *float64 `json:"freeze_c"`
		Says   string   `json:"says"`
	}
	out := struct {
		Outcome    compat.Outcome   `json:"outcome"`
		First      string           `json:"first"`
		Findings   []compat.Finding `json:"findings"`
		Settle     []Settle         `json:"settle"`
		Result     Result           `json:"result"`
		Ladder     []step           `json:"ladder"`
		LadderNote string           `json:"ladder_note,omitempty"`
		Before     before           `json:"before"`
		NotChecked []missing        `json:"not_checked"`
		Mend       string           `json:"mend,omitempty"`
		GetHome    *home            `json:"get_home"`
		Candidates []string         `json:"candidates"`
		AddMayBe   []string         `json:"add_candidates"`
		Ask        string           `json:"ask,omitempty"`
		Cautions   []string         `json:"cautions"`
	}{
		a.Outcome, a.First, some(a.Findings), some(a.Settle), a.Result, []step{}, a.LadderNote,
		before{a.Before.Outcome, some(a.Before.Says), percent(a.Before.Strength), celsius(a.Before.Freeze)},
		[]missing{}, a.Mend, nil, some(a.Candidates), some(a.AddMayBe), a.Ask, some(a.Cautions),
	}
	for _, s := range a.Ladder {
		out.Ladder = append(out.Ladder, step{s.UpTo.Litres(), s.Outcome, s.Why})
	}
	for _, f := range a.NotChecked {
		out.NotChecked = append(out.NotChecked, missing{f.Check, f.Missing, f.Says})
	}
	if g := a.GetHome; g != nil {
		out.GetHome = &home{g.Water.Litres(), celsius(g.Freeze), g.Says}
	}
	return json.Marshal(out)
}

// MarshalJSON writes the result; every figure has its uncertainty beside it in
// a key ending in _pm.
func (r Result) MarshalJSON() ([]byte, error) {
	type figures struct {
		Glycol     *string  `json:"glycol"`
		Strength   *float64 `json:"strength_vol_pct"`
		StrengthPM *float64 `json:"strength_vol_pct_pm,omitempty"`
		Freeze     *float64 `json:"freeze_c"`
		FreezePM   *float64 `json:"freeze_c_pm,omitempty"`
		Open       *float64 `json:"boil_open_c"`
		OpenPM     *float64 `json:"boil_open_c_pm,omitempty"`
		Capped     *float64 `json:"boil_capped_c"`
		CappedPM   *float64 `json:"boil_capped_c_pm,omitempty"`
		Foreign    *float64 `json:"foreign_share_pct"`
		ForeignPM  *float64 `json:"foreign_share_pct_pm,omitempty"`
		Density    *float64 `json:"density_20c_kg_m3"`
		Grows      *float64 `json:"expansion_l"` // from 20 to 100 °C
		GrowsPM    *float64 `json:"expansion_l_pm,omitempty"`
		HeadRoom   *float64 `json:"head_room_l"`
		Months     *int     `json:"service_months"`
		Due        Due      `json:"due,omitempty"`
	}
	var f figures
	if r.Glycol != "" {
		f.Glycol = &r.Glycol
	}
	if r.Strength != nil {
		f.Strength, f.StrengthPM = percent(&r.Strength.Value), percent(&r.Strength.PM)
	}
	f.Freeze, f.FreezePM = temperature(r.Freeze)
	f.Open, f.OpenPM = temperature(r.BoilOpen)
	f.Capped, f.CappedPM = temperature(r.BoilCapped)
	if f.Foreign = percent(r.ForeignShare); r.ForeignShare != nil {
		f.ForeignPM = percent(&r.ForeignPM)
	}
	f.Density = r.Density
	if r.Grows != nil {
		grows, pm, room := r.Grows.Value.Litres(), r.Grows.PM.Litres(), r.HeadRoom.Litres()
		f.Grows, f.GrowsPM, f.HeadRoom = &grows, &pm, &room
	}
	f.Due = r.Due
	if r.Months > 0 || r.Due != NotDue {
		f.Months = &r.Months
	}
	return json.Marshal(f)
}

// some is an empty list instead of null.
func some[T any](list []T) []T {
	if list == nil {
		return []T{}
	}
	return list
}

func percent(p *units.Percent) *float64 {
	if p == nil {
		return nil
	}
	v := p.Percents()
	return &v
}

func celsius(t *units.Temperature) *float64 {
	if t == nil {
		return nil
	}
	v := t.Celsius()
	return &v
}

func temperature(f *Figure[units.Temperature, units.TempDelta]) (value, pm *float64) {
	if f == nil {
		return nil, nil
	}
	k := f.PM.Kelvins()
	return celsius(&f.Value), &k
}
