// Package coolant judges whether a coolant may be poured on top of what is in
// an engine, and computes what the result freezes and boils at.
//
// It is pure: a Question in, an Answer out. Every limit, class, reason and
// sentence of the trade comes from the reference tables handed to NewTables.
package coolant
