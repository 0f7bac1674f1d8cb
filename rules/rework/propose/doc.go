// Package propose searches for the smallest plans that leave nothing at DANGER or WARNING, out of a list
// of remedies that trade practice has for it.
//
// A remedy (remedy.go) is a few steps that belong together: about one part (remedy_part.go,
// remedy_capacitor.go), a touch point (remedy_metal.go), B-minus on metal (remedy_lift.go), or the line
// side (remedy_switch.go, remedy_mains.go, with the line conductors of conductors.go). steps.go writes
// steps with names that the set does not use yet.
//
// A candidate (candidate.go) is the set with some remedies carried out, and is judged by the same rules
// as any set. bears.go says which remedies can have a part in curing which finding. search.go goes from
// candidate to candidate by branch and bound: it follows the remedies that bear on one open finding, and
// prunes whatever needs more remedies than the size of plan that it looks for. proposals.go asks it for
// plans that differ in kind, and tells what no remedy cures and what the work budget left out; tidy.go
// makes of a plan what a person would carry out.
package propose
