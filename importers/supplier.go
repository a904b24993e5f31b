package importers

import (
	"slices"

	"fitfill/catalog"
)

func init() {
	register(func() *kindSpec {
		return &kindSpec{
			kind:  catalog.SupplierSheet,
			order: 90,
			fields: slices.Concat(
				texts("number", "currency"),
				stated(catalog.PartFields(), "description", "notes", "stock", "stock_date", "delivery", "replaces", "replaced_by"),
				free(texts("make", "model", "engine", "vin8", "where_fitted", "quantity", "condition", "other_supplier", "other_number", "relation")),
				free([]field{{name: "years", kind: catalog.KindYears}, {name: "year_from", kind: catalog.KindYears}, {name: "year_to", kind: catalog.KindYears}}),
			),
			required: []string{"number"},
			identity: "number",
			noun:     "part",
			facts:    nameSet(catalog.PartFields()),
			bind:     bindWith(partRow),
		}
	})
}

// supplierRow is one row of a supplier's sheet.
type supplierRow struct {
	Row word `csv:"_row"`

	Number   word `csv:"number"`
	Currency word `csv:"currency"`

	Type        word  `csv:"type"`
	Description word  `csv:"description"`
	Brand       word  `csv:"brand"`
	Notes       word  `csv:"notes"`
	Barcode     word  `csv:"barcode"`
	Replaces    word  `csv:"replaces"`
	ReplacedBy  word  `csv:"replaced_by"`
	Price       money `csv:"price"`
	PricePer    word  `csv:"price_per"`
	Pack        whole `csv:"pack"`
	Deposit     money `csv:"deposit"`
	TaxIncluded flag  `csv:"tax_included"`
	Stock       word  `csv:"stock"`
	StockDate   day   `csv:"stock_date"`
	Delivery    word  `csv:"delivery"`

	OpeningTemp     whole `csv:"opening_temp"`
	FullOpenTemp    whole `csv:"full_open_temp"`
	FlangeDiameter  whole `csv:"flange_diameter"`
	FlangeThickness whole `csv:"flange_thickness"`
	AirBleed        flag  `csv:"air_bleed"`
	Indexed         flag  `csv:"indexed"`
	SealIncluded    flag  `csv:"seal_included"`
	BypassDisc      flag  `csv:"bypass_disc"`
	ThermostatType  word  `csv:"thermostat_type"`

	SealForm      word  `csv:"seal_form"`
	ORingSize     word  `csv:"oring_size"`
	InnerDiameter whole `csv:"inner_diameter"`
	OuterDiameter whole `csv:"outer_diameter"`
	Section       whole `csv:"section"`
	Thickness     whole `csv:"thickness"`
	Material      word  `csv:"material"`

	HoseBore     whole `csv:"hose_bore"`
	HoseOutside  whole `csv:"hose_outside"`
	ClampMin     whole `csv:"clamp_min"`
	ClampMax     whole `csv:"clamp_max"`
	CapPressure  whole `csv:"cap_pressure"`
	CapForm      word  `csv:"cap_form"`
	CapSeatDepth whole `csv:"cap_seat_depth"`
	VacuumValve  flag  `csv:"vacuum_valve"`
	FilterCharge word  `csv:"filter_charge"`
	Thread       word  `csv:"thread"`

	Chemistry   word  `csv:"chemistry"`
	Glycol      word  `csv:"glycol"`
	Form        word  `csv:"form"`
	Strength    whole `csv:"strength"`
	Colour      word  `csv:"colour"`
	Approvals   word  `csv:"approvals"`
	PackVolume  whole `csv:"pack_volume"`
	MixingClaim word  `csv:"mixing_claim"`
	Shelf       word  `csv:"shelf"`

	Make        word `csv:"make"`
	Model       word `csv:"model"`
	Years       word `csv:"years"`
	YearFrom    word `csv:"year_from"`
	YearTo      word `csv:"year_to"`
	Engine      word `csv:"engine"`
	VIN8        word `csv:"vin8"`
	WhereFitted word `csv:"where_fitted"`
	Quantity    word `csv:"quantity"`
	Condition   word `csv:"condition"`

	OtherSupplier word `csv:"other_supplier"`
	OtherNumber   word `csv:"other_number"`
	Relation      word `csv:"relation"`
}

func partRow(r *supplierRow, c *rowContext) (catalog.SheetRow, *problem) {
	fits, p := fitments(r, c)
	if p != nil {
		return catalog.SheetRow{}, p
	}
	facts, p := priceBasis(r, c, fullOpening(r, c, c.facts()))
	if p != nil {
		return catalog.SheetRow{}, p
	}
	part := c.memory.part(catalog.PartRow{Number: r.Number.text, Facts: facts, Fitments: fits, CrossRefs: crossReferences(r, c)})
	return catalog.SheetRow{Line: c.origin.Line, Part: part}, nil
}

func nameSet(lists ...[]catalog.Field) map[string]bool {
	set := map[string]bool{}
	for _, l := range lists {
		for _, f := range l {
			set[f.Name] = true
		}
	}
	return set
}

// fullOpening adds the second temperature of a cell such as "82/95" or
// "82-95 °C": where a thermostat starts to open and where it is fully open. A
// column of its own for the second one takes precedence.
func fullOpening(r *supplierRow, c *rowContext, facts []catalog.Fact) []catalog.Fact {
	if !r.OpeningTemp.known() || r.FullOpenTemp.known() {
		return facts
	}
	text := c.written("opening_temp")
	if _, rest := nextNumber(text); !hasDigit(rest) {
		return facts
	}
	high, ok := c.plan.upperTemperature("opening_temp", text)
	if !ok || high <= r.OpeningTemp.number() {
		return facts
	}
	return append(facts, catalog.Fact{Field: "full_open_temp", Int: high, Text: text, Origin: c.origin})
}
