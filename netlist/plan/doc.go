// Package plan is rework plans (TOML, format 1): steps in the order in which a person will solder.
//
// Parse reads a plan (read.go); what a step can do and which keys it takes stands in plan.go. Apply carries
// the steps out on a set as its file writes it, and checks what comes out after each as if it were read from
// a file (apply.go); which end of a part a step moves is found among the places where its keys name points
// (move.go, slots.go). What does not fit is told at the step that it comes of. write.go writes a plan,
// schema.go gives the JSON Schema of plans.
package plan
