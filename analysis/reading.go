package analysis

import (
	"math"
	"math/cmplx"
)

// Reading is what is found at a touch point to earth, or between two points.
type Reading struct {
	VoltsOpen   float64 // V AC rms, nothing connected
	VoltsMeter  float64 // V AC rms, on a meter of MeterOhms
	Milliamps   float64 // mA AC rms through the IEC 60990 network
	VoltsDC     float64 // V DC, nothing connected, unsigned
	MilliampsDC float64 // mA DC through BodyDCOhms
}

// Band says where a reading stands against IEC 62368-1 table 4.
type Band int

// The bands.
const (
	Faint   Band = iota // within ES1
	Tingles             // over ES1: it can be felt, it startles
	Live                // over ES2: past where a person is sure to let go
)

// Band judges a reading: over a class only where both its voltage and its current limits are
// exceeded, AC and DC taken together (IEC 62368-1:2018, 5.2.2.2).
func (r Reading) Band() Band {
	switch {
	case r.VoltsOpen/ES2VoltsAC+r.VoltsDC/ES2VoltsDC > 1 && r.Severity() > 1:
		return Live
	case r.VoltsOpen/ES1VoltsAC+r.VoltsDC/ES1VoltsDC > 1 && r.Milliamps/ES1AmpsAC+r.MilliampsDC/ES1AmpsDC > 1:
		return Tingles
	}
	return Faint
}

// Severity is the current against the limits of ES2, AC and DC added.
func (r Reading) Severity() float64 { return r.Milliamps/ES2AmpsAC + r.MilliampsDC/ES2AmpsDC }

// NearLimit tells whether the current stands within a fifth of the ES1 or the ES2 limit: mains
// and capacitors have tolerances.
func (r Reading) NearLimit() bool {
	near := func(x float64) bool { return x > 0.8 && x < 1.25 }
	return near(r.Severity()) || near(r.Milliamps/ES1AmpsAC+r.MilliampsDC/ES1AmpsDC)
}

// thevenin is a point as a source: open volts and the impedance behind them, at AC and at DC.
type thevenin struct {
	volts, ohms     complex128
	dcVolts, dcOhms float64
}

func (t thevenin) reading(omega float64) Reading {
	return Reading{
		VoltsOpen:   cmplx.Abs(t.volts),
		VoltsMeter:  cmplx.Abs(t.volts * MeterOhms / (MeterOhms + t.ohms)),
		Milliamps:   1e3 * cmplx.Abs(t.volts/(BodyImpedance(omega)+t.ohms)),
		VoltsDC:     math.Abs(t.dcVolts),
		MilliampsDC: 1e3 * math.Abs(t.dcVolts) / (BodyDCOhms + t.dcOhms),
	}
}
