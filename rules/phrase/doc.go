// Package phrase is the one wording of what every report, sheet and page tells alike: lists and
// their grammar, figures with one rounding, plug and switches, faults, parts, readings and what
// would explain them.
//
// A figure that was worked out has three significant digits and never more than three decimals
// (Figure, Volts, Milliamps, Value), one that is an estimate two (Estimate, Charge, Drain), one that
// the set file states those that it was stated with (Stated). None has zeros at its end or an
// exponent: a bench reads 60.4 mA, 4.48 mA, 6.3 V, 0.21 mA.
package phrase
