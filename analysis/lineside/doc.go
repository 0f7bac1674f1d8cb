// Package lineside is the way from the plug into the set: what hangs on each of the two line conductors,
// through which switches and past which fuses, and what stands between them and metal that a hand can reach.
// It asks the wiring alone, and no figure.
//
// Of lays a side out in this order:
//
//  1. side.go takes the wirings of every position of the switches and finds, by conductors alone, the
//     channels that each blade feeds in each: those that in some position lead on to the other blade.
//  2. switches.go compares the positions that differ in one control: what a switch takes off a conductor,
//     and which of two switches, one in each conductor, governs the other.
//  3. fuses.go leaves fuses out, one or all: what hangs behind which, and what past every one; and which fuse
//     stands behind a resistor or a coil, in a branch alone.
//
// What is asked of it then: hanging.go tells what draws current from the nodes that a blade reaches ahead of
// every switch, or of every fuse. windings.go tells where a transformer's winding on the line is tied to the
// rest. gaps.go looks round a piece of metal for the gap between what is joined to it and what is joined to
// the line, and says which part stands there.
package lineside
