package diagnose

import (
	"fmt"
	"maps"
	"math"
	"math/cmplx"
	"slices"

	"coldcheck/analysis"
	"coldcheck/analysis/internal/circuit"
	"coldcheck/analysis/internal/nodal"
	"coldcheck/netlist"
)

// Quantity is what a meter is asked for, in the words of the set file.
type Quantity string

// The quantities: V AC rms, V DC signed, Ω with the plug out, mA AC rms through the IEC 60990
// network.
const (
	VoltsRead     Quantity = "volts"
	VoltsDCRead   Quantity = "dc_volts"
	OhmsRead      Quantity = "ohms"
	MilliampsRead Quantity = "milliamps"
)

// What a meter is taken to be good for. A figure within Band of what is expected is as expected.
const (
	MeterShare = 0.03  // of the figure: what meter and leads may be off
	MainsShare = 0.05  // of the figure: what the mains may be off (ANSI C84.1, range A)
	OhmsRange  = 100e6 // Ω, from here up an ohmmeter shows open

	voltsFloor     = 0.1   // V
	milliampsFloor = 0.005 // mA
	ohmsFloor      = 0.5   // Ω, leads and clips

	// neutralVolts is how far a loaded circuit's neutral commonly stands off earth: what is joined
	// to it does not read 0 V.
	neutralVolts = 3.0 // V

	// strayFarads is what leads, windings and the air between pass from the line to a point that
	// nothing holds; a meter of 10 MΩ then shows tens of volts where the wiring gives none.
	strayFarads = 100e-12
)

// Measurement is one thing that a meter can be asked of a set.
type Measurement struct {
	A, B      string // nodes; netlist.BuildingEarth is earth, whether a part is on it or not
	Quantity  Quantity
	Plug      analysis.Polarity  // "" with the plug out, as for ohms
	Settings  []analysis.Setting // every switch
	Controls  []analysis.Setting // every control
	Pulled    []string           // tubes out of their sockets
	Lifted    []string           // parts with one lead off
	MeterOhms float64            // the meter's own; of volts only
	Tied      bool               // of ohms: the blades are joined

	position int
}

// MeasurementOf turns a reading of the file into what was asked of the meter.
func MeasurementOf(c *analysis.Circuit, r netlist.Reading) Measurement {
	m := Measurement{A: r.At[0], B: r.At[1], Quantity: Quantity(r.Quantity), Pulled: r.Pulled, Lifted: r.Lifted, MeterOhms: r.Meter}
	polarity := analysis.AsMarked
	if r.Plug != "out" {
		polarity = analysis.Polarity(r.Plug)
		m.Plug = polarity
	}
	settings := maps.Clone(r.Controls)
	if settings == nil {
		settings = map[string]string{}
	}
	maps.Copy(settings, r.Switches)
	state := c.StateOf(polarity, settings)
	m.Settings, m.Controls, m.position = state.Settings, state.Controls, state.Position
	return m
}

// withCombo is the measurement in one combination of switch positions.
func atPosition(c *analysis.Circuit, m Measurement, position int) Measurement {
	m.position, m.Settings, m.Controls = position, c.Positions[position].Settings, c.Positions[position].Controls
	return m
}

// without reports whether a part was out of its socket, or had a lead off: what it leaks, or its value, does not
// matter then.
func (m Measurement) without(part string) bool {
	return slices.Contains(m.Pulled, part) || slices.Contains(m.Lifted, part)
}

// key tells measurements apart.
func (m Measurement) key() string {
	ends := []string{m.A, m.B}
	if m.Quantity != VoltsDCRead && m.A > m.B {
		ends[0], ends[1] = m.B, m.A
	}
	return fmt.Sprintf("%q %s %s %d %q %q %g %t", ends, m.Quantity, m.Plug, m.position, m.Pulled, m.Lifted, m.MeterOhms, m.Tied)
}

// shows is what the meter shows of a source: open volts and the impedance behind them. A breaker
// that opened leaves nothing to read.
func (m Measurement) shows(t nodal.Source, cleared bool, omega float64) float64 {
	if cleared {
		return 0
	}
	switch m.Quantity {
	case VoltsRead:
		return cmplx.Abs(t.Volts * complex(m.MeterOhms, 0) / (complex(m.MeterOhms, 0) + t.Ohms))
	case VoltsDCRead:
		return t.VoltsDC * m.MeterOhms / (m.MeterOhms + t.OhmsDC)
	case MilliampsRead:
		return 1e3 * cmplx.Abs(t.Volts/(circuit.BodyImpedance(omega)+t.Ohms))
	}
	return 0
}

// floor is the least that a reading may be off whatever its size, in its own unit; ohms is the
// impedance of the point as described.
func (m Measurement) floor(ohms complex128, c *circuit.Circuit) float64 {
	stray := c.Set.Volts * c.Omega * strayFarads
	load, neutral := complex(m.MeterOhms, 0), 0.0
	if m.A == netlist.BuildingEarth || m.B == netlist.BuildingEarth {
		neutral = neutralVolts
	}
	switch m.Quantity {
	case VoltsRead:
		across := cmplx.Abs(ohms * load / (ohms + load))
		return voltsFloor + min(stray*across, c.Set.Volts/2) + neutral*cmplx.Abs(load/(load+ohms))
	case VoltsDCRead:
		return voltsFloor
	case MilliampsRead:
		return milliampsFloor + 1e3*(stray+neutral/cmplx.Abs(circuit.BodyImpedance(c.Omega)+ohms))
	}
	return ohmsFloor
}

// onScale is a resistance as an ohmmeter shows it.
func onScale(ohms float64) float64 {
	if math.IsNaN(ohms) || ohms > OhmsRange {
		return OhmsRange
	}
	return math.Max(ohms, 0)
}
