package app

import "fitfill/importers"

// Guard makes a text safe to open in a program for tables: one that it would
// take for a formula gets an apostrophe in front. Imports take it off again.
func Guard(text string) string { return importers.Guard(text) }
