package analysis

import (
	"math"
	"math/cmplx"
	"testing"

	"coldcheck/analysis/internal/circuit"
	"coldcheck/netlist/settest"
)

// Closed forms: each figure is worked out beside it from the circuit, by hand.

const w60, w50 = 2 * math.Pi * 60, 2 * math.Pi * 50

// body60 is the body at 60 Hz: 500 + 1500 ∥ 0.22 µF. ωRC = 376.99 · 1500 · 0.22e-6 = 0.12441, so
// 1500/(1 + j0.12441) = 1477.1 − j183.8, and the whole is 1977.1 − j183.8 Ω, 1985.7 Ω of modulus.
var body60 = 500 + 1500/(1+1i*w60*1500*0.22e-6)

var body50 = 500 + 1500/(1+1i*w50*1500*0.22e-6)

func TestBodyNetwork(t *testing.T) {
	settest.Near(t, "resistance", real(BodyImpedance(w60)), 1977.1, 1e-4)
	settest.Near(t, "reactance", imag(BodyImpedance(w60)), -183.8, 1e-3)
	settest.Near(t, "at 50 Hz", cmplx.Abs(BodyImpedance(w50)), 1990.0, 1e-4)
	c := circuitOf(t, `W1 = { kind = "wire", ends = ["L", "chassis"] }`, "chassis")
	// 120 V / |1977.1 − j183.8| = 120/1985.7 = 60.43 mA
	settest.Near(t, "straight into the body", c.Solve(on(c, AsMarked)).Read("chassis", "").Milliamps, 60.43, 1e-4)
	settest.Below(t, "reversed", c.Solve(on(c, Reversed)).Read("chassis", "").Milliamps, 1e-4)
}

func TestCapacitorIntoBodyAndMeter(t *testing.T) {
	c := circuitOf(t, `C1 = { kind = "capacitor", ends = ["L", "chassis"], value = "0.1 uF" }`, "chassis")
	r := c.Solve(on(c, AsMarked)).Read("chassis", "")
	// X = 1/(376.99 · 1e-7) = 26525.8 Ω: 120 / |1977.1 − j(183.8 + 26525.8)| = 120/26782.7 = 4.4805 mA
	settest.Near(t, "body", r.Milliamps, 4.4805, 1e-4)
	// 120 · 10 MΩ / |10 MΩ − j26.5 kΩ| = 120 / √(1 + 0.00265²) = 119.9996 V
	settest.Near(t, "meter", r.VoltsMeter, 119.9996, 1e-6)
	settest.Near(t, "open", r.VoltsOpen, 120, 1e-6)
	// shorted: 120/1985.7
	settest.Near(t, "shorted", c.Solve(on(c, AsMarked).WithFaults(faultOf(t, c, "C1", Shorted))).Read("chassis", "").Milliamps, 60.43, 1e-4)
	if r.VoltsDC != 0 || r.MilliampsDC != 0 {
		t.Errorf("DC from a capacitor: %+v", r)
	}
}

func TestFloatingBMinusThroughResistorAndCapacitor(t *testing.T) {
	const parts = `R1 = { kind = "resistor", ends = ["N", "chassis"], value = "220k" }
C1 = { kind = "capacitor", ends = ["N", "chassis"], value = "0.1 uF" }`
	for _, x := range []struct {
		mains string
		want  float64 // mA
		part  complex128
		body  complex128
		volts float64
	}{
		// Y = 1/220k + j/26525.8; Z = 3152 − j26146; with the body 5130 − j26330, 26825 Ω: 4.473 mA
		{"120 V 60 Hz", 4.473, 1 / complex(1/220e3, w60*1e-7), body60, 120},
		// X = 31831 Ω: Z = 4511 − j31178; with the body 6495 − j31332, 31998 Ω: 220 V give 6.875 mA
		{"220 V 50 Hz", 6.875, 1 / complex(1/220e3, w50*1e-7), body50, 220},
	} {
		c := newCircuit(t, settest.Load(t, settest.WithMains(x.mains, parts, "chassis")), Bench{})
		got := c.Solve(on(c, Reversed)).Read("chassis", "").Milliamps
		settest.Near(t, x.mains, got, x.want, 2e-4)
		settest.Near(t, x.mains+" by formula", got, 1e3*x.volts/cmplx.Abs(x.part+x.body), 1e-5)
		settest.Below(t, "as marked", c.Solve(on(c, AsMarked)).Read("chassis", "").Milliamps, 1e-4)
	}
}

