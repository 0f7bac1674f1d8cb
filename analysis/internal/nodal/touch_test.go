package nodal

import (
	"math"
	"testing"

	"coldcheck/analysis/internal/circuit"
	"coldcheck/analysis/internal/circuit/circuittest"
	"coldcheck/analysis/internal/topology"
)

func touched(t *testing.T, parts string) *Network {
	t.Helper()
	return NewNetwork(circuittest.With(t, `PL1 = { kind = "plug", hot = "line 1", neutral = "line 2", style = "polarized" }`+"\n"+parts, "chassis"))
}

// shares gives, for each part, what it brings of the body's current.
func shares(n *Network, plug circuit.Polarity) map[string]float64 {
	state := n.Circuit.StateOf(plug, nil)
	h := n.Solve(state).Touch("chassis")
	got := map[string]float64{}
	for _, ch := range topology.NewWirings(n.Circuit).Of(state).Channels {
		from := ch.A
		if from == "chassis" {
			from = ch.B
		}
		if x, ok := h.Brought(ch, from); ok {
			got[ch.Part] = x / h.Severity()
		}
	}
	return got
}

// The body's current is that of the reading at the point.
func TestTouchIsTheReading(t *testing.T) {
	n := touched(t, `C1 = { kind = "capacitor", ends = ["line 1", "chassis"], value = "0.047 uF", rating = "400 V" }`)
	s := n.Solve(n.Circuit.StateOf(circuit.AsMarked, nil))
	if got, want := s.Touch("chassis").Severity(), s.Read("chassis", "").Severity(); math.Abs(got-want) > 1e-9*want {
		t.Errorf("%g, want %g", got, want)
	}
	if s.Touch("nowhere").Connected {
		t.Error("a body on a node that is not there")
	}
}

// Two capacitors from the hot side share the body's current as their sizes; one to the neutral side
// brings almost nothing, though touching changes what it carries.
func TestTouchDivides(t *testing.T) {
	n := touched(t, `C1 = { kind = "capacitor", ends = ["line 1", "chassis"], value = "0.03 uF", rating = "400 V" }
C2 = { kind = "capacitor", ends = ["line 1", "chassis"], value = "0.01 uF", rating = "400 V" }
C3 = { kind = "capacitor", ends = ["line 2", "chassis"], value = "0.01 uF", rating = "400 V" }`)
	got := shares(n, circuit.AsMarked)
	if ratio := got["C1"] / got["C2"]; math.Abs(ratio-3) > 1e-6 {
		t.Errorf("C1 brings %g times what C2 does, want 3", ratio)
	}
	if sum := got["C1"] + got["C2"]; math.Abs(sum-1) > 0.05 {
		t.Errorf("C1 and C2 bring %g of it", sum)
	}
	if got["C3"] > 0.05 {
		t.Errorf("C3 from the neutral side brings %g of it", got["C3"])
	}
	turned := shares(n, circuit.Reversed)
	if math.Abs(turned["C3"]-1) > 0.05 || turned["C1"] > 0.05 {
		t.Errorf("turned round C3 brings %g of it, C1 %g", turned["C3"], turned["C1"])
	}
}

// The current in a channel is Ohm's law.
func TestThrough(t *testing.T) {
	n := touched(t, `R1 = { kind = "resistor", ends = ["line 1", "line 2"], value = "600" }
C1 = { kind = "capacitor", ends = ["line 1", "chassis"], value = "0.01 uF", rating = "400 V" }`)
	state := n.Circuit.StateOf(circuit.AsMarked, nil)
	s := n.Solve(state)
	for _, ch := range topology.NewWirings(n.Circuit).Of(state).Channels {
		if ch.Part != "R1" {
			continue
		}
		amps, direct, ok := s.Through(ch)
		if want := 120 / 600.2; !ok || math.Abs(amps-want) > 1e-4 || direct > 1e-9 {
			t.Errorf("%g A and %g A DC, want %g A", amps, direct, want)
		}
		return
	}
	t.Error("no channel of R1")
}
