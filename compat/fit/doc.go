// Package fit judges whether a part goes into an engine: what suppliers' lists
// say, what cross-references say, and what the sizes say.
//
// Judge is the way in. It runs the checks of the part's type (one file each),
// every one of which returns findings with their numbers and their origin, and
// combines them by rules that a person can check (combine.go). Every limit is
// a row of a reference table; NewTables reads them.
//
// Lengths inside the computations are in millimetres, shares in per cent.
package fit
