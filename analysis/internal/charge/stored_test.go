package charge

import (
	"math"
	"testing"

	"coldcheck/analysis/internal/circuit"
	"coldcheck/analysis/internal/circuit/circuittest"
	"coldcheck/analysis/internal/nodal"
	"coldcheck/netlist/settest"
)

const peak120 = 120 * math.Sqrt2 // 169.706 V

// storedOf finds the charge of a part; ok is false where it is not told.
func storedOf(c *circuit.Circuit, part string) (Stored, bool) {
	for _, s := range Unplugged(nodal.NewNetwork(c)) {
		if s.Part == part {
			return s, true
		}
	}
	return Stored{}, false
}

func TestStoredCharge(t *testing.T) {
	const halfWave = `V1 = { kind = "tube", type = "35W4", pins = { 5 = "L", 7 = "plus" } }
C1 = { kind = "capacitor", ends = ["plus", "N"], value = "40 uF" }
W1 = { kind = "wire", ends = ["N", "chassis"] }
`
	c := circuittest.With(t, halfWave, "chassis")
	s, ok := storedOf(c, "C1")
	if !ok || !math.IsInf(s.Seconds, 1) || !math.IsInf(s.Drain, 1) {
		t.Fatalf("a reservoir that nothing drains: %+v %v", s, ok)
	}
	settest.Near(t, "volts", s.Volts, peak120, 1e-3)
	settest.Near(t, "joules", s.Joules, 40e-6*peak120*peak120/2, 1e-3) // C·V²/2 = 0.576 J
	// with a bleeder of 100 kΩ: τ = 4 s, 60 V after 4·ln(169.7/60) = 4.159 s
	c = circuittest.With(t, halfWave+`R1 = { kind = "resistor", ends = ["plus", "N"], value = "100k" }`, "chassis")
	s, _ = storedOf(c, "C1")
	settest.Near(t, "drain", s.Drain, 100e3, 1e-4)
	settest.Near(t, "seconds", s.Seconds, 4*math.Log(s.Volts/60), 1e-4)
	settest.Near(t, "seconds in figures", s.Seconds, 4.159, 2e-3)
	// a leakage of its own of 100 kΩ drains as much
	c = circuittest.With(t, settest.Replaced(t, halfWave, `"40 uF"`, `"40 uF", leakage = "100k"`), "chassis")
	s, _ = storedOf(c, "C1")
	settest.Near(t, "leakage drains", s.Drain, 100e3, 1e-4)
	// a switch in the bleeder's leg: the position that drains least counts
	c = circuittest.With(t, halfWave+`R1 = { kind = "resistor", ends = ["plus", "low"], value = "100k" }
S1 = { kind = "switch", ends = ["low", "N"] }`, "chassis")
	if s, _ = storedOf(c, "C1"); !math.IsInf(s.Seconds, 1) {
		t.Errorf("with the bleeder switched off it drains in %v s", s.Seconds)
	}
}

func TestCapacitorAcrossTheBlades(t *testing.T) {
	const across = `C1 = { kind = "capacitor", ends = ["L", "N"], value = "1 uF" }
R1 = { kind = "resistor", ends = ["L", "N"], value = "1 meg" }
W1 = { kind = "wire", ends = ["N", "chassis"] }`
	s, ok := storedOf(circuittest.With(t, across, "chassis"), "C1")
	if !ok {
		t.Fatal("a capacitor across the blades is not told")
	}
	// mains peak; τ = 1 s, 60 V after ln(169.7/60) = 1.0397 s, under the 2 s of the blades
	settest.Near(t, "volts", s.Volts, peak120, 1e-6)
	settest.Near(t, "seconds", s.Seconds, 1.0397, 1e-3)
	settest.Near(t, "at the blades", s.BladeSeconds, 1.0397, 1e-3)
	// behind a fuse it is across the blades as well
	s, _ = storedOf(circuittest.With(t, `F1 = { kind = "fuse", ends = ["L", "in"] }
C1 = { kind = "capacitor", ends = ["in", "N"], value = "1 uF" }
W1 = { kind = "wire", ends = ["N", "chassis"] }`, "chassis"), "C1")
	if !math.IsInf(s.BladeSeconds, 1) {
		t.Errorf("nothing drains it, yet the blades fall in %v s", s.BladeSeconds)
	}
	// a string of cold heaters drains it: 117 V / 75 mA = 1560 Ω, cold a sixth, 260 Ω: 0.27 ms
	s, _ = storedOf(circuittest.With(t, `C1 = { kind = "capacitor", ends = ["L", "N"], value = "1 uF" }
V1 = { kind = "tube", type = "117Z6GT", pins = { 2 = "L", 7 = "N" } }
W1 = { kind = "wire", ends = ["N", "chassis"] }`, "chassis"), "C1")
	settest.Near(t, "cold heater", s.Drain, 260, 1e-3)
	settest.Near(t, "cold heater, seconds", s.Seconds, 260e-6*math.Log(peak120/60), 1e-3)
}
