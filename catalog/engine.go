package catalog

import (
	"slices"
	"strings"

	"fitfill/catalog/units"
)

// EngineFamily is a family of engines with the garage's own facts and
// measurements of it. A family that only occurs in suppliers' lists has no
// facts but its name.
type EngineFamily struct {
	Family      string
	AlsoKnownAs Stated[string] // other names, separated by ; or |
	Make        Stated[string]
	Model       Stated[string]
	Years       Stated[units.ModelYears]

	Displacement Stated[units.Volume]
	Cylinders    Stated[Count]
	Fuel         Stated[string]
	VIN8         Stated[string]
	Electrified  Stated[bool]

	WetLiner         Stated[bool]
	RadiatorMaterial Stated[string]
	Expansion        Stated[string] // overflow bottle, pressurised tank
	CapForm          Stated[string]
	CapPressure      Stated[units.Pressure]
	CapSeatDepth     Stated[units.Length]
	ThermostatSide   Stated[string] // outlet, inlet
	Bleed            Stated[string]
	BleedNote        Stated[string]
	WarmUpMonitor    Stated[bool]
	OpeningTemp      Stated[units.Temperature]

	HousingBore         Stated[units.Length]
	SeatDepth           Stated[units.Length]
	GrooveDepth         Stated[units.Length]
	GrooveWidth         Stated[units.Length]
	GrooveOuterDiameter Stated[units.Length]
	PlugGroove          Stated[units.Length] // diameter of a groove around a plug or neck
	PlugDiameter        Stated[units.Length]
	PlugBore            Stated[units.Length] // that the plug goes into
	SealForm            Stated[string]
	SealInnerDiameter   Stated[units.Length]
	SealSection         Stated[units.Length]
	SealMaterial        Stated[string]
	BypassDisc          Stated[bool]
	ThermostatType      Stated[string] // plain, map-controlled or integrated
	Indexed             Stated[bool]
	AirBleed            Stated[bool]
	HoseOutside         Stated[units.Length]

	BoltThread      Stated[string]
	BoltCount       Stated[Count]
	BoltClass       Stated[string]
	BoltTorque      Stated[string] // as stated: one figure or a bracket
	BoltHole        Stated[string] // blind, through to water
	ThreadMaterial  Stated[string]
	HousingMaterial Stated[string]
	Notes           Stated[string]

	Circuits []Circuit
}

// Circuit is one closed coolant loop of an engine family.
type Circuit struct {
	Name            string // engine, inverter, battery, charge-air, heater
	CoolantChem     Stated[string]
	CoolantApproval Stated[string]
	CoolantGlycol   Stated[string]
	CoolantColour   Stated[string]
	CoolantCapacity Stated[units.Volume]
	DrainVolume     Stated[units.Volume]
	Strength        Stated[units.Percent]
	Excluded        Stated[string]
}

// DefaultCircuit is the name of a circuit where a sheet names none.
const DefaultCircuit = "engine"

// Circuit returns the circuit of that name.
func (e *EngineFamily) Circuit(name string) (Circuit, bool) {
	for _, c := range e.Circuits {
		if c.Name == name {
			return c, true
		}
	}
	return Circuit{}, false
}

// Names returns the family's name and its other names.
func (e *EngineFamily) Names() []string {
	names := []string{e.Family}
	for _, n := range strings.FieldsFunc(e.AlsoKnownAs.Value, func(r rune) bool { return r == ';' || r == '|' }) {
		names = append(names, strings.TrimSpace(n))
	}
	return names
}

// Chemistries returns the chemistries that the circuits of an engine take; nothing
// unless every circuit's is on file.
func (e *EngineFamily) Chemistries() []string {
	var out []string
	for _, c := range e.Circuits {
		if !c.CoolantChem.Known {
			return nil
		}
		if !slices.Contains(out, c.CoolantChem.Value) {
			out = append(out, c.CoolantChem.Value)
		}
	}
	return out
}
