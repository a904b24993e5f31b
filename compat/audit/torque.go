package audit

import "fitfill/compat"

var _ = register(func() any { return torque{} })

// torque finds torque figures on file that the bolt cannot mean.
type torque struct{}

func (torque) engine(_ *settings, e *Engine) []Finding {
	if e.Torque == nil || e.Torque.Outcome != compat.No && e.Torque.Outcome != compat.Caution {
		return nil
	}
	f := Finding{
		Check: "torque", Supplier: e.Torque.Origin.Supplier, Engine: e.Family.Family, Says: e.Torque.Says, Grade: compat.Measured,
		Lines: once([]compat.Evidence{compat.From(e.Torque.Origin)}), Against: []compat.Evidence{}, Cost: Cost{Engines: 1},
	}
	for _, t := range e.Torque.Findings {
		if t.Outcome == e.Torque.Outcome {
			f.Against = append(f.Against, others(t.Origin, e.Torque.Origin.Supplier)...)
		}
	}
	f.Against = once(f.Against)
	return []Finding{f}
}
