// Package units holds the quantities of the trade as distinct types.
//
// Every quantity is a struct around one whole number of a small base unit, so
// that equality is exact, storage is an integer, and a pressure can never be
// passed where a torque is wanted. Parse functions read the notations of trade
// sheets and refuse what has two readings; Format prints for people, Exact
// prints what the parse function reads back unchanged. Conversion factors are
// those of NIST SP 811 (Guide for the Use of the International System of
// Units), appendix B.8.
package units
