// Package working solves the set while it plays: the periodic steady state in time, with the tubes
// drawing. It does not judge touch; it says what the line should draw, what each part carries and what a
// meter should show.
//
// What it solves is the same wiring as package nodal's, at instantaneous values: a few branches a part
// (branches.go), each a conductance, a capacitor, a coil, a source, or a rectifier that conducts or
// blocks. Heaters and lamps have the resistance of their own volts, and a tube draws while its heater is
// fed (warm.go).
//
// How it steps: a capacitor or a coil over a step of time is a conductance beside a current that is known
// from the step's beginning (companion.go: the companion models, Chua and Lin 1975, here by the
// trapezoidal rule). For one set of conducting rectifiers the step is then linear, so its equations are
// factored once and kept. A step in which a rectifier changes is taken anew as two half steps of backward
// Euler, which the trapezoidal rule's ringing does not survive (period.go).
//
// When it is periodic: by Newton's method on what a period does to the volts of the capacitors and the
// amps of the coils (settle.go: shooting, Aprille and Trick 1972), until the way that is left is
// closeEnough of the largest volts or amps. A reservoir that nothing drains has no one steady state; where
// a period changes it by still or less it is taken as charged.
//
// Its errors: ErrRestless where no steady state is found within mostPeriods, or heaters and lamps find no
// rest; ErrRectifiers where no state of the rectifiers agrees with their own volts; ErrTooLarge for a set
// with more capacitors and coils than are worth solving. figures.go is what is told of the last period.
package working