func TestHeaterStringDivider(t *testing.T) {
	// 35 + 50 + 12.6 V at 0.15 A are 97.6/0.15 = 650.67 Ω. B-minus is at its lower end.
	c := circuitOf(t, `S1 = { kind = "switch", ends = ["N", "chassis"] }
V1 = { kind = "tube", type = "35W4", pins = { 4 = "L", 3 = "h1", 6 = "tap" } }
V2 = { kind = "tube", type = "50C5", pins = { 3 = "h1", 4 = "h2" } }
V3 = { kind = "tube", type = "12AV6", pins = { 3 = "h2", 4 = "chassis" } }`, "chassis", "tap", "h2")
	lost, pulled := faultOf(t, c, "supply", NeutralLost), faultOf(t, c, "V2", Pulled)
	s := c.Solve(on(c, AsMarked))
	// the tap stands 7.5 V of 97.6 below the line, the last heater 12.6 of 97.6 above B-minus
	settest.Near(t, "tap", s.Read("tap", "").VoltsOpen, 120*(1-7.5/97.6), 3e-4)
	settest.Near(t, "last heater", s.Read("h2", "").VoltsOpen, 120*12.6/97.6, 2e-3)
	settest.Near(t, "string", cmplx.Abs(s.Flows("V2")[0].Amps), 120/(650.67+0.2), 1e-5)
	// neutral lost: the whole line through the string, 120 / |650.67 + 1977.1 − j183.8| = 45.55 mA
	r := c.Solve(on(c, AsMarked).WithFaults(lost)).Read("chassis", "")
	settest.Near(t, "neutral lost", r.Milliamps, 1e3*120/cmplx.Abs(97.6/0.15+0.1+body60), 1e-5)
	settest.Near(t, "neutral lost, in figures", r.Milliamps, 45.55, 1e-3)
	settest.Near(t, "open volts", r.VoltsOpen, 120, 1e-5)
	settest.Near(t, "switched off", c.Solve(on(c, AsMarked, "S1", "off")).Read("chassis", "").Milliamps, r.Milliamps, 1e-6)
	settest.Below(t, "a tube pulled", c.Solve(on(c, AsMarked).WithFaults(lost, pulled)).Read("chassis", "").Milliamps, 1e-4)
	// halfway: the neutral lost and a hand on h2 sees two thirds of the string and a floating end
	settest.Near(t, "h2", c.Solve(on(c, AsMarked).WithFaults(lost)).Read("h2", "").Milliamps, 1e3*120/cmplx.Abs(85/0.15+0.1+body60), 1e-5)
}

func TestIsolatingTransformerOnOpenLoad(t *testing.T) {
	parts := `T1 = { kind = "transformer", windings = { p = ["L", "N"], s = ["chassis", "far"] }, volts = { p = 120, s = 60 } }`
	c := circuitOf(t, parts, "chassis", "far")
	s := c.Solve(on(c, AsMarked))
	// 50 mA magnetising is j2400 Ω inside 10 Ω and 0.2 Ω of the supply: E1 = 120·2400/|10.2 + j2400|
	e1 := 120 * 2400 / cmplx.Abs(10.2+2400i)
	ac, _ := s.Across("chassis", "far")
	settest.Near(t, "between the ends", ac, e1/2, 1e-6)
	settest.Near(t, "supply", s.SupplyAmps(), 120/cmplx.Abs(10.2+2400i), 1e-6)
	// nothing leads from the winding to earth: what floats reads nothing
	if r := s.Read("chassis", ""); r != (Reading{}) {
		t.Errorf("a floating winding reads %+v", r)
	}
	// hand to hand: 10 Ω of its own, 10.2 Ω of the primary over the square of the ratio
	settest.Near(t, "hand to hand", s.Read("chassis", "far").Milliamps, 1e3*e1/2/cmplx.Abs(body60+10+10.2/4), 1e-3)
	// winding to winding at the start: 60.4 mA, one safeguard of basic insulation
	settest.Near(t, "broken through", c.Solve(on(c, AsMarked).WithFaults(faultOf(t, c, "T1", InsulationOut, "L", "chassis"))).Read("chassis", "").Milliamps, 60.43, 1e-3)
	if d := c.Examine(Options{Faults: 2}).Point("chassis").Depth; d != 1 {
		t.Errorf("depth %d behind basic insulation", d)
	}
	c = circuitOf(t, settest.Replaced(t, parts, "s = 60 }", `s = 60 }, insulation = "reinforced"`), "chassis", "far")
	if d := c.Examine(Options{Faults: 2}).Point("chassis").Depth; d != 2 {
		t.Errorf("depth %d behind reinforced insulation", d)
	}
}

func TestAutotransformer(t *testing.T) {
	// two halves of 110 V across 220 V: the tap stands at 110 V in either plug polarity
	c := newCircuit(t, settest.Load(t, settest.WithMains("220 V 50 Hz",
		`T1 = { kind = "transformer", windings = { low = ["N", "chassis"], high = ["chassis", "L"] }, volts = { low = 110, high = 110 } }`, "chassis")), Bench{})
	for _, plug := range circuit.Polarities {
		r := c.Solve(on(c, plug)).Read("chassis", "")
		settest.Near(t, "open", r.VoltsOpen, 110, 1e-3)
		// both halves in parallel behind the tap: 10 Ω and 0.1 Ω each, so 5.05 Ω
		settest.Near(t, "body", r.Milliamps, 1e3*110/cmplx.Abs(body50+5.05), 1e-3)
	}
	if len(c.Faults) != 1 {
		t.Errorf("an autotransformer has no insulation within, got %v", c.Faults)
	}
	// neutral lost: the upper half alone, 110 V / 50 mA = j2200 Ω and 10.1 Ω
	r := c.Solve(on(c, AsMarked).WithFaults(c.Faults[0])).Read("chassis", "")
	settest.Near(t, "neutral lost", r.Milliamps, 1e3*220/cmplx.Abs(body50+10.1+2200i), 1e-5)
	// step-up, 120 to 250 V: the top is 250 V from a chassis at the common end, 130 V from earth reversed
	c = circuitOf(t, `T1 = { kind = "transformer", windings = { line = ["L", "N"], top = ["chassis", "N"] }, volts = { line = 120, top = 250 } }`, "chassis")
	settest.Near(t, "top", c.Solve(on(c, AsMarked)).Read("chassis", "").VoltsOpen, 250, 1e-4)
	settest.Near(t, "top, reversed", c.Solve(on(c, Reversed)).Read("chassis", "").VoltsOpen, 130, 1e-3)
}

