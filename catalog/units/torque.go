package units

// Torque is held in micronewton-metres.
type Torque struct{ unm int64 }

const (
	nmPerPoundFoot = 1.3558179483314004 // NIST SP 811, appendix B.8: 0.3048 m × 0.45359237 kg × 9.80665 m/s²
	nmPerPoundInch = nmPerPoundFoot / 12
	nmPerKgfCm     = 0.0980665 // NIST SP 811, appendix B.8: 9.80665 N × 0.01 m
)

// NewtonMetres returns the torque of n N·m, rounded to 1 µN·m.
func NewtonMetres(n float64) Torque { return Torque{round(n * 1e6)} }

// PoundFeet returns the torque of n lbf·ft, rounded to 1 µN·m.
func PoundFeet(n float64) Torque { return Torque{round(n * nmPerPoundFoot * 1e6)} }

// PoundInches returns the torque of n lbf·in, rounded to 1 µN·m.
func PoundInches(n float64) Torque { return Torque{round(n * nmPerPoundInch * 1e6)} }

// KilogramForceCentimetres returns the torque of n kgf·cm, rounded to 1 µN·m.
func KilogramForceCentimetres(n float64) Torque { return Torque{round(n * nmPerKgfCm * 1e6)} }

// TorqueOf rebuilds a Torque from MicronewtonMetres.
func TorqueOf(unm int64) Torque { return Torque{unm} }

// MicronewtonMetres returns the stored whole number of µN·m.
func (t Torque) MicronewtonMetres() int64 { return t.unm }

// NewtonMetres returns the torque in N·m.
func (t Torque) NewtonMetres() float64 { return float64(t.unm) / 1e6 }

// PoundFeet returns the torque in lbf·ft.
func (t Torque) PoundFeet() float64 { return float64(t.unm) / 1e6 / nmPerPoundFoot }

// PoundInches returns the torque in lbf·in.
func (t Torque) PoundInches() float64 { return float64(t.unm) / 1e6 / nmPerPoundInch }

// Compare orders torques by value.
func (t Torque) Compare(u Torque) int { return compare(t.unm, u.unm) }
