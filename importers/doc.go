// Package importers turns the bytes of a sheet into typed rows, so that no row
// is lost silently.
//
// The way of a sheet: Open reads the bytes into records and finds separator and
// heading row; GuessKind says which kind of sheet the headings look like;
// Propose maps the sheet's headings to the catalogue's fields and asks where it
// would have to guess; Read turns every record into one catalog.SheetRow, one
// held row with its reason, or one row skipped on purpose, and checks that the
// three add up.
//
// Suggest is Propose with its reasons. WriteHeld writes held rows as a sheet to
// correct, Corrections and ReadWith put it back onto the lines of the original.
//
// Nothing is repaired by shifting cells, a part number is text from the first
// byte to the last, and a cell without a word means "not stated", never zero.
package importers
