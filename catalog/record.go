package catalog

// SheetKind is a kind of sheet that can be imported.
type SheetKind string

// The kinds of sheet.
const (
	SupplierSheet  SheetKind = "supplier"
	EnginesSheet   SheetKind = "engines"
	VehiclesSheet  SheetKind = "vehicles"
	PurchasesSheet SheetKind = "purchases"
	ReturnsSheet   SheetKind = "returns"
	FillsSheet     SheetKind = "fills"
	FittedSheet    SheetKind = "fitted"
)

// SheetKinds lists every kind in the order of the documentation.
var SheetKinds = []SheetKind{SupplierSheet, EnginesSheet, VehiclesSheet, PurchasesSheet, ReturnsSheet, FillsSheet, FittedSheet}

// SheetRow is what one accepted row of a sheet says. Exactly one of the
// pointers is set. Origins inside need not carry the line's text: the store
// keeps that once per sheet.
type SheetRow struct {
	Line int

	Part     *PartRow
	Engine   *EngineRow
	Vehicle  *Vehicle
	Purchase *Purchase
	Return   *Return
	Fill     *Fill
	Fitted   *Fitted
}

// PartRow is what one row of a supplier's sheet says about one of its parts.
type PartRow struct {
	Number    string
	Facts     []Fact
	Fitments  []Fitment
	CrossRefs []CrossReference
}

// EngineRow is what one row of the engines sheet says about a family or about
// one of its circuits (DefaultCircuit where the row names none).
type EngineRow struct {
	Family  string
	Circuit string
	Facts   []Fact
}

// HeldRow is a row that was not taken, with what is wrong with it.
type HeldRow struct {
	Line   int    `json:"line"`
	Column string `json:"column"` // the sheet's own heading, empty if the whole row is meant
	Text   string `json:"text"`   // the cell, or the row where no cell is meant
	Reason string `json:"reason"` // plain words: what is wrong, and what to do
	Code   string `json:"code"`   // short name of the kind of problem
	Raw    string `json:"-"`      // the row's text as it stands in the file
	Number string `json:"-"`      // part number of the row where it could be read
}
