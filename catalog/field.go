package catalog

import (
	"fmt"
	"slices"

	"fitfill/catalog/units"
)

// Kind says how the value of a field is kept.
type Kind uint8

// The kinds of value. A quantity is kept as the whole number of its unit type,
// a text in Word.
const (
	KindText Kind = iota
	KindBool
	KindCount
	KindDate
	KindTemperature
	KindLength
	KindVolume
	KindDisplacement // a Volume that sheets write in its own ways: 3.4, 232 cu in, 3802 cc
	KindPressure
	KindPercent
	KindMoney
	KindYears
)

// Field is one thing that a sheet can state about a part, an engine family or
// one of its circuits.
type Field struct {
	Name string
	Kind Kind
}

// Fact is one stated value in the form in which it is stored: Int holds a
// quantity's whole number of base units (a bool as 0 or 1, a date as its day),
// Word a text value, a currency or the text of a year range, Text the cell as
// it was written.
type Fact struct {
	Field  string
	Int    int64
	Word   string
	Text   string
	Origin Origin
}

type slots[T any] []struct {
	name string
	slot func(*T) any
}

var partSlots = slots[Part]{
	{"type", func(p *Part) any { return &p.Type }},
	{"description", func(p *Part) any { return &p.Description }},
	{"brand", func(p *Part) any { return &p.Brand }},
	{"notes", func(p *Part) any { return &p.Notes }},
	{"barcode", func(p *Part) any { return &p.Barcode }},
	{"replaces", func(p *Part) any { return &p.Replaces }},
	{"replaced_by", func(p *Part) any { return &p.ReplacedBy }},
	{"price", func(p *Part) any { return &p.Price }},
	{"price_per", func(p *Part) any { return &p.PricePer }},
	{"pack", func(p *Part) any { return &p.Pack }},
	{"deposit", func(p *Part) any { return &p.Deposit }},
	{"tax_included", func(p *Part) any { return &p.TaxIncluded }},
	{"stock", func(p *Part) any { return &p.Stock }},
	{"stock_date", func(p *Part) any { return &p.StockDate }},
	{"delivery", func(p *Part) any { return &p.Delivery }},
	{"opening_temp", func(p *Part) any { return &p.OpeningTemp }},
	{"full_open_temp", func(p *Part) any { return &p.FullOpenTemp }},
	{"flange_diameter", func(p *Part) any { return &p.FlangeDiameter }},
	{"flange_thickness", func(p *Part) any { return &p.FlangeThickness }},
	{"air_bleed", func(p *Part) any { return &p.AirBleed }},
	{"indexed", func(p *Part) any { return &p.Indexed }},
	{"seal_included", func(p *Part) any { return &p.SealIncluded }},
	{"bypass_disc", func(p *Part) any { return &p.BypassDisc }},
	{"thermostat_type", func(p *Part) any { return &p.ThermostatType }},
	{"seal_form", func(p *Part) any { return &p.SealForm }},
	{"oring_size", func(p *Part) any { return &p.ORingSize }},
	{"inner_diameter", func(p *Part) any { return &p.InnerDiameter }},
	{"outer_diameter", func(p *Part) any { return &p.OuterDiameter }},
	{"section", func(p *Part) any { return &p.Section }},
	{"thickness", func(p *Part) any { return &p.Thickness }},
	{"material", func(p *Part) any { return &p.Material }},
	{"hose_bore", func(p *Part) any { return &p.HoseBore }},
	{"hose_outside", func(p *Part) any { return &p.HoseOutside }},
	{"clamp_min", func(p *Part) any { return &p.ClampMin }},
	{"clamp_max", func(p *Part) any { return &p.ClampMax }},
	{"cap_pressure", func(p *Part) any { return &p.CapPressure }},
	{"cap_form", func(p *Part) any { return &p.CapForm }},
	{"cap_seat_depth", func(p *Part) any { return &p.CapSeatDepth }},
	{"vacuum_valve", func(p *Part) any { return &p.VacuumValve }},
	{"filter_charge", func(p *Part) any { return &p.FilterCharge }},
	{"thread", func(p *Part) any { return &p.Thread }},
	{"chemistry", func(p *Part) any { return &p.Chemistry }},
	{"glycol", func(p *Part) any { return &p.Glycol }},
	{"form", func(p *Part) any { return &p.Form }},
	{"strength", func(p *Part) any { return &p.Strength }},
	{"colour", func(p *Part) any { return &p.Colour }},
	{"approvals", func(p *Part) any { return &p.Approvals }},
	{"pack_volume", func(p *Part) any { return &p.PackVolume }},
	{"mixing_claim", func(p *Part) any { return &p.MixingClaim }},
	{"shelf", func(p *Part) any { return &p.Shelf }},
}

