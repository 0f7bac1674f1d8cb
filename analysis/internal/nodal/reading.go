package nodal

import (
	"math"
	"math/cmplx"

	"coldcheck/analysis/internal/circuit"
)

// Reading is what is found at a touch point to earth, or between two points.
type Reading struct {
	VoltsOpen   float64 // V AC rms, nothing connected
	VoltsMeter  float64 // V AC rms, on a meter of MeterOhms
	Milliamps   float64 // mA AC rms through the IEC 60990 network
	VoltsDC     float64 // V DC, nothing connected, unsigned
	MilliampsDC float64 // mA DC through BodyDCOhms
}

// Class says where a reading stands against the energy source classes of IEC 62368-1.
type Class int

// The classes.
const (
	UnderLimit Class = iota // within ES1
	Startles                // over ES1: it can be felt, and startles
	Live                    // over ES2: past where a person is sure to let go
)

// Class judges a reading: over a class only where both its voltage and its current limits are
// exceeded, AC and DC taken together (IEC 62368-1:2018, 5.2.2.2, table 4).
func (r Reading) Class() Class {
	switch {
	case r.VoltsOpen/circuit.ES2VoltsAC+r.VoltsDC/circuit.ES2VoltsDC > 1 && r.Severity() > 1:
		return Live
	case r.VoltsOpen/circuit.ES1VoltsAC+r.VoltsDC/circuit.ES1VoltsDC > 1 && r.ofES1() > 1:
		return Startles
	}
	return UnderLimit
}

// Severity is the current against the limits of ES2, AC and DC added.
func (r Reading) Severity() float64 {
	return r.Milliamps/circuit.ES2AmpsAC + r.MilliampsDC/circuit.ES2AmpsDC
}

// ofES1 is the current against the limits of ES1, AC and DC added.
func (r Reading) ofES1() float64 {
	return r.Milliamps/circuit.ES1AmpsAC + r.MilliampsDC/circuit.ES1AmpsDC
}

// AtLimit reports whether the current stands within a fifth of the ES1 or the ES2 limit: mains and
// capacitors have tolerances.
func (r Reading) AtLimit() bool {
	at := func(x float64) bool { return x > circuit.AtLimitShare && x < 1/circuit.AtLimitShare }
	return at(r.Severity()) || at(r.ofES1())
}

// JustUnder reports whether a reading is within ES1, but would not be with mains and parts a fifth off:
// it exceeds both limits taken at AtLimitShare.
func (r Reading) JustUnder() bool {
	volts := r.VoltsOpen/circuit.ES1VoltsAC + r.VoltsDC/circuit.ES1VoltsDC
	return r.Class() == UnderLimit && volts > circuit.AtLimitShare && r.ofES1() > circuit.AtLimitShare
}

// Source is a point as its Thevenin equivalent: open volts and the impedance behind them, at AC and at
// DC.
type Source struct {
	Volts, Ohms     complex128 // V rms, Ω
	VoltsDC, OhmsDC float64    // signed
}

// Into is the open volts' part across a load.
func (s Source) Into(load complex128) float64 { return cmplx.Abs(s.Volts * load / (load + s.Ohms)) }

// IntoDC is the same at DC, signed.
func (s Source) IntoDC(load float64) float64 { return s.VoltsDC * load / (load + s.OhmsDC) }

// Reading is what a meter and a body find of a source at omega rad/s.
func (s Source) Reading(omega float64) Reading {
	return Reading{
		VoltsOpen:   cmplx.Abs(s.Volts),
		VoltsMeter:  s.Into(circuit.MeterOhms),
		Milliamps:   1e3 * cmplx.Abs(s.Volts/(circuit.BodyImpedance(omega)+s.Ohms)),
		VoltsDC:     math.Abs(s.VoltsDC),
		MilliampsDC: 1e3 * math.Abs(s.VoltsDC) / (circuit.BodyDCOhms + s.OhmsDC),
	}
}
