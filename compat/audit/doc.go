// Package audit finds what suppliers' sheets say against each other, against the
// dimensions and against the garage's own facts: what a buyer sends back to a
// supplier.
//
// An Auditor is shown the engines one by one, each with the parts that are listed
// for it, and then the groups of cross-references that cannot be right. Each
// check is one file that registers itself; a new check is a new file.
package audit
