// Package nodal solves the states of a circuit: modified nodal analysis in phasors (Ho, Ruehli and
// Brennan 1975).
//
// One evaluator serves the search, the tables, the rules and the readings:
//
//   - network.go gives every conductor that may open a branch current, and every place at which a
//     state can differ from another a port;
//   - assemble.go writes the equations of one position of switches and controls in one mode (AC, AC
//     with reservoirs held or the small diodes conducting, DC in four ways, unplugged), a minimum
//     conductance to ground for each joined node among them; package sparse factors them;
//   - group.go says which nodes a current can return between: what floats reads nothing;
//   - equations.go keeps them, and what one unit into a port shows at others;
//   - update.go puts faults in without factoring again: a low-rank update (Woodbury's identity, the
//     compensation theorem), and an update of an update;
//   - faultset.go puts a set of faults into the equations of an evaluator's states;
//   - evaluate.go solves a state: both plug polarities, DC, each rectifier conducting, the small diodes,
//     whether a breaker clears it or a fuse opens one leg; evaluation.go is what is found; driven.go
//     leaves out what no current can flow in;
//   - reading.go turns a Thevenin equivalent into what a meter and a body find, and judges it;
//   - solution.go gives a state's every voltage and current, touch.go what brings the current into a
//     body, earthed.go what it is with a touch point earthed, unplugged.go what an ohmmeter finds.
//
// Where an update would lose digits the faults are written into fresh equations; the caller does not
// see the difference.
package nodal
