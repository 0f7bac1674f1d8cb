package analysis

import (
	"math"
	"math/cmplx"
	"testing"

	"coldcheck/analysis/internal/circuit"
	"coldcheck/netlist/settest"
)

const peak120 = 120 * math.Sqrt2 // 169.706 V

func TestHalfWaveLevel(t *testing.T) {
	c := circuitOf(t, `V1 = { kind = "tube", type = "35W4", pins = { 5 = "L", 7 = "chassis" } }
C1 = { kind = "capacitor", ends = ["chassis", "N"], value = "40 uF" }`, "chassis")
	s := c.Solve(on(c, AsMarked))
	r := s.Read("chassis", "")
	// blocking, the AC on the reservoir is next to nothing: 169.7 V behind 100 Ω and 0.1 Ω
	settest.Near(t, "open", r.VoltsDC, peak120, 1e-4)
	settest.Near(t, "body", r.MilliampsDC, 1e3*peak120/2100.1, 1e-4)
	if s.VoltsDC("chassis") < 0 {
		t.Error("the cathode is not positive")
	}
	// conducting: the held reservoir is 0.01 Ω, the neutral 0.1 Ω, of 100.21 Ω in all
	held := on(c, AsMarked)
	held.Rectifier = "V1"
	settest.Near(t, "ripple on a held reservoir", c.Solve(held).Read("chassis", "").VoltsOpen, 120*0.11/100.21, 1e-4)
	if r := c.Solve(on(c, AsMarked).WithFaults(faultOf(t, c, "V1", Pulled))).Read("chassis", ""); r.VoltsDC > 1e-9 {
		t.Errorf("pulled, %v V DC", r.VoltsDC)
	}
	// no reservoir: the rectifier taken as conducting is 100 Ω before the body
	c = circuitOf(t, `V1 = { kind = "tube", type = "35W4", pins = { 5 = "L", 7 = "chassis" } }`, "chassis")
	held = on(c, AsMarked)
	held.Rectifier = "V1"
	settest.Near(t, "conducting", c.Solve(held).Read("chassis", "").Milliamps, 1e3*120/cmplx.Abs(body60+100.1), 1e-5)
}

func TestDoublerLevels(t *testing.T) {
	// cascade: D1 holds the middle 169.7 V over the neutral, D2 the chassis as much over the middle
	c := circuitOf(t, `C1 = { kind = "capacitor", ends = ["L", "mid"], value = "40 uF" }
D1 = { kind = "rectifier", anode = "N", cathode = "mid" }
D2 = { kind = "rectifier", anode = "mid", cathode = "chassis" }
C2 = { kind = "capacitor", ends = ["chassis", "N"], value = "40 uF" }`, "chassis")
	r := c.Solve(on(c, AsMarked)).Read("chassis", "")
	settest.Near(t, "cascade", r.VoltsDC, 2*peak120, 2e-4)
	settest.Near(t, "cascade, body", r.MilliampsDC, 1e3*2*peak120/(2000+10.1), 3e-4)
	// full-wave, the two halves of a 25Z5 on either side of the line
	c = circuitOf(t, `V1 = { kind = "tube", type = "25Z5", pins = { 5 = "L", 4 = "plus", 2 = "minus", 3 = "L" } }
C1 = { kind = "capacitor", ends = ["plus", "N"], value = "40 uF" }
C2 = { kind = "capacitor", ends = ["N", "minus"], value = "40 uF" }`, "plus", "minus")
	s := c.Solve(on(c, AsMarked))
	settest.Near(t, "upper half", s.VoltsDC("plus"), peak120, 1e-4)
	settest.Near(t, "lower half", s.VoltsDC("minus"), -peak120, 1e-4)
	_, across := s.Across("plus", "minus")
	settest.Near(t, "B-plus to B-minus", across, 2*peak120, 1e-4)
	settest.Near(t, "hand to hand", s.Read("plus", "minus").MilliampsDC, 1e3*2*peak120/2200, 1e-4)
	if got := c.Rectifiers; len(got) != 2 || got[0] != "V1:5" || got[1] != "V1:2" {
		t.Errorf("sections %v", got)
	}
}

func TestBridgeLevel(t *testing.T) {
	// Four dry rectifiers, plus to minus across a reservoir. Blocking, the reservoir's ends float at
	// the same AC potential u, midway by the minimum conductances; each arm then sees 60 V rms: 84.85 V of peak, two
	// of them in series from minus to plus by either blade, 169.7 V in all.
	c := circuitOf(t, `D1 = { kind = "rectifier", anode = "L", cathode = "plus" }
D2 = { kind = "rectifier", anode = "N", cathode = "plus" }
D3 = { kind = "rectifier", anode = "minus", cathode = "L" }
D4 = { kind = "rectifier", anode = "minus", cathode = "N" }
C1 = { kind = "capacitor", ends = ["plus", "minus"], value = "40 uF" }
R1 = { kind = "resistor", ends = ["plus", "L"], value = "1 meg" }
R2 = { kind = "resistor", ends = ["plus", "N"], value = "1 meg" }`, "plus")
	_, across := c.Solve(on(c, AsMarked)).Across("plus", "minus")
	settest.Near(t, "bridge", across, 169.706, 1e-3)
}

