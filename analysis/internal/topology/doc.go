// Package topology is the wiring of a set as a graph: a vertex a node, an edge each way through a
// part, in one state. It answers what leads where, and by which parts; how much current comes that
// way is for nodal to say.
//
//   - channel.go has the ways through parts: what sort they are, and how many safeguards each
//     stands for;
//   - wiring.go has the Wiring of a state, and what conductors alone join in it;
//   - graph.go gives it to gonum's algorithms, with a channel as a vertex between its two nodes;
//   - paths.go has the paths: fewest safeguards first, then fewest parts.
package topology
