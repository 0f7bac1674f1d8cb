// Package rework says what a change of a set's wiring does: which findings it cures, which it
// leaves, which it brings, step by step.
//
// stages.go carries a plan out and examines the sets on the way, as far as the work budget goes, and
// passing.go tells the hazards of the way alone. compare.go sorts the findings before and after into
// cured, left and new, by the sets on the way; match.go says which finding of one set is the same as
// one of another. Two whole sets are compared as a plan of one step is.
//
// Nothing here judges a set: internal/examine has the rules do it, and reckons what that takes. propose
// searches for plans that leave nothing at DANGER or WARNING, and compares by this package.
package rework
