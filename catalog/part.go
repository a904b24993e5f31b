package catalog

import "fitfill/catalog/units"

// Part is one supplier's part, kit or fluid with every fact its sheets state.
type Part struct {
	ID       int64
	Supplier string
	Number   string // as printed, spaces and dashes kept
	Key      string // Key(Number)

	Type        Stated[string] // canonical part type: thermostat, seal, hose, clamp, cap, coolant, cleaner, filter ...
	Description Stated[string]
	Brand       Stated[string]
	Notes       Stated[string]
	Barcode     Stated[string]
	Replaces    Stated[string]
	ReplacedBy  Stated[string]

	Price       Stated[units.Money]
	PricePer    Stated[string] // each, pack or litre
	Pack        Stated[Count]
	Deposit     Stated[units.Money]
	TaxIncluded Stated[bool]
	Stock       Stated[string]
	StockDate   Stated[Date]
	Delivery    Stated[string]

	OpeningTemp     Stated[units.Temperature]
	FullOpenTemp    Stated[units.Temperature]
	FlangeDiameter  Stated[units.Length]
	FlangeThickness Stated[units.Length]
	AirBleed        Stated[bool]
	Indexed         Stated[bool]
	SealIncluded    Stated[bool]
	BypassDisc      Stated[bool]
	ThermostatType  Stated[string] // plain, map-controlled or integrated

	SealForm      Stated[string] // o-ring, moulded or flat
	ORingSize     Stated[string] // "AS568-222", "P38", "37.7x3.5"
	InnerDiameter Stated[units.Length]
	OuterDiameter Stated[units.Length]
	Section       Stated[units.Length]
	Thickness     Stated[units.Length]
	Material      Stated[string]

	HoseBore     Stated[units.Length]
	HoseOutside  Stated[units.Length]
	ClampMin     Stated[units.Length]
	ClampMax     Stated[units.Length]
	CapPressure  Stated[units.Pressure]
	CapForm      Stated[string] // bayonet or thread
	CapSeatDepth Stated[units.Length]
	VacuumValve  Stated[bool]
	FilterCharge Stated[string]
	Thread       Stated[string]

	Chemistry   Stated[string] // chemistry id: iat, oat, si-oat ...
	Glycol      Stated[string] // ethylene, propylene
	Form        Stated[string] // concentrate, premix
	Strength    Stated[units.Percent]
	Colour      Stated[string]
	Approvals   Stated[string]
	PackVolume  Stated[units.Volume]
	MixingClaim Stated[string]
	Shelf       Stated[string]
}

// Fitment is one line of a supplier's list that says a part belongs in an
// engine or vehicle.
type Fitment struct {
	Make, Model, Engine string
	Years               units.ModelYears
	YearsText           string
	VIN8                string // letter or digit at position 8 of the VIN that the line asks for
	WhereFitted         string
	Quantity            string
	Condition           string      // note that narrows the line, as written
	Answered            *NoteAnswer // what the garage says the condition means; nil: nobody was asked
	Resolved            *Resolved   // nil where the list names the engine outright
	Origin              Origin
}

// Resolved says how a listing that describes its engine was taken for a family.
type Resolved struct {
	Family   string
	Others   []EngineFamily // that the same words mean
	Words    []string       // that nothing on file settles
	NoEngine bool           // the list names a model and no engine
}

// Relation says what a cross-reference claims.
type Relation string

// The relations of a cross-reference, read from the part that the line is about.
const (
	Same       Relation = "same"
	Replaces   Relation = "replaces"
	ReplacedBy Relation = "replaced_by"
)

// CrossReference says that a part is the same as, or replaces, another number.
type CrossReference struct {
	OtherSupplier string
	OtherNumber   string
	OtherKey      string
	Relation      Relation
	Origin        Origin
}
