package nodal

import (
	"math"
	"testing"

	"coldcheck/analysis/internal/circuit"
	"coldcheck/analysis/internal/circuit/circuittest"
)

const dcParts = `PL1 = { kind = "plug", ends = ["a", "b"] }
D1 = { kind = "rectifier", anode = "a", cathode = "B+", type = "silicon" }
R1 = { kind = "resistor", ends = ["B+", "b"], value = "100k" }
C1 = { kind = "capacitor", ends = ["B+", "b"], value = "40 uF" }
B1 = { kind = "battery", positive = "A+", negative = "b", volts = 9 }
R2 = { kind = "resistor", ends = ["A+", "b"], value = "1k" }
CY = { kind = "capacitor", ends = ["b", "chassis"], value = "1 nF", class = "Y2" }`

// With √2 a rectifier is that of the solution; otherwise B-plus goes with the share, and a battery
// does not. The resistor's 1.7 mA come through the supply.
func TestDCWithScalesRectifiersAlone(t *testing.T) {
	n := NewNetwork(circuittest.With(t, dcParts, "chassis"))
	s := n.Solve(n.Circuit.StateOf(circuit.AsMarked, nil))
	near := func(what string, got, want float64) {
		t.Helper()
		if math.Abs(got-want) > 1e-4*math.Max(1, math.Abs(want)) {
			t.Errorf("%s is %g, expected %g", what, got, want)
		}
	}
	for _, share := range []float64{math.Sqrt2, 1.15, 0} {
		volts := s.DCWith(func(string) float64 { return share })
		near("B-plus", volts("B+")-volts("b"), share/math.Sqrt2*(s.VoltsDC("B+")-s.VoltsDC("b")))
		near("the battery", volts("A+")-volts("b"), 9*1000.0/1001)
		near("a node that is not there", volts("none"), 0)
	}
	near("B-plus with √2", s.VoltsDC("B+")-s.VoltsDC("b"), math.Sqrt2*120)
	near("the supply's DC in mA", 1e3*s.SupplyAmpsDC(), math.Sqrt2*120/100)
}
