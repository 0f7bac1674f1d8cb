// Package analysis says what the wiring of a set can do: which states it has, which faults, how
// current may come from the line cord to metal that a hand can reach, and how much.
//
// The phases, in order, and where each leaves its result:
//
//  1. New makes a set ready: its parts become elements and faults (compile.go, fault.go).
//  2. A state is a plug way, the position of every switch, at most one rectifier taken as
//     conducting, and a set of faults (state.go).
//  3. Wiring is the same set as a graph in one state, and its paths (wiring.go, paths.go).
//  4. A base is the nodal equations of one switch combination, factored once (ports.go, assemble.go,
//     sparse.go); a set of faults is a change of a few branches, solved on their ports alone
//     (compensate.go).
//  5. Readings are what a meter and a body would find at a touch point (reading.go), for every
//     state (evaluate.go).
//  6. Examine searches all sets of faults up to a limit and gives the safeguard depth, the worst
//     states and the minimal fault sets of each touch point (depth.go; search.go, look.go and view.go
//     for the larger sets; bounds.go for what is too much).
//  7. Checks lays out what to measure (checks.go), and Explain ranks what would explain readings
//     that the wiring cannot give (explain.go).
//
// The model, with its constants, is nodal analysis in phasors, judged by IEC 60990 (how touch
// current is measured) and IEC 62368-1 (how much is allowed). The package knows nothing of
// wording: it gives figures, states and paths by name.
package analysis
