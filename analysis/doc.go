// Package analysis says what the wiring of a set can do: which states it has, which faults, how
// current may come from the line cord to metal that a hand can reach, and how much.
//
// This package is the door; what stands behind it imports in this order:
//
//  1. internal/circuit makes a set ready: its parts become elements and faults, and it lists the
//     states;
//  2. internal/topology is the same set as a graph in one state, and its paths;
//  3. internal/nodal solves states: the nodal equations of one combination of switch positions,
//     factored once; sets of faults as low-rank updates; readings at touch points;
//  4. internal/charge finds what capacitors stand and keep;
//  5. internal/search goes through the sets of faults and finds the safeguard depth, the worst states
//     and the minimal fault sets.
//
// Package diagnose, beside them, lays out what to measure, and ranks what would explain readings that
// the wiring cannot give.
//
// The model, with its constants, is nodal analysis in phasors, judged by IEC 60990 (how touch
// current is measured) and IEC 62368-1 (how much is allowed). The package knows nothing of
// wording: it gives figures, states and paths by name.
package analysis
