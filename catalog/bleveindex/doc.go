// Package bleveindex is the search index: one immutable folder per supplier,
// built once by an import and only read afterwards.
//
// Nobody ever writes to an index that is in use, because a writer would lock
// every reader out, another process's too. Scores of separate indexes cannot
// be compared, so a search returns its hits in tiers and by part number; the
// caller makes the final order.
package bleveindex
