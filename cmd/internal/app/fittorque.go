package app

import (
	"context"

	"fitfill/catalog"
	"fitfill/catalog/sqlite"
	"fitfill/catalog/units"
	"fitfill/compat"
	"fitfill/compat/fit"
)

// TorqueAnswer is what is on file about the bolts of the housing. A computed
// value never stands in it as a setting.
type TorqueAnswer struct {
	First    string           `json:"first"`
	Outcome  compat.Outcome   `json:"outcome"`
	Stated   *TorqueRange     `json:"stated_nm,omitempty"`
	By       string           `json:"stated_by,omitempty"`
	Basis    string           `json:"basis"` // sheet, or none on file
	Above    *float64         `json:"implausible_above_nm,omitempty"`
	Warning  string           `json:"warning"`
	Findings []compat.Finding `json:"findings"`
	Ask      []string         `json:"ask,omitempty"`
	With     []string         `json:"answer_with,omitempty"`
}

// TorqueRange is a bracket in N·m.
type TorqueRange struct {
	Low  float64 `json:"low"`
	High float64 `json:"high"`
}

// torque judges the bolts of the housing where a thermostat or its seal is
// asked for, or where somebody asks about a bolt or a torque.
func (s *Shop) torque(ctx context.Context, v *sqlite.View, q asked, family catalog.EngineFamily, types []string) (*TorqueAnswer, error) {
	b := fit.BoltOf(&family)
	b.Show = s.Settings.Units
	told := q.Bolt != "" || q.Torque != "" || q.measured.Socket.Known
	if !told && (!opensHousing(types) || !b.Thread.Known && !b.Torque.Known) {
		return nil, nil
	}
	b.Engaged = q.measured.Thread
	if q.measured.Socket.Known {
		b.Socket, b.Thread = q.measured.Socket, catalog.Stated[string]{}
	}
	if q.Bolt != "" {
		b.Thread = catalog.Say(q.Bolt, q.Bolt, toldNow(q.Bolt))
	}
	if q.Torque != "" {
		b.Torque = catalog.Say(q.Torque, q.Torque, toldNow(q.Torque))
	}
	t := s.fit().JudgeTorque(b)
	a := &TorqueAnswer{First: t.First, Outcome: t.Outcome, By: t.By, Basis: t.Basis, Findings: t.Findings}
	if t.Stated {
		a.Stated = &TorqueRange{t.Low.NewtonMetres(), t.High.NewtonMetres()}
	}
	if t.HasAbove {
		nm := t.Above.NewtonMetres()
		a.Above = &nm
	}
	for _, k := range t.Ask {
		a.Ask, a.With = append(a.Ask, k.Text), append(a.With, k.Flag)
	}
	a.Warning = s.fit().TorqueWarning()
	return a, fillTexts(ctx, v, a.Findings)
}

func opensHousing(types []string) bool {
	return len(types) == 1 && (types[0] == fit.Thermostat || types[0] == fit.Seal)
}

// readBolt refuses a bolt or a torque that cannot be read.
func (q FitQuestion) readBolt() error {
	if q.Bolt != "" {
		if _, err := units.ParseThread(q.Bolt); err != nil {
			return &UsageError{Problem: "--bolt: " + err.Error(), Hint: "write the thread, such as --bolt M8x1.25"}
		}
	}
	if q.Torque != "" {
		if _, _, err := units.ParseTorqueRange(q.Torque, ""); err != nil {
			return &UsageError{Problem: "--torque: " + err.Error(), Hint: `write it with its unit, such as --torque "15-22 lbf·ft"`}
		}
	}
	return nil
}
