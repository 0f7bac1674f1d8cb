// Package nodal solves the states of a circuit: modified nodal analysis in phasors (Ho, Ruehli and
// Brennan 1975).
//
// One evaluator serves the search, the tables, the rules and the readings:
//
//   - network.go gives every conductor that may open a branch current, and every place at which a
//     state can differ from another a port;
//   - assemble.go writes the equations of one combination of switch positions in one mode (AC, AC
//     with reservoirs held, DC, unplugged), conductance.go their minimum conductance to ground;
//     factor.go factors them, for gonum has no sparse and no complex factorisation;
//   - equations.go keeps them, and what one unit into a port shows at others;
//   - update.go puts faults in without factoring again: a low-rank update (Woodbury's identity, the
//     compensation theorem), and an update of an update;
//   - evaluate.go solves a state: both plug polarities, DC, each rectifier conducting, and whether a
//     breaker clears it;
//   - reading.go turns a Thevenin equivalent into what a meter and a body find, and judges it;
//   - solution.go gives a state's every voltage and current, touch.go what brings the current into a
//     body, unplugged.go what an ohmmeter finds.
//
// Where an update would lose digits the faults are written into fresh equations; the caller does not
// see the difference.
package nodal
