package circuit_test

import (
	"fmt"
	"math/cmplx"
	"testing"

	"coldcheck/analysis/internal/circuit"
	"coldcheck/analysis/internal/circuit/circuittest"
)

// TestReservoirEdge: a capacitor of 5 µF holds its voltage while a rectifier conducts, 0.01 Ω to AC; one
// of 4.99 µF is what it is, 531.6 Ω at 60 Hz. While all block, both are capacitors.
func TestReservoirEdge(t *testing.T) {
	for value, held := range map[string]float64{"5 uF": 0.01, "4.99 uF": 1 / (2 * 3.14159265 * 60 * 4.99e-6)} {
		c := circuittest.With(t, fmt.Sprintf(`C1 = { kind = "capacitor", ends = ["L", "N"], value = %q }`, value), "L")
		e := &c.Elements[0]
		for mode, want := range map[circuit.Mode]float64{circuit.Held: held, circuit.Blocking: 1 / (c.Omega * e.Farads)} {
			if ohms, ok := c.Impedance(e, mode, 0); !ok || cmplx.Abs(ohms)/want > 1.0001 || cmplx.Abs(ohms)/want < 0.9999 {
				t.Errorf("%s in mode %d: %v, want %g Ω", value, mode, ohms, want)
			}
		}
		for _, mode := range []circuit.Mode{circuit.Small, circuit.Direct, circuit.Drawn, circuit.Alone, circuit.AloneDrawn, circuit.Unplugged} {
			if ohms, ok := c.Impedance(e, mode, 0); ok {
				t.Errorf("%s passes DC through %v Ω", value, ohms)
			}
		}
	}
}

// TestWindingEdge: a winding of 50 V has 10 Ω, one of 49.9 V 0.05 Ω.
func TestWindingEdge(t *testing.T) {
	c := circuittest.With(t, `T1 = { kind = "transformer", windings = { p = ["L", "N"], s = ["a", "L"], h = ["b", "L"] }, volts = { p = 120, s = 50, h = 49.9 } }
R1 = { kind = "resistor", ends = ["a", "b"], value = 100 }`, "L")
	for k, want := range []float64{10, 10, 0.05} {
		if w := c.Transformers[0].Windings[k]; w.Ohms != want {
			t.Errorf("a winding of %g V has %g Ω, want %g", w.Volts, w.Ohms, want)
		}
	}
}

// TestSafeguardEdge: a resistor of 10 kΩ is a safeguard and can short, one of 9.99 kΩ is none.
func TestSafeguardEdge(t *testing.T) {
	for value, want := range map[string]bool{"10k": true, "9.99k": false} {
		for _, kind := range []string{"resistor", "potentiometer"} {
			c := circuittest.With(t, fmt.Sprintf(`R1 = { kind = %q, ends = ["L", "N"], value = %q }`, kind, value), "L")
			if got := circuit.HasKind(c.FaultsOf("R1"), circuit.Shorted); got != want {
				t.Errorf("a %s of %s can short: %v", kind, value, got)
			}
		}
	}
}

// TestUnknownClip: a bench that names a node that is not there.
func TestUnknownClip(t *testing.T) {
	c := circuittest.With(t, `R1 = { kind = "resistor", ends = ["L", "N"], value = 100 }`, "L")
	if _, err := circuit.New(c.Set, circuit.Bench{Earthed: []string{"nowhere"}}); err == nil || err.Error() != `no node "nowhere" in the set` {
		t.Errorf("got %v", err)
	}
}

// TestDCModes: nothing is solved at DC where nothing drives; the batteries alone where rectifiers charge besides; with
// the tubes drawing only where one draws.
func TestDCModes(t *testing.T) {
	const (
		rectifier = `D1 = { kind = "rectifier", anode = "L", cathode = "B+", type = "silicon" }` + "\n"
		battery   = `B1 = { kind = "battery", positive = "B+", negative = "N", volts = 90 }` + "\n"
		load      = `R1 = { kind = "resistor", ends = ["B+", "N"], value = "10k" }` + "\n"
	)
	for parts, want := range map[string][]circuit.Mode{
		load:                       nil,
		load + battery:             {circuit.Direct},
		load + rectifier:           {circuit.Direct},
		load + battery + rectifier: {circuit.Direct, circuit.Alone},
	} {
		c := circuittest.With(t, `W1 = { kind = "wire", ends = ["L", "B+"] }`+"\n"+parts, "N")
		if got := c.DCModes(); fmt.Sprint(got) != fmt.Sprint(want) {
			t.Errorf("modes %v, want %v of\n%s", got, want, parts)
		}
	}
}
