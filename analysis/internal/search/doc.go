// Package search goes through the states of a set with every set of faults up to a limit, and finds
// what makes metal live: the safeguard depth, the worst states, the minimal sets of faults.
//
//   - examine.go has what is asked for and what is found;
//   - depth.go goes through the sets of faults by size, worker.go evaluates those of one combination
//     of switch positions, several workers at a time;
//   - minimal.go keeps the sets found so far (the minimal cut sets of IEC 61025) and tells which need
//     not be evaluated any more;
//   - worst.go keeps the worst states, and bounds those that cannot be;
//   - pairs.go looks at two points, hand to hand, and at all of them joined;
//   - table.go lists states with what is read in each;
//   - bounds.go says what is too much to search, and by how much it is cut.
package search
