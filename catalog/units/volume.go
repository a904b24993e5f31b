package units

// Volume is held in nanolitres, so that the US gallon (3.785 411 784 L
// exactly) and the imperial gallon (4.546 09 L exactly) are whole numbers.
type Volume struct{ nl int64 }

const (
	nlPerLitre       = 1_000_000_000
	nlPerUSGallon    = 3_785_411_784 // NIST SP 811, appendix B.8: 231 in³ exactly
	nlPerImpGallon   = 4_546_090_000 // NIST SP 811, appendix B.8: 4.546 09 L exactly
	quartsPerGallon  = 4
	pintsPerGallon   = 8
	usFlOzPerGallon  = 128
	impFlOzPerGallon = 160
)

// Litres returns the volume of l litres, rounded to 1 nL.
func Litres(l float64) Volume { return Volume{round(l * nlPerLitre)} }

// USQuarts returns the volume of q US liquid quarts, rounded to 1 nL.
func USQuarts(q float64) Volume { return Volume{round(q * nlPerUSGallon / quartsPerGallon)} }

// ImperialQuarts returns the volume of q imperial quarts, rounded to 1 nL.
func ImperialQuarts(q float64) Volume { return Volume{round(q * nlPerImpGallon / quartsPerGallon)} }

// VolumeOf rebuilds a Volume from Nanolitres.
func VolumeOf(nl int64) Volume { return Volume{nl} }

// Nanolitres returns the stored whole number of nanolitres.
func (v Volume) Nanolitres() int64 { return v.nl }

// Litres returns the volume in litres.
func (v Volume) Litres() float64 { return float64(v.nl) / nlPerLitre }

// USQuarts returns the volume in US liquid quarts.
func (v Volume) USQuarts() float64 { return float64(v.nl) / nlPerUSGallon * quartsPerGallon }

// ImperialQuarts returns the volume in imperial quarts.
func (v Volume) ImperialQuarts() float64 { return float64(v.nl) / nlPerImpGallon * quartsPerGallon }

// Add returns v + w.
func (v Volume) Add(w Volume) Volume { return Volume{v.nl + w.nl} }

// Sub returns v − w.
func (v Volume) Sub(w Volume) Volume { return Volume{v.nl - w.nl} }

// Scale returns v·f, rounded to 1 nL.
func (v Volume) Scale(f float64) Volume { return Volume{round(float64(v.nl) * f)} }

// Ratio returns v/w; 0 if w is zero.
func (v Volume) Ratio(w Volume) float64 {
	if w.nl == 0 {
		return 0
	}
	return float64(v.nl) / float64(w.nl)
}

// Compare orders volumes by value.
func (v Volume) Compare(w Volume) int { return compare(v.nl, w.nl) }
