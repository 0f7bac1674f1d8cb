package nodal

import (
	"math"
	"testing"

	"coldcheck/analysis/internal/circuit"
	"coldcheck/netlist/settest"
)

// TestEarthedWindingMovesWhole: a winding that floats reads nothing to earth; one end earthed by a lead, that end stays
// at nothing and the other stands at the winding's volts, as it does across the winding. Earthed at the other end it is
// the same the other way round. 120 V to 60 V, nothing drawn.
func TestEarthedWindingMovesWhole(t *testing.T) {
	n := touched(t, `T1 = { kind = "transformer", windings = { primary = ["line 1", "line 2"], secondary = ["high", "chassis"] }, volts = { primary = 120, secondary = 60 } }
B1 = { kind = "battery", positive = "plus", negative = "high", volts = 90 }`)
	s := n.Solve(n.Circuit.StateOf(circuit.AsMarked, nil))
	for _, end := range []string{"high", "chassis"} {
		settest.Below(t, "floating "+end, abs(s.Volts(end)), 1e-3)
	}
	for earthed, other := range map[string]string{"chassis": "high", "high": "chassis"} {
		with := s.Earthed(earthed)
		settest.Below(t, earthed+" earthed", abs(with.Volts(earthed)), 1e-3)
		settest.Near(t, other+" then", abs(with.Volts(other)), 60, 1e-3)
		ac, _ := with.Across("high", "chassis")
		settest.Near(t, "across the winding", ac, 60, 1e-3)
		// The battery goes along: its plus is 90 V over the end that it is on, which has no DC of its own.
		settest.Near(t, "the battery's plus", with.VoltsDC("plus"), 90, 1e-3)
	}
}

func abs(z complex128) float64 { return math.Hypot(real(z), imag(z)) }

// TestWattsOfAFlow: 120 V across 1 kΩ behind the supply's 0.1 Ω a side, and 90 V of a battery of 1 Ω across 2 kΩ.
func TestWattsOfAFlow(t *testing.T) {
	n := touched(t, `R1 = { kind = "resistor", ends = ["line 1", "line 2"], value = "1k" }
B1 = { kind = "battery", positive = "plus", negative = "chassis", volts = 90 }
R2 = { kind = "resistor", ends = ["plus", "chassis"], value = "2k" }
W1 = { kind = "wire", ends = ["chassis", "line 2"] }`)
	s := n.Solve(n.Circuit.StateOf(circuit.AsMarked, nil))
	for part, want := range map[string]float64{"R1": math.Pow(120/1000.2, 2) * 1000, "R2": math.Pow(90/2001.0, 2) * 2000} {
		flows := s.Flows(part)
		if len(flows) != 1 {
			t.Fatalf("%s has %d flows", part, len(flows))
		}
		settest.Near(t, "watts of "+part, flows[0].Watts(), want, 1e-3)
	}
}
