package words

import (
	"fitfill/catalog"
	"fitfill/catalog/units"
)

// As says what a sentence was read as.
type As string

// What a sentence can be read as.
const (
	AsNumber  As = "number"
	AsBarcode As = "barcode"
	AsVIN     As = "vin"
	AsCode    As = "trouble-code"
	AsVehicle As = "vehicle"
	AsEngine  As = "engine"
	AsWords   As = "words"
)

// Span is a stretch of the sentence and what it was read as.
type Span struct {
	Text  string `json:"text"`
	Means string `json:"means"`
}

// SizeKind says what a size measures.
type SizeKind string

// The kinds of size.
const (
	SizeLength      SizeKind = "length"
	SizeTemperature SizeKind = "temperature"
	SizePressure    SizeKind = "pressure"
	SizeVolume      SizeKind = "volume"
)

// Size is a size that was said, with how far off a part's may be: both in the
// whole numbers in which the unit types keep them.
type Size struct {
	Kind     SizeKind
	At, Near int64
	Text     string
}

// Concept is a word with the other words that mean the same.
type Concept struct {
	Said string
	Any  []string
}

// Reading is what a sentence was read as, with everything in it.
type Reading struct {
	Text  string
	As    As
	Spans []Span

	Numbers      []string // keys of part numbers that the catalogue has
	Partial      string   // key that may be part of a number
	Barcode      string
	BarcodeRight bool
	VIN          string
	Code         string

	Types     []string
	TypeWords []string // as they were said
	Engines   []string // keys, and so the next four
	Makes     []string
	Models    []string
	Suppliers []string
	Marks     []string

	Years         []int
	Displacement  catalog.Stated[units.Volume]
	Cylinders     int
	Fuel          string
	Electrified   bool
	With, Without []string

	Sizes    []Size
	Concepts []Concept
	Words    []string // words that only the parts' texts can know
	LeftOut  []string // words that carry nothing
}

// NamesEngine reports whether the sentence says anything that tells engines
// apart.
func (r *Reading) NamesEngine() bool {
	return len(r.Engines)+len(r.Makes)+len(r.Models) > 0 || r.Displacement.Known || r.Cylinders > 0 || r.Electrified || r.Fuel != ""
}

// AsksForParts reports whether the sentence says what sort of part is wanted.
func (r *Reading) AsksForParts() bool {
	return len(r.Types)+len(r.Sizes)+len(r.Concepts)+len(r.Words) > 0
}

// NameKind is what a name in the catalogue is the name of.
type NameKind uint8

// The kinds of name.
const (
	NameEngine NameKind = iota
	NameModel
	NameMake
	NameSupplier
	NameMark
	NameNumber
)

var nameMeans = [...]string{NameEngine: "engine", NameModel: "model", NameMake: "make", NameSupplier: "supplier", NameMark: "vehicle on file", NameNumber: "part number"}

// Known holds what the catalogue knows of a sentence's stretches, by key.
type Known map[string][]NameKind

// has reports whether a key is a name of that kind.
func (k Known) has(key string, kind NameKind) bool {
	for _, n := range k[key] {
		if n == kind {
			return true
		}
	}
	return false
}
