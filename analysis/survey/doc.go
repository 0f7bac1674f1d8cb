// Package survey is what a set does to a person in every state that one can put it into with a
// plug, its controls and a failure: what is read at each accessible part, and which path brings the
// current there. Who renders it decides nothing of this.
//
// A survey is made in this order:
//
//  1. branch.go names what stands between two nodes whatever the state: a part, a piece of one, or
//     several wires side by side. paths.go finds, for each accessible part, the paths to it from the
//     plug's two blades, and those from it to an earth.
//  2. survey.go lists the states: both plug polarities and every position of the switches, with the
//     controls at rest, and beside no failure each failure alone and each minimal set of several; and
//     with nothing failed, each control turned everywhere that it can stand. bounds.go says how many
//     of them are taken, evaluate.go works each out.
//  3. carry.go solves each state with a hand on the part, and flow.go traces the hand's current back
//     to where it comes from, as paths whose currents add up at every node; carry.go tells besides
//     what every branch and every node is in the state. choose.go keeps the paths that matter, each
//     that brings much of what is felt in any state among them. line.go puts those of all parts
//     together.
//  4. foremost.go finds the worst state of a part, and the part that matters most; walk.go the
//     states that show, one after the other, what each control and each sort of failure does to it.
package survey
