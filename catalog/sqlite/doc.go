// Package sqlite keeps the catalogue: one file, readable by many processes
// while one of them imports.
//
// The store is the truth. An import writes its rows into a file of its own
// (Stage) and moves them over in one transaction (Stage.Commit), together with
// the name of the search index that belongs to them. A process that dies in
// between leaves the old catalogue as it was.
package sqlite
