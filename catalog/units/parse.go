package units

// ParseTemperature reads a temperature: "82 °C", "195F", "-13 F", "91,5 C",
// "-36.4 °C (-33.5 °F)" if both agree within 1 °C. A bare number takes dflt;
// with dflt "" it is °F from 150 up and °C from 60 to 120, as thermostats are
// stamped (common practice), and is refused otherwise (ErrAmbiguous). Nothing
// below absolute zero is accepted. Errors are *ParseError.
func ParseTemperature(text string, dflt Unit) (Temperature, error) {
	b, err := temperatures.one(text, dflt)
	return Temperature{b}, err
}

// ParseTempDelta reads a difference of temperature: "8 K", "3 °C", "15 °F". It
// never adds or takes off 32. A bare number takes dflt and is refused without.
func ParseTempDelta(text string, dflt Unit) (TempDelta, error) {
	b, err := tempDeltas.one(text, dflt)
	return TempDelta{b}, err
}

// ParseLength reads a length: `2-1/8"`, `2 1/8 in`, `2⅛"`, "54,0 mm", "5.4cm",
// "Ø54 mm". A bare number takes dflt and is refused without (ErrAmbiguous). A
// fraction of millimetres is refused. Errors are *ParseError.
func ParseLength(text string, dflt Unit) (Length, error) {
	b, err := lengths.one(text, dflt)
	return Length{b}, err
}

// ParseVolume reads a volume: "1.5 L", "500 ml", "0,8 l", "1 1/2 US qt". A
// quart, gallon, pint or fluid ounce without "US" or "imp" takes the side of
// dflt, and is refused (ErrAmbiguous) where dflt is neither. A bare number
// takes dflt.
func ParseVolume(text string, dflt Unit) (Volume, error) {
	b, err := volumes.one(text, dflt)
	return Volume{b}, err
}

// ParseTorque reads a torque: "24 N·m", "24 Nm", "18 ft-lb", "18 lbf·ft",
// "90 in-lb", "2.4 kgf·m", "245 kg-cm". A bare number takes dflt and is refused
// without. A torque with an angle behind it is refused.
func ParseTorque(text string, dflt Unit) (Torque, error) {
	b, err := torques.one(text, dflt)
	return Torque{b}, err
}

// ParsePressure reads a pressure: "15 psi", "15 lb" (psi, as caps are stamped),
// "103 kPa", "1.1 bar", "0.1 MPa", "1.05 kg/cm2". A bare number takes dflt; with
// dflt "" it is refused (ErrAmbiguous) with a sentence that lists the readings.
func ParsePressure(text string, dflt Unit) (Pressure, error) {
	b, err := pressures.one(text, dflt)
	return Pressure{b}, err
}

// ParsePercent reads a share from 0 to 100 %: "50 %", "33,3%", "50". A bare
// number above 0 and not above 1 is refused (ErrAmbiguous): 0.5 could be 50 %
// or 0.5 %.
func ParsePercent(text string) (Percent, error) {
	sp, perr := percents.whole(text, UnitPercent)
	bare := sp.first.unit == ""
	switch {
	case perr != nil:
	case sp.pair:
		perr = unreadable("states two values where one is expected", "write one share in %")
	case sp.low > 100*1e4:
		perr = unreadable("is more than the whole", "write a share from 0 to 100 %")
	case bare && sp.low > 0 && sp.low <= 1e4:
		n := plainNumber(sp.first.val)
		perr = ambiguous("could be "+n+" % or "+n+" of the whole", "write the % sign")
	}
	if perr != nil {
		return Percent{}, perr.of(percents.quantity, text)
	}
	return Percent{sp.low}, nil
}

// ParseTemperatureRange reads "82-95 °C", or "82/95" as the temperatures at
// which a thermostat starts and is fully open. One value counts as both ends.
// Units are found as in ParseTemperature. Low must not be above high.
func ParseTemperatureRange(text string, dflt Unit) (low, high Temperature, err error) {
	a, b, err := temperatures.two(text, dflt)
	return Temperature{a}, Temperature{b}, err
}

// ParseLengthRange reads "22-24 mm" or `1-1/2 to 1-3/4"`. One value counts as
// both ends. Units are found as in ParseLength.
func ParseLengthRange(text string, dflt Unit) (low, high Length, err error) {
	a, b, err := lengths.two(text, dflt)
	return Length{a}, Length{b}, err
}

// ParseTorqueRange reads "15-22 ft-lb" or "20 to 30 N·m (15-22 lbf·ft)". One
// value counts as both ends. Units are found as in ParseTorque.
func ParseTorqueRange(text string, dflt Unit) (low, high Torque, err error) {
	a, b, err := torques.two(text, dflt)
	return Torque{a}, Torque{b}, err
}
