package charge

import (
	"testing"

	"coldcheck/analysis/internal/circuit"
	"coldcheck/analysis/internal/circuit/circuittest"
	"coldcheck/analysis/internal/nodal"
	"coldcheck/netlist/settest"
)

func stressOf(c *circuit.Circuit, part string, others map[string][]string) Stress {
	for _, s := range Stresses(nodal.NewNetwork(c), others) {
		if s.Part == part {
			return s
		}
	}
	return Stress{}
}

// Two alike in a row from the line to metal that floats stand nothing until the metal is earthed; then half
// the line's peak each, and the whole when the other shorts.
func TestStressOfABarrier(t *testing.T) {
	c := circuittest.With(t, `C1 = { kind = "capacitor", ends = ["L", "x"], value = "1 nF" }
C2 = { kind = "capacitor", ends = ["x", "chassis"], value = "1 nF" }
R1 = { kind = "resistor", ends = ["L", "N"], value = 800 }`, "chassis")
	s := stressOf(c, "C1", nil)
	settest.Near(t, "half", s.Volts, peak120/2, 1e-3)
	if s.Earthed != "chassis" {
		t.Errorf("earthed %q", s.Earthed)
	}
	s = stressOf(c, "C1", map[string][]string{"C1": {"C2"}, "C2": {"C1"}})
	settest.Near(t, "the whole", s.Volts, peak120, 1e-3)
	if len(s.State.Faults) != 1 || s.State.Faults[0].Part != "C2" {
		t.Errorf("with %v", s.State.Faults)
	}
}

// At DC metal behind a capacitor floats, and there is nothing across it: earthed, the capacitor stands the
// reservoir's volts too. The rectifier charges the reservoir to the line's peak; the plug reversed, B-minus
// is the hot leg, and the line's peak adds to it.
func TestStressOfFloatingMetalAtDC(t *testing.T) {
	c := circuittest.With(t, `D1 = { kind = "rectifier", anode = "L", cathode = "plus", type = "silicon" }
C1 = { kind = "capacitor", ends = ["plus", "N"], value = "40 uF" }
C2 = { kind = "capacitor", ends = ["plus", "antenna"], value = "1 nF" }`, "antenna")
	s := stressOf(c, "C2", nil)
	settest.Near(t, "both", s.Volts, 2*peak120, 2e-3)
	if s.Earthed != "antenna" || s.State.Plug != circuit.Reversed {
		t.Errorf("earthed %q, plug %s", s.Earthed, s.State.Plug)
	}
	// A reservoir stands its own volts whatever is earthed; of metal on B-minus one way is cleared then.
	settest.Near(t, "reservoir", stressOf(c, "C1", nil).Volts, peak120, 2e-3)
}

// A winding that no wire joins to the line has no volts against earth until one end is earthed.
func TestStressOfAFloatingWinding(t *testing.T) {
	c := circuittest.With(t, `T1 = { kind = "transformer", windings = { primary = ["L", "N"], secondary = ["high", "chassis"] }, volts = { primary = 120, secondary = 120 } }
C1 = { kind = "capacitor", ends = ["high", "earthy"], value = "1 nF" }
R1 = { kind = "resistor", ends = ["earthy", "N"], value = "1k" }`, "chassis")
	// The plug reversed, N is at 120 V and the winding's far end at as many in the other direction.
	s := stressOf(c, "C1", nil)
	settest.Near(t, "both", s.Volts, 2*peak120, 2e-2)
	if s.Earthed != "chassis" || s.State.Plug != circuit.Reversed {
		t.Errorf("%+v", s)
	}
}
