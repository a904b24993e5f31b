// Package vin reads vehicle identification numbers: their form by ISO 3779,
// the check digit and the model year by 49 CFR part 565.
//
// It corrects nothing by itself. What a number may have been meant to be is
// offered by Corrections, each with the words that say what was changed.
package vin
