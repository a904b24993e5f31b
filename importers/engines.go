package importers

import (
	"slices"

	"fitfill/catalog"
)

func init() {
	register(func() *kindSpec {
		return &kindSpec{
			kind:     catalog.EnginesSheet,
			order:    60,
			fields:   slices.Concat(texts("family"), free(texts("circuit")), stated(catalog.EngineFields(), "notes", "bleed_note"), stated(catalog.CircuitFields())),
			required: []string{"family"},
			identity: "family",
			noun:     "engine",
			scope: func(name string) string {
				if circuitFacts[name] {
					return "circuit"
				}
				return ""
			},
			telling: func(has func(string) bool) bool {
				return has("family") && slices.ContainsFunc([]string{
					"housing_bore", "seat_depth", "groove_depth", "groove_width", "coolant_capacity", "displacement",
					"coolant_chemistry", "circuit", "wet_liner", "cylinders", "thermostat_side", "cap_pressure", "also_known_as",
				}, has)
			},
			facts: nameSet(catalog.EngineFields(), catalog.CircuitFields()),
			bind:  bindWith(familyRow),
		}
	})
}

// enginesRow is one row of the engines sheet: a family, or one of its circuits.
type enginesRow struct {
	Row word `csv:"_row"`

	Family  word `csv:"family"`
	Circuit word `csv:"circuit"`

	AlsoKnownAs         word  `csv:"also_known_as"`
	Make                word  `csv:"make"`
	Model               word  `csv:"model"`
	Years               word  `csv:"years"`
	Displacement        whole `csv:"displacement"`
	Cylinders           whole `csv:"cylinders"`
	Fuel                word  `csv:"fuel"`
	VIN8                word  `csv:"vin8"`
	Electrified         flag  `csv:"electrified"`
	WetLiner            flag  `csv:"wet_liner"`
	RadiatorMaterial    word  `csv:"radiator_material"`
	Expansion           word  `csv:"expansion"`
	CapForm             word  `csv:"cap_form"`
	CapPressure         whole `csv:"cap_pressure"`
	CapSeatDepth        whole `csv:"cap_seat_depth"`
	ThermostatSide      word  `csv:"thermostat_side"`
	Bleed               word  `csv:"bleed"`
	BleedNote           word  `csv:"bleed_note"`
	WarmUpMonitor       flag  `csv:"warm_up_monitor"`
	OpeningTemp         whole `csv:"opening_temp"`
	HousingBore         whole `csv:"housing_bore"`
	SeatDepth           whole `csv:"seat_depth"`
	GrooveDepth         whole `csv:"groove_depth"`
	GrooveWidth         whole `csv:"groove_width"`
	GrooveOuterDiameter whole `csv:"groove_outer_diameter"`
	PlugGroove          whole `csv:"plug_groove"`
	PlugDiameter        whole `csv:"plug_diameter"`
	PlugBore            whole `csv:"plug_bore"`
	SealForm            word  `csv:"seal_form"`
	SealInnerDiameter   whole `csv:"seal_inner_diameter"`
	SealSection         whole `csv:"seal_section"`
	SealMaterial        word  `csv:"seal_material"`
	BypassDisc          flag  `csv:"bypass_disc"`
	ThermostatType      word  `csv:"thermostat_type"`
	Indexed             flag  `csv:"indexed"`
	AirBleed            flag  `csv:"air_bleed"`
	HoseOutside         whole `csv:"hose_outside"`
	BoltThread          word  `csv:"bolt_thread"`
	BoltCount           whole `csv:"bolt_count"`
	BoltClass           word  `csv:"bolt_class"`
	BoltTorque          word  `csv:"bolt_torque"`
	BoltHole            word  `csv:"bolt_hole"`
	ThreadMaterial      word  `csv:"thread_material"`
	HousingMaterial     word  `csv:"housing_material"`
	Notes               word  `csv:"notes"`

	CoolantChem     word  `csv:"coolant_chemistry"`
	CoolantApproval word  `csv:"coolant_approval"`
	CoolantGlycol   word  `csv:"coolant_glycol"`
	CoolantColour   word  `csv:"coolant_colour"`
	CoolantCapacity whole `csv:"coolant_capacity"`
	DrainVolume     whole `csv:"drain_volume"`
	Strength        whole `csv:"strength"`
	Excluded        word  `csv:"excluded"`
}

func familyRow(r *enginesRow, c *rowContext) (catalog.SheetRow, *problem) {
	engine := &catalog.EngineRow{Family: r.Family.text, Circuit: r.Circuit.text, Facts: c.facts()}
	if engine.Circuit == "" {
		engine.Circuit = catalog.DefaultCircuit
	}
	return catalog.SheetRow{Line: c.origin.Line, Engine: engine}, nil
}

var circuitFacts = nameSet(catalog.CircuitFields())
