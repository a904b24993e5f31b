// Package returns says whose parts come back.
//
// Imported sales and returns become units under watch (Match), units become a
// share returned within H days per supplier (ShareReturned), and a fair
// comparison of suppliers: same part type, same age (RiskTable), with the
// uncertainty of few failures kept in every figure (Compare). Judge does all of
// it at once.
//
// Two endpoints are never mixed: a quality failure (dead on arrival, leaked,
// failed in service) and a supply error (wrong part supplied). Everything else
// is neutral, and a reason nobody wrote down is never guessed.
//
// The package is pure: values in, values out. Its thresholds come in as
// Settings. Times are whole days from sale to return, not from fitting to
// failure; a failure that the garage never hears of counts as a part that held.
package returns
