// Package circuit makes a set ready for analysis: what its parts are to the equations, what can go
// wrong with them, and in which states the set can be.
//
//   - constants.go has every constant of the model, with its unit and source;
//   - circuit.go has the Circuit and what it is built from;
//   - element.go has the primitive pieces into which parts are taken apart, and their admittance,
//     which is written here and nowhere else;
//   - compile.go, compile_tube.go and compile_transformer.go turn each kind of part into elements
//     and faults;
//   - fault.go has the faults, what they cost, and which cannot be together;
//   - state.go has the states: plug polarity, switches, what conducts, what failed.
//
// The package solves nothing and knows no paths; nodal and topology stand on it.
package circuit
