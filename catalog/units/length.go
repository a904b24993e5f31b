package units

// Length is held in nanometres, so that 1/64 in = 396 875 nm is exact.
type Length struct{ nm int64 }

const nmPerInch = 25_400_000 // 1 in = 25.4 mm exactly (NIST SP 811, appendix B.8)

// Millimetres returns the length of mm millimetres, rounded to 1 nm.
func Millimetres(mm float64) Length { return Length{round(mm * 1e6)} }

// Inches returns the length of in inches, rounded to 1 nm.
func Inches(in float64) Length { return Length{round(in * nmPerInch)} }

// LengthOf rebuilds a Length from Nanometres.
func LengthOf(nm int64) Length { return Length{nm} }

// Nanometres returns the stored whole number of nanometres.
func (l Length) Nanometres() int64 { return l.nm }

// Millimetres returns the length in mm.
func (l Length) Millimetres() float64 { return float64(l.nm) / 1e6 }

// Inches returns the length in inches.
func (l Length) Inches() float64 { return float64(l.nm) / nmPerInch }

// Add returns l + m.
func (l Length) Add(m Length) Length { return Length{l.nm + m.nm} }

// Sub returns l − m.
func (l Length) Sub(m Length) Length { return Length{l.nm - m.nm} }

// Half returns l/2, rounded towards zero to 1 nm.
func (l Length) Half() Length { return Length{l.nm / 2} }

// Abs returns the size of l without its sign.
func (l Length) Abs() Length {
	if l.nm < 0 {
		return Length{-l.nm}
	}
	return l
}

// Compare orders lengths by value.
func (l Length) Compare(m Length) int { return compare(l.nm, m.nm) }
