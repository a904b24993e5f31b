package coolant

import (
	"fitfill/catalog"
	"fitfill/catalog/units"
)

// Fluid is what somebody says a fluid is.
type Fluid struct {
	Said        string   // the words used
	Chemistries []string // one, or several it may be, the likeliest first; empty: not known
	ByColour    string   // set when only a colour is known
	ByApproval  string   // the approval that its label names, where no product is known
	Presumed    bool     // the first fill, presumed untouched

	// Mixed is what a fill is known to be made of, from the log of what went
	// in: shares of the concentrate by chemistry. What is "unknown" among them
	// is as the rest of the Fluid says.
	Mixed   []Share
	Origins []catalog.Origin // where that stands: the log, or what carries the approval

	// Contains and FreeOf name inhibitors (silicate, phosphate, nitrite,
	// molybdate, amine, 2-eha, borate) that a label, a record or a strip says
	// are in it or not. A strip that shows none belongs into FreeOf only while
	// the fill is in date: inhibitors are used up.
	Contains, FreeOf []string
	InDate           bool                    // by record inside its service interval
	AgeMonths        catalog.Stated[float64] // since it was filled
	ChangedMonths    catalog.Stated[float64] // since it was changed last by its log; what stayed in is older
	Readings         []Reading               // of tests, in the order they were made

	Strength   catalog.Stated[units.Percent] // vol % as poured of effective glycol, of the fluid as poured
	StrengthPM units.Percent                 // its uncertainty; 0: the usual one
	Glycol     string                        // ethylene, propylene, or "" (judged as ethylene)
	Product    *catalog.Part                 // what the label states; nil if there is none
}

// Share is a chemistry's part in the concentrate of a fill.
type Share struct {
	Chemistry string
	Percent   units.Percent
}

// Question asks whether Add may go on top of Fill.
type Question struct {
	Engine  *catalog.EngineFamily // nil if none is named
	Circuit string                // "" if none is named

	Fill, Add  Fluid
	FillVolume catalog.Stated[units.Volume] // in the system before topping; else the capacity less what is poured
	AddVolume  catalog.Stated[units.Volume] // not known: the ladder tells

	CapPressure   catalog.Stated[units.Pressure] // gauge
	Altitude      units.Length
	Coldest       catalog.Stated[units.Temperature]
	WaterHardness catalog.Stated[float64] // mg/L as CaCO3
	WaterChloride catalog.Stated[float64] // mg/L
	Nitrite       catalog.Stated[float64] // mg/kg in the fill, by strip

	FreezeReads catalog.Stated[units.Temperature] // of the fill, on a refractometer
	Scale       string                            // of the refractometer: ethylene, propylene, or "" not said

	Condition   string   // "", clear, hazy, rusty, oily, gel
	TestsAtHand []string // nil: those every garage has
	Show        units.System
}
