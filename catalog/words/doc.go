// Package words decides what a sentence said at a counter is: a part number, a
// barcode, a VIN, a trouble code, a vehicle, an engine, or words.
//
// It takes text and vocabularies and gives back a Reading; it looks nothing up
// itself. What a catalogue knows of a sentence's stretches is handed in as
// Known, so that one round of look-ups serves a whole sentence.
package words
