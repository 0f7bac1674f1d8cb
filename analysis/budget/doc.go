// Package budget bounds work by counts, never by a clock: what is left out of a large set is the same
// on every machine, and so is the output, to the byte.
//
// The unit is the state evaluation: one state of a set of few touch points, looked at with one more
// set of failures, some 0.2 to 0.5 µs. What costs more is reckoned in so many of them.
//
// limits.go names every limit, what it bounds and where what is left out for it is told: whoever
// refuses work owes that word to the person who asked. budget.go keeps account of what was taken.
package budget
