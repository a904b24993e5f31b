package units

// Percent is a share, held in ten-thousandths of a per cent.
type Percent struct{ e4 int64 }

// Percents returns p %, rounded to 0.0001 %.
func Percents(p float64) Percent { return Percent{round(p * 1e4)} }

// PercentOf rebuilds a Percent from TenThousandths.
func PercentOf(e4 int64) Percent { return Percent{e4} }

// TenThousandths returns the stored whole number of 0.0001 %.
func (p Percent) TenThousandths() int64 { return p.e4 }

// Percents returns the number before the % sign.
func (p Percent) Percents() float64 { return float64(p.e4) / 1e4 }

// Fraction returns the share as a number, 50 % being 0.5.
func (p Percent) Fraction() float64 { return float64(p.e4) / 1e6 }

// Compare orders shares by value.
func (p Percent) Compare(q Percent) int { return compare(p.e4, q.e4) }