var engineSlots = slots[EngineFamily]{
	{"also_known_as", func(e *EngineFamily) any { return &e.AlsoKnownAs }},
	{"make", func(e *EngineFamily) any { return &e.Make }},
	{"model", func(e *EngineFamily) any { return &e.Model }},
	{"years", func(e *EngineFamily) any { return &e.Years }},
	{"displacement", func(e *EngineFamily) any { return &e.Displacement }},
	{"cylinders", func(e *EngineFamily) any { return &e.Cylinders }},
	{"fuel", func(e *EngineFamily) any { return &e.Fuel }},
	{"vin8", func(e *EngineFamily) any { return &e.VIN8 }},
	{"electrified", func(e *EngineFamily) any { return &e.Electrified }},
	{"wet_liner", func(e *EngineFamily) any { return &e.WetLiner }},
	{"radiator_material", func(e *EngineFamily) any { return &e.RadiatorMaterial }},
	{"expansion", func(e *EngineFamily) any { return &e.Expansion }},
	{"cap_form", func(e *EngineFamily) any { return &e.CapForm }},
	{"cap_pressure", func(e *EngineFamily) any { return &e.CapPressure }},
	{"cap_seat_depth", func(e *EngineFamily) any { return &e.CapSeatDepth }},
	{"thermostat_side", func(e *EngineFamily) any { return &e.ThermostatSide }},
	{"bleed", func(e *EngineFamily) any { return &e.Bleed }},
	{"bleed_note", func(e *EngineFamily) any { return &e.BleedNote }},
	{"warm_up_monitor", func(e *EngineFamily) any { return &e.WarmUpMonitor }},
	{"opening_temp", func(e *EngineFamily) any { return &e.OpeningTemp }},
	{"housing_bore", func(e *EngineFamily) any { return &e.HousingBore }},
	{"seat_depth", func(e *EngineFamily) any { return &e.SeatDepth }},
	{"groove_depth", func(e *EngineFamily) any { return &e.GrooveDepth }},
	{"groove_width", func(e *EngineFamily) any { return &e.GrooveWidth }},
	{"groove_outer_diameter", func(e *EngineFamily) any { return &e.GrooveOuterDiameter }},
	{"plug_groove", func(e *EngineFamily) any { return &e.PlugGroove }},
	{"plug_diameter", func(e *EngineFamily) any { return &e.PlugDiameter }},
	{"plug_bore", func(e *EngineFamily) any { return &e.PlugBore }},
	{"seal_form", func(e *EngineFamily) any { return &e.SealForm }},
	{"seal_inner_diameter", func(e *EngineFamily) any { return &e.SealInnerDiameter }},
	{"seal_section", func(e *EngineFamily) any { return &e.SealSection }},
	{"seal_material", func(e *EngineFamily) any { return &e.SealMaterial }},
	{"bypass_disc", func(e *EngineFamily) any { return &e.BypassDisc }},
	{"thermostat_type", func(e *EngineFamily) any { return &e.ThermostatType }},
	{"indexed", func(e *EngineFamily) any { return &e.Indexed }},
	{"air_bleed", func(e *EngineFamily) any { return &e.AirBleed }},
	{"hose_outside", func(e *EngineFamily) any { return &e.HoseOutside }},
	{"bolt_thread", func(e *EngineFamily) any { return &e.BoltThread }},
	{"bolt_count", func(e *EngineFamily) any { return &e.BoltCount }},
	{"bolt_class", func(e *EngineFamily) any { return &e.BoltClass }},
	{"bolt_torque", func(e *EngineFamily) any { return &e.BoltTorque }},
	{"bolt_hole", func(e *EngineFamily) any { return &e.BoltHole }},
	{"thread_material", func(e *EngineFamily) any { return &e.ThreadMaterial }},
	{"housing_material", func(e *EngineFamily) any { return &e.HousingMaterial }},
	{"notes", func(e *EngineFamily) any { return &e.Notes }},
}

var circuitSlots = slots[Circuit]{
	{"coolant_chemistry", func(c *Circuit) any { return &c.CoolantChem }},
	{"coolant_approval", func(c *Circuit) any { return &c.CoolantApproval }},
	{"coolant_glycol", func(c *Circuit) any { return &c.CoolantGlycol }},
	{"coolant_colour", func(c *Circuit) any { return &c.CoolantColour }},
	{"coolant_capacity", func(c *Circuit) any { return &c.CoolantCapacity }},
	{"drain_volume", func(c *Circuit) any { return &c.DrainVolume }},
	{"strength", func(c *Circuit) any { return &c.Strength }},
	{"excluded", func(c *Circuit) any { return &c.Excluded }},
}

