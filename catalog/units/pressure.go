package units

// Pressure is held in thousandths of a pascal. Cap ratings are gauge
// pressures; the ambient pressure of a place is absolute. The type does not
// tell them apart, the name of the variable must.
type Pressure struct{ mpa int64 }

const paPerPsi = 6894.757293168362 // NIST SP 811, appendix B.8: 4.4482216152605 N per (25.4 mm)²

// Kilopascals returns the pressure of k kPa, rounded to 1 mPa.
func Kilopascals(k float64) Pressure { return Pressure{round(k * 1e6)} }

// Bars returns the pressure of b bar (1 bar = 100 kPa exactly).
func Bars(b float64) Pressure { return Pressure{round(b * 1e8)} }

// PSI returns the pressure of p lbf/in², rounded to 1 mPa.
func PSI(p float64) Pressure { return Pressure{round(p * paPerPsi * 1000)} }

// PressureOf rebuilds a Pressure from Millipascals.
func PressureOf(mpa int64) Pressure { return Pressure{mpa} }

// Millipascals returns the stored whole number of 0.001 Pa.
func (p Pressure) Millipascals() int64 { return p.mpa }

// Kilopascals returns the pressure in kPa.
func (p Pressure) Kilopascals() float64 { return float64(p.mpa) / 1e6 }

// Bars returns the pressure in bar.
func (p Pressure) Bars() float64 { return float64(p.mpa) / 1e8 }

// PSI returns the pressure in lbf/in².
func (p Pressure) PSI() float64 { return float64(p.mpa) / 1000 / paPerPsi }

// Compare orders pressures by value.
func (p Pressure) Compare(q Pressure) int { return compare(p.mpa, q.mpa) }
