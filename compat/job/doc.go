// Package job puts everything that a job takes on one list: the parts by role,
// judged as a set, the coolant, and what has to be minded. It takes verdicts as
// values and gives none itself.
package job