var (
	partIndex    = partSlots.index()
	engineIndex  = engineSlots.index()
	circuitIndex = circuitSlots.index()
)

func (s slots[T]) index() map[string]func(*T) any {
	m := make(map[string]func(*T) any, len(s))
	for _, e := range s {
		m[e.name] = e.slot
	}
	return m
}

func (s slots[T]) fields() []Field {
	fields, noun := make([]Field, 0, len(s)), new(T)
	for _, e := range s {
		fields = append(fields, Field{e.name, kindOf(e.name, e.slot(noun))})
	}
	return fields
}

func kindOf(name string, slot any) Kind {
	switch slot.(type) {
	case *Stated[bool]:
		return KindBool
	case *Stated[Count]:
		return KindCount
	case *Stated[Date]:
		return KindDate
	case *Stated[units.Temperature]:
		return KindTemperature
	case *Stated[units.Length]:
		return KindLength
	case *Stated[units.Volume]:
		if name == "displacement" {
			return KindDisplacement
		}
		return KindVolume
	case *Stated[units.Pressure]:
		return KindPressure
	case *Stated[units.Percent]:
		return KindPercent
	case *Stated[units.Money]:
		return KindMoney
	case *Stated[units.ModelYears]:
		return KindYears
	}
	return KindText
}

// PartFields returns every fact a sheet can state about a part, in the order
// of the documentation. The number itself is not among them.
func PartFields() []Field { return partSlots.fields() }

// EngineFields returns the facts of an engine family, CircuitFields those of
// one of its circuits.
func EngineFields() []Field { return engineSlots.fields() }

// CircuitFields returns the facts of one coolant circuit of an engine family.
func CircuitFields() []Field { return circuitSlots.fields() }

// Apply puts a fact into its place. An unknown field or an unreadable year
// text is an error.
func (p *Part) Apply(f Fact) error { return apply(p, partIndex, f) }

// Apply puts a fact into its place; facts of a circuit go into the circuit of
// that name, which is added where it is new.
func (e *EngineFamily) Apply(circuit string, f Fact) error {
	if _, ok := circuitIndex[f.Field]; !ok {
		return apply(e, engineIndex, f)
	}
	i := slices.IndexFunc(e.Circuits, func(c Circuit) bool { return c.Name == circuit })
	if i < 0 {
		e.Circuits = append(e.Circuits, Circuit{Name: circuit})
		i = len(e.Circuits) - 1
	}
	return apply(&e.Circuits[i], circuitIndex, f)
}

func apply[T any](noun *T, index map[string]func(*T) any, f Fact) error {
	slot, ok := index[f.Field]
	if !ok {
		return fmt.Errorf("%q is not a field of this noun", f.Field)
	}
	switch s := slot(noun).(type) {
	case *Stated[string]:
		*s = Say(f.Word, f.Text, f.Origin)
	case *Stated[bool]:
		*s = Say(f.Int != 0, f.Text, f.Origin)
	case *Stated[Count]:
		*s = Say(CountOf(f.Int), f.Text, f.Origin)
	case *Stated[Date]:
		*s = Say(Date(f.Int), f.Text, f.Origin)
	case *Stated[units.Temperature]:
		*s = Say(units.TemperatureOf(f.Int), f.Text, f.Origin)
	case *Stated[units.Length]:
		*s = Say(units.LengthOf(f.Int), f.Text, f.Origin)
	case *Stated[units.Volume]:
		*s = Say(units.VolumeOf(f.Int), f.Text, f.Origin)
	case *Stated[units.Pressure]:
		*s = Say(units.PressureOf(f.Int), f.Text, f.Origin)
	case *Stated[units.Percent]:
		*s = Say(units.PercentOf(f.Int), f.Text, f.Origin)
	case *Stated[units.Money]:
		*s = Say(units.MoneyOf(f.Int, f.Word), f.Text, f.Origin)
	case *Stated[units.ModelYears]:
		years, err := units.ParseModelYears(f.Word)
		if err != nil {
			return fmt.Errorf("field %s: %w", f.Field, err)
		}
		*s = Say(years, f.Text, f.Origin)
	default:
		return fmt.Errorf("field %s has no way to be stored", f.Field)
	}
	return nil
}
