package units

import "strings"

// orElse is the unit of a system, or the metric one where none was chosen.
func orElse(u, metric Unit) Unit {
	if u == "" {
		return metric
	}
	return u
}

// FormatTemperature prints t in the unit of s, to whole degrees where it is
// whole within 0.05 and to one decimal otherwise: "-37 °C".
func (s System) FormatTemperature(t Temperature) string {
	return t.Format(orElse(s.Temperature, Metric.Temperature))
}

// FormatTempDelta prints d in degrees of the unit of s.
func (s System) FormatTempDelta(d TempDelta) string {
	return d.Format(orElse(s.Temperature, Metric.Temperature))
}

// FormatLength prints l in the unit of s.
func (s System) FormatLength(l Length) string { return l.Format(orElse(s.Length, Metric.Length)) }

// FormatVolume prints v in the unit of s, to one or two decimals.
func (s System) FormatVolume(v Volume) string { return v.Format(orElse(s.Volume, Metric.Volume)) }

// FormatTorque prints t in the unit of s.
func (s System) FormatTorque(t Torque) string { return t.Format(orElse(s.Torque, Metric.Torque)) }

// FormatPressure prints p in the unit of s.
func (s System) FormatPressure(p Pressure) string {
	return p.Format(orElse(s.Pressure, Metric.Pressure))
}

// ParseSystem returns the system of that name: "metric" or "us".
func ParseSystem(name string) (System, error) {
	switch strings.ToLower(strings.TrimSpace(name)) {
	case "metric":
		return Metric, nil
	case "us":
		return US, nil
	}
	return System{}, unreadable("is not a set of units", `write "metric" or "us"`).of("system of units", name)
}
