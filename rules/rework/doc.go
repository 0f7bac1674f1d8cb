// Package rework says what a change of a set's wiring does: which findings it cures, which it
// leaves, which it brings, step by step; and it searches for changes that leave nothing at DANGER
// or WARNING.
//
// compare.go compares two reports, stages.go carries a plan out and examines every set on the way,
// and the rest is the search: edits.go lists what trade practice does, search.go looks for the
// smallest plans made of it. Every candidate is judged by the same rules as any set.
package rework