func TestLeakage(t *testing.T) {
	for _, leakage := range []string{"250k", "40 uA at 10 V"} { // 10 V / 40 µA = 250 kΩ
		c := circuitOf(t, `B1 = { kind = "battery", positive = "plus", negative = "N", volts = 90 }
C1 = { kind = "capacitor", ends = ["plus", "chassis"], value = "10 nF", leakage = "`+leakage+`" }`, "chassis")
		s := c.Solve(on(c, AsMarked))
		settest.Near(t, "volts", s.Read("chassis", "").VoltsDC, 90, 1e-4)
		// 90 V / (250 kΩ + 2000 Ω + 1 Ω + 0.1 Ω) = 0.3571 mA
		settest.Near(t, "body at DC", s.Read("chassis", "").MilliampsDC, 1e3*90/(250e3+2001.1), 1e-4)
		// at AC it is in parallel with 265.26 kΩ of capacitance
		z := 1 / complex(1/250e3, w60*1e-8)
		settest.Near(t, "body at AC", c.Solve(on(c, Reversed)).Read("chassis", "").Milliamps, 1e3*120/cmplx.Abs(body60+z+1.1), 1e-5)
		settest.Near(t, "cold", c.ColdOhms(nil, "plus", "chassis", false), 250e3, 1e-6)
	}
}

func TestBatteryInTheHand(t *testing.T) {
	c := circuitOf(t, `B1 = { kind = "battery", positive = "chassis", negative = "N", volts = 90 }`, "chassis")
	settest.Near(t, "battery", c.Solve(on(c, AsMarked)).Read("chassis", "").MilliampsDC, 1e3*90/2001.1, 1e-5)
	settest.Near(t, "its 1 Ω at AC", c.Solve(on(c, Reversed)).Read("chassis", "").Milliamps, 1e3*120/cmplx.Abs(body60+1.1), 1e-5)
}

func TestColdOhms(t *testing.T) {
	// 12.6 V / 0.15 A = 84 Ω hot, 14 Ω cold; a coil keeps its ohms; a capacitor and a rectifier are open
	c := circuitOf(t, `S1 = { kind = "switch", ends = ["N", "chassis"] }
V1 = { kind = "tube", type = "12AV6", pins = { 3 = "L", 4 = "mid" } }
L1 = { kind = "coil", ends = ["mid", "chassis"], ohms = 6, henries = "1 H" }
C1 = { kind = "capacitor", ends = ["L", "shaft"], value = "0.1 uF" }
D1 = { kind = "rectifier", anode = "L", cathode = "shaft" }`, "chassis", "shaft")
	at := func(position string) map[string]string { return map[string]string{"S1": position} }
	settest.Below(t, "on, tied", c.ColdOhms(at("on"), "L", "chassis", true), 0.01)
	settest.Near(t, "off, tied", c.ColdOhms(at("off"), "L", "chassis", true), 20, 1e-4)
	settest.Near(t, "off, from the other blade", c.ColdOhms(at("off"), "N", "chassis", true), 20, 1e-3)
	if ohms := c.ColdOhms(at("on"), "L", "shaft", true); !math.IsInf(ohms, 1) {
		t.Errorf("through a capacitor and a rectifier: %v Ω", ohms)
	}
	if ohms := c.ColdOhms(at("off"), "N", "chassis", false); !math.IsInf(ohms, 1) {
		t.Errorf("off, blades apart: %v Ω", ohms)
	}
	// a transformer's windings: 10 Ω from 50 V, 0.05 Ω below; uncoupled ones 10 Ω
	c = circuitOf(t, `T1 = { kind = "transformer", windings = { p = ["L", "N"], s = ["chassis", "x"] }, volts = { p = 120, s = 6.3 } }
T2 = { kind = "transformer", windings = { a = ["x", "y"], b = ["z", "w"] } }
R1 = { kind = "potentiometer", ends = ["y", "z"], wiper = "w", value = "50k" }`, "chassis")
	settest.Near(t, "primary", c.ColdOhms(nil, "L", "N", false), 10, 1e-6)
	settest.Near(t, "in a row", c.ColdOhms(nil, "chassis", "y", false), 10.05, 1e-6)
	// from y: 25 kΩ to the wiper, then 25 kΩ in parallel with the winding's 10 Ω
	settest.Near(t, "potentiometer", c.ColdOhms(nil, "y", "z", false), 25000+1/(1/25e3+1.0/10), 1e-6)
}

