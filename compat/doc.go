// Package compat holds what every judgement has in common: an Outcome, the
// Findings behind it and where they come from.
//
// Its sub-packages judge: coolant (mixing and strength), fit (does it go in),
// returns (whose parts come back). All of them are pure: values in, verdict
// out, no file, no clock, no database.
package compat