func TestShortedLineIsCleared(t *testing.T) {
	c := circuitOf(t, `PL1 = { kind = "plug", style = "grounding", hot = "L", neutral = "N", earth = "chassis" }
C1 = { kind = "capacitor", ends = ["L", "chassis"], value = "10 nF" }`, "chassis")
	short := faultOf(t, c, "C1", Shorted)
	s := c.Solve(on(c, AsMarked).WithFaults(short))
	// 120 / (0.1 + 0.01 + 0.1) = 571 A; half of it, less the 0.01, on the chassis
	if !s.Cleared {
		t.Error("a short of the line to the earth contact is not cleared")
	}
	settest.Near(t, "amperes", s.SupplyAmps(), 120/0.21, 1e-5)
	settest.Near(t, "earth contact", s.ContactAmps(), 120/0.21, 1e-5)
	settest.Near(t, "before the breaker opens", s.Read("chassis", "").VoltsOpen, 120*0.1/0.21, 1e-5)
	p := c.Examine(Options{Faults: 2}).Point("chassis")
	if p.Depth != 2 || len(p.FaultSets) != 1 || p.FaultSets[0].Faults[0] != short || p.FaultSets[0].Faults[1].Kind != EarthLost {
		t.Errorf("depth %d by %v; want C1 shorted with the earth lost", p.Depth, p.FaultSets)
	}
	// the earth lost alone: 10 nF, 265.26 kΩ, into the body
	settest.Near(t, "one fault", p.OneFault.Milliamps, 1e3*120/cmplx.Abs(body60+1/(1i*w60*1e-8)), 1e-5)
	// 20 A is the limit: 120/(R + 0.2) passes it between 5.7 and 5.9 Ω
	for _, x := range []struct {
		ohms    string
		cleared bool
	}{{"5.7", true}, {"5.9", false}} {
		c := circuitOf(t, `R1 = { kind = "resistor", ends = ["L", "N"], value = `+x.ohms+` }
W1 = { kind = "wire", ends = ["L", "chassis"] }`, "chassis")
		if s := c.Solve(on(c, AsMarked)); s.Cleared != x.cleared {
			t.Errorf("%s Ω across the line: cleared %v at %.2f A", x.ohms, s.Cleared, s.SupplyAmps())
		}
	}
}

func TestNothingIsJudgedWhereEveryStateIsCleared(t *testing.T) {
	c := circuitOf(t, `W1 = { kind = "wire", ends = ["L", "N"] }
W2 = { kind = "wire", ends = ["L", "chassis"] }`, "chassis")
	r := c.Examine(Options{Faults: 2})
	p := r.Point("chassis")
	// the neutral lost opens the short: the hot side, 120 V through no more than 0.1 Ω
	if p.Normal != nil || p.Depth != 1 || len(p.FaultSets) != 1 || p.FaultSets[0].Faults[0].Kind != NeutralLost {
		t.Errorf("normal %v, depth %d by %v; want none, and 1 by the neutral lost", p.Normal, p.Depth, p.FaultSets)
	}
	// two plug polarities with no fault, two with the neutral lost
	if r.NotJudged != (Count{States: 2, Of: 4}) {
		t.Errorf("not judged: %+v, want 2 of 4", r.NotJudged)
	}
}

func TestFailedPartThatShortsTheLineIsLeftOut(t *testing.T) {
	// C1 has failed and shorts the line; without it the chassis hangs on L by C2
	c := circuitOf(t, `C1 = { kind = "capacitor", ends = ["L", "N"], value = "0.1 uF", condition = "failed" }
C2 = { kind = "capacitor", ends = ["L", "chassis"], value = "0.1 uF" }`, "chassis")
	p := c.Examine(Options{Faults: 1}).Point("chassis")
	if p.Normal == nil || !p.Normal.State.Without {
		t.Fatalf("normal: %+v", p.Normal)
	}
	settest.Near(t, "solved again", p.Normal.Milliamps, 4.4805, 1e-4)
	if !c.Solve(on(c, AsMarked)).Cleared {
		t.Error("the state itself is not cleared")
	}
	// The paths are those of what was solved: without the short too.
	if c.Wiring(p.Normal.State).Joined("L", "N") || !c.Wiring(on(c, AsMarked)).Joined("L", "N") {
		t.Error("the short stands in the paths where it is left out, or does not where it is there")
	}
}