func TestHotCheck(t *testing.T) {
	// 1500 ∥ 0.15 µF: ωRC = 0.084823, 1500/(1 + j0.0848) = 1489.3 − j126.3 Ω
	z := 1500 / (1 + 1i*w60*1500*0.15e-6)
	settest.Below(t, "network", cmplx.Abs(circuit.HotCheckImpedance(w60)-z), 1e-4)
	c := circuitOf(t, `C1 = { kind = "capacitor", ends = ["L", "chassis"], value = "0.1 uF" }`, "chassis")
	s := c.Solve(on(c, AsMarked))
	// 120 · 1494.6 / |1489.3 − j(126.3 + 26525.8)| = 6.719 V
	settest.Near(t, "0.1 µF", s.HotCheck("chassis"), 6.719, 1e-4)
	settest.Near(t, "as a formula", s.HotCheck("chassis"), 120*cmplx.Abs(z)/cmplx.Abs(z+1/(1i*w60*1e-7)), 1e-5)
	// 0.5 mA through 1.5 kΩ is 0.75 V
	settest.Near(t, "its limit", HotCheckVolts, 0.5e-3*HotCheckOhms, 1e-9)
	ac, direct := s.OnMeter("chassis", "N", 100e3)
	settest.Near(t, "a meter of 100 kΩ to the neutral", ac, 120*100e3/cmplx.Abs(100e3+1/(1i*w60*1e-7)), 1e-4)
	settest.Below(t, "no DC", direct, 1e-4)
}

func TestBetweenAndTogether(t *testing.T) {
	// two points, each by 0.1 µF, one from either side of the line
	c := circuitOf(t, `C1 = { kind = "capacitor", ends = ["L", "chassis"], value = "0.1 uF" }
C2 = { kind = "capacitor", ends = ["N", "shaft"], value = "0.1 uF" }
C3 = { kind = "capacitor", ends = ["L", "strap"], value = "0.1 uF" }`, "chassis", "shaft", "strap")
	r := c.Examine(Options{Faults: 1})
	// hand to hand both capacitors are in series: 120 / |1977.1 − j(183.8 + 53051.6)| = 2.2526 mA
	settest.Near(t, "between", r.Between[0].Normal.Milliamps, 1e3*120/cmplx.Abs(body60+2/(1i*w60*1e-7)), 1e-5)
	// one of them shorted: as one capacitor
	settest.Near(t, "between at one fault", r.Between[0].OneFault.Milliamps, 4.4805, 1e-4)
	// two points on one side: nothing between them
	settest.Below(t, "alike", r.Between[1].Normal.Milliamps, 1e-4)
	// one hand on all three, as marked: 0.2 µF from the hot side, 0.1 µF to the neutral: a source of
	// 80 V behind 0.3 µF, 8841.9 Ω
	settest.Near(t, "together", r.Together.Milliamps, 1e3*80/cmplx.Abs(body60+1/(1i*w60*3e-7)), 1e-4)
	if p := r.Together.State.Plug; p != AsMarked {
		t.Errorf("the worst is as marked, got %s", p)
	}
}

func TestBenchSupply(t *testing.T) {
	set := settest.Load(t, settest.With(`W1 = { kind = "wire", ends = ["L", "chassis"] }
R1 = { kind = "resistor", ends = ["L", "N"], value = "1k" }`, "chassis"))
	isolated := newCircuit(t, set, Bench{Isolated: true})
	for _, plug := range circuit.Polarities {
		// halfway between two of 1 nF: 60 V behind 2 nF, 1.3263 MΩ
		r := isolated.Solve(on(isolated, plug)).Read("chassis", "")
		settest.Near(t, "open", r.VoltsOpen, 60, 2e-3)
		settest.Near(t, "body", r.Milliamps, 1e3*60/cmplx.Abs(body60+1/(1i*w60*2e-9)), 2e-3)
	}
	if d := isolated.Examine(Options{Faults: 2}).Point("chassis").Depth; d != None {
		t.Errorf("depth %d on an isolated supply", d)
	}
	// one earthed clip on the other side undoes it
	clipped := newCircuit(t, set, Bench{Isolated: true, Earthed: []string{"N"}})
	settest.Near(t, "clipped", clipped.Solve(on(clipped, AsMarked)).Read("chassis", "").Milliamps, 60.43, 1e-3)
	if s := newCircuit(t, set, Bench{Earthed: []string{"chassis"}}); !s.Solve(on(s, AsMarked)).Cleared {
		t.Error("an earthed clip on the hot side of the mains is no short")
	}
	if _, err := New(set, Bench{Earthed: []string{"nowhere"}}); err == nil {
		t.Error("a clip on a node that is not there")
	}
}
