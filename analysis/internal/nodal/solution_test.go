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

// With nothing drawn a rectifier charges to the peak, and a battery is what it is. The resistor's 1.7 mA come
// through the supply.
func TestDirect(t *testing.T) {
	n := NewNetwork(circuittest.With(t, dcParts, "chassis"))
	s := n.Solve(n.Circuit.StateOf(circuit.AsMarked, nil))
	near := func(what string, got, want float64) {
		t.Helper()
		if math.Abs(got-want) > 1e-4*math.Max(1, math.Abs(want)) {
			t.Errorf("%s is %g, expected %g", what, got, want)
		}
	}
	near("the battery", s.VoltsDC("A+")-s.VoltsDC("b"), 9*1000.0/1001)
	near("B-plus", s.VoltsDC("B+")-s.VoltsDC("b"), math.Sqrt2*120)
	near("the supply's DC in mA", 1e3*s.SupplyAmpsDC(), math.Sqrt2*120/100)
}
