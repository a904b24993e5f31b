// Package catalog holds the nouns of the trade and what was said about them.
//
// It knows no file, no database and no rule: importers fill these values,
// catalog/sqlite keeps them, compat judges them. Everything that came from a
// sheet carries an Origin, and the original text stands beside the parsed value.
package catalog
