package units

// Temperature is a point on the temperature scale, held in thousandths of a
// degree Celsius. Two temperatures cannot be added; their difference is a
// TempDelta. The zero value is 0 °C.
type Temperature struct{ milliC int64 }

// Celsius returns the temperature c °C, rounded to 0.001 °C.
func Celsius(c float64) Temperature { return Temperature{round(c * 1000)} }

// Fahrenheit returns the temperature f °F by t/°C = (f − 32)/1.8
// (NIST SP 811, appendix B.8, exact), rounded to 0.001 °C.
func Fahrenheit(f float64) Temperature { return Temperature{round((f - 32) / 1.8 * 1000)} }

// TemperatureOf rebuilds a Temperature from MilliCelsius.
func TemperatureOf(milliC int64) Temperature { return Temperature{milliC} }

// MilliCelsius returns the stored whole number of 0.001 °C.
func (t Temperature) MilliCelsius() int64 { return t.milliC }

// Celsius returns the temperature in °C.
func (t Temperature) Celsius() float64 { return float64(t.milliC) / 1000 }

// Fahrenheit returns the temperature in °F (NIST SP 811, appendix B.8).
func (t Temperature) Fahrenheit() float64 { return float64(t.milliC)/1000*1.8 + 32 }

// Kelvin returns the thermodynamic temperature in K.
func (t Temperature) Kelvin() float64 { return float64(t.milliC)/1000 + 273.15 }

// Sub returns t − u.
func (t Temperature) Sub(u Temperature) TempDelta { return TempDelta{t.milliC - u.milliC} }

// Add returns t shifted by d.
func (t Temperature) Add(d TempDelta) Temperature { return Temperature{t.milliC + d.milliK} }

// Compare is negative if t is colder than u, 0 if equal, positive if hotter.
func (t Temperature) Compare(u Temperature) int { return compare(t.milliC, u.milliC) }

// TempDelta is a temperature difference, held in thousandths of a kelvin.
type TempDelta struct{ milliK int64 }

// Kelvins returns the difference of k K, rounded to 0.001 K.
func Kelvins(k float64) TempDelta { return TempDelta{round(k * 1000)} }

// FahrenheitDegrees returns the difference of f °F: 1 °F is 1/1.8 K
// (NIST SP 811, appendix B.8, exact).
func FahrenheitDegrees(f float64) TempDelta { return TempDelta{round(f / 1.8 * 1000)} }

// TempDeltaOf rebuilds a TempDelta from MilliKelvins.
func TempDeltaOf(milliK int64) TempDelta { return TempDelta{milliK} }

// MilliKelvins returns the stored whole number of 0.001 K.
func (d TempDelta) MilliKelvins() int64 { return d.milliK }

// Kelvins returns the difference in K.
func (d TempDelta) Kelvins() float64 { return float64(d.milliK) / 1000 }

// FahrenheitDegrees returns the difference in °F.
func (d TempDelta) FahrenheitDegrees() float64 { return float64(d.milliK) / 1000 * 1.8 }

// Neg returns −d.
func (d TempDelta) Neg() TempDelta { return TempDelta{-d.milliK} }

// Abs returns the size of d without its sign.
func (d TempDelta) Abs() TempDelta {
	if d.milliK < 0 {
		return TempDelta{-d.milliK}
	}
	return d
}

// Compare orders differences by value.
func (d TempDelta) Compare(e TempDelta) int { return compare(d.milliK, e.milliK) }
