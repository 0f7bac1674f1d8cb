package analysis

import (
	"fmt"
	"math"
	"math/cmplx"
	"slices"
	"testing"

	"coldcheck/netlist/settest"
)

// Sums by hand of what a state is, what of the mains is earthed, and what DC drives.

// TestRheostatBeforeATouchPoint: at full 25 kΩ, 120/|25000.1 + 1977 − j184| = 4.448 mA; at zero 0.01 Ω,
// 60.43 mA. A wiper tied to one end is the same.
func TestRheostatBeforeATouchPoint(t *testing.T) {
	for _, wiper := range []string{"", `, wiper = "L"`, `, wiper = "chassis"`} {
		c := circuitOf(t, `R1 = { kind = "potentiometer", ends = ["L", "chassis"], value = "25k"`+wiper+` }`, "chassis")
		settest.Near(t, "full", c.Solve(on(c, AsMarked, "R1", "full")).Read("chassis", "").Milliamps, 4.448, 1e-3)
		settest.Near(t, "zero", c.Solve(on(c, AsMarked, "R1", "zero")).Read("chassis", "").Milliamps, 1e3*120/cmplx.Abs(0.11+body60), 1e-5)
		if p := c.Examine(Options{Faults: 1}).Point("chassis"); p.Depth != 0 || p.Normal.State.At("R1") != "zero" {
			t.Errorf("depth %d at %+v", p.Depth, p.Normal.State)
		}
	}
}

// TestThirdControlStaysAtRest: three controls in a row, 5 kΩ each: two at zero and one at full leave 5 kΩ,
// 120/|5000.1 + 0.02 + 1977 − j184| = 17.19 mA. All three at zero, which would be 60 mA, is no state. Eight of
// their positions less one, in two plug polarities.
func TestThirdControlStaysAtRest(t *testing.T) {
	c := circuitOf(t, `R1 = { kind = "potentiometer", ends = ["L", "a"], value = "5k" }
R2 = { kind = "potentiometer", ends = ["a", "b"], value = "5k" }
R3 = { kind = "potentiometer", ends = ["b", "chassis"], value = "5k" }`, "chassis")
	p := c.Examine(Options{Faults: 0}).Point("chassis")
	settest.Near(t, "two at zero", p.Normal.Milliamps, 17.19, 1e-3)
	if p.Normal.State.Away() != 2 || len(c.Normal()) != 14 || len(c.Rest()) != 1 {
		t.Errorf("the worst %+v; %d normal states, %d at rest", p.Normal.State, len(c.Normal()), len(c.Rest()))
	}
}

// TestThermistorIsHot: 44 Ω hot, 400 Ω cold; from 10 kΩ hot it is a safeguard and can short.
func TestThermistorIsHot(t *testing.T) {
	c := circuitOf(t, `R1 = { kind = "thermistor", ends = ["L", "chassis"], hot = 44, cold = "400" }`, "chassis")
	settest.Near(t, "hot", c.Solve(on(c, AsMarked)).Read("chassis", "").Milliamps, 1e3*120/cmplx.Abs(44.1+body60), 1e-5)
	settest.Near(t, "cold", c.ColdOhms(nil, "L", "chassis", true), 400, 1e-4)
	if got := fmt.Sprint(c.FaultsOf("R1")); got != "[R1 open]" {
		t.Errorf("44 Ω: %s", got)
	}
	c = circuitOf(t, `R1 = { kind = "thermistor", ends = ["L", "chassis"], hot = "15k", cold = "100k" }`, "chassis")
	if got := fmt.Sprint(c.FaultsOf("R1")); got != "[R1 open R1 shorted]" {
		t.Errorf("15 kΩ: %s", got)
	}
}

// TestMainsNotEarthedAtTheNeutral: a chassis on the leg named hot, a shaft on the other. Earthed at the
// neutral: 120 V and 0 V; at the midpoint 60 V each, 120 V from hand to hand; at the star point of three
// phases 120/√3 = 69.28 V each, 120° apart, so √(2 − 2·cos 120°)·69.28 = 120 V between; nowhere 0 V each and
// 120 V between. 69.28 V are 34.89 mA through a body, 60 V 30.21 mA.
func TestMainsNotEarthedAtTheNeutral(t *testing.T) {
	text := settest.With(`W1 = { kind = "wire", ends = ["L", "chassis"] }
W2 = { kind = "wire", ends = ["N", "shaft"] }`, "chassis", "shaft")
	for where, want := range map[string][2]float64{
		"neutral": {120, 0}, "midpoint": {60, 60}, "star": {120 / math.Sqrt(3), 120 / math.Sqrt(3)}, "nowhere": {0, 0},
	} {
		c := newCircuit(t, settest.Load(t, earthedAt(t, where, text)), Bench{})
		s := c.Solve(on(c, AsMarked))
		for k, node := range []string{"chassis", "shaft"} {
			r := s.Read(node, "")
			if where == "nowhere" { // but for the 1 nF of each side: 120 V behind 2 nF divide to 60 V
				settest.Near(t, where+" "+node, r.VoltsOpen, 60, 1e-3)
				settest.Near(t, where+" "+node, r.Milliamps, 1e3*60*w60*2e-9, 1e-2)
				continue
			}
			settest.Near(t, where+" "+node, r.VoltsOpen, want[k], 1e-4)
			settest.Near(t, where+" "+node, r.Milliamps, 1e3*want[k]/cmplx.Abs(0.1+body60), 1e-4)
		}
		settest.Near(t, where+" hand to hand", s.Read("chassis", "shaft").VoltsOpen, 120, 1e-4)
		settest.Near(t, where+" hand to hand", s.Read("chassis", "shaft").Milliamps, 1e3*120/cmplx.Abs(0.2+body60), 1e-4)
		lost := slices.DeleteFunc(slices.Clone(c.Faults), func(f *Fault) bool { return f.Kind != NeutralLost })
		if want := map[string]string{"neutral": "[supply neutral-lost]"}[where]; want == "" {
			if got := fmt.Sprint(lost); got != "[supply neutral-lost [L] supply neutral-lost [N]]" {
				t.Errorf("%s: %s", where, got)
			}
		} else if got := fmt.Sprint(lost); got != want {
			t.Errorf("%s: %s", where, got)
		}
		// an isolating transformer at the bench stands in for any of them
		c = newCircuit(t, settest.Load(t, earthedAt(t, where, text)), Bench{Isolated: true})
		settest.Near(t, where+" isolated", c.Solve(on(c, AsMarked)).Read("chassis", "").VoltsOpen, 60, 1e-3)
	}
}

// TestEachHotLegLost: mains earthed at their midpoint, a lamp from line 1 to a chassis on line 2. Whole, the
// chassis stands at 60 V. With line 2's side lost it hangs on line 1 by the lamp, 120 V at 0.5 A: 240 Ω and
// 60 V, so 60/|240.1 + 1977 − j184| = 26.97 mA; with line 1's lost it is 30.21 mA as before.
func TestEachHotLegLost(t *testing.T) {
	c := newCircuit(t, settest.Load(t, earthedAt(t, "midpoint", settest.With(`L1 = { kind = "lamp", ends = ["L", "chassis"], volts = 120, amps = 0.5 }
W1 = { kind = "wire", ends = ["N", "chassis"] }`, "chassis"))), Bench{})
	for blade, want := range map[string]complex128{"L": 0.1, "N": 240.1} {
		k := slices.IndexFunc(c.Faults, func(f *Fault) bool { return f.Kind == NeutralLost && f.Between[0] == blade })
		for _, plug := range []Polarity{AsMarked, Reversed} {
			r := c.Solve(on(c, plug).WithFaults(c.Faults[k])).Read("chassis", "")
			settest.Near(t, blade+" lost, "+string(plug), r.Milliamps, 1e3*60/cmplx.Abs(want+body60), 1e-4)
		}
	}
}

// TestRectifierDoesNotPullABatteryDown: 90 V from chassis to N by way of 10 kΩ, beside a rectifier across
// the chassis and N across which 0 V of AC stand: as a source of 0 V behind 5 Ω it would hold the chassis at
// 0.045 V. With the rectifiers open the battery drives 90/(10001 + 2000) = 7.499 mA.
func TestRectifierDoesNotPullABatteryDown(t *testing.T) {
	c := circuitOf(t, `B1 = { kind = "battery", positive = "a", negative = "N", volts = 90 }
R1 = { kind = "resistor", ends = ["a", "chassis"], value = 10000 }
D1 = { kind = "rectifier", anode = "N", cathode = "chassis" }`, "chassis")
	r := c.Solve(on(c, AsMarked)).Read("chassis", "")
	settest.Near(t, "open", r.VoltsDC, 90, 1e-4)
	settest.Near(t, "through a body", r.MilliampsDC, 1e3*90/(10001.1+2000), 1e-5)
	// where the rectifier is the stronger source, it counts: √2·120 V behind 5 Ω
	c = circuitOf(t, `B1 = { kind = "battery", positive = "chassis", negative = "a", volts = 9 }
R1 = { kind = "resistor", ends = ["a", "N"], value = 10000 }
D1 = { kind = "rectifier", anode = "L", cathode = "chassis" }`, "chassis")
	r = c.Solve(on(c, AsMarked)).Read("chassis", "")
	// 9 V on 10 kΩ drain 16 mA: 169.71 − 5.1·0.0161 V
	settest.Near(t, "rectifier", r.VoltsDC, math.Sqrt2*(120-0)-5.1*(math.Sqrt2*120-9)/10006.2, 1e-3)
}

// TestWindingsBreakDownFromEitherEnd: the secondary's far end on the chassis, its near end on nothing; the
// primary's start on line 1, its end on line 2. Each end to each: four faults; from line 1 to the chassis
// 60.43 mA, from line 2 (the neutral) 0.
func TestWindingsBreakDownFromEitherEnd(t *testing.T) {
	c := circuitOf(t, `T1 = { kind = "transformer", windings = { p = ["L", "N"], s = ["near", "chassis"] }, volts = { p = 120, s = 6.3 } }`, "chassis")
	want := []string{"T1 failed [L near]", "T1 failed [L chassis]", "T1 failed [N near]", "T1 failed [N chassis]"}
	for k, f := range c.FaultsOf("T1") {
		if f.String() != want[k] {
			t.Errorf("%s, want %s", f, want[k])
		}
	}
	if n := len(c.FaultsOf("T1")); n != 4 {
		t.Fatalf("%d faults", n)
	}
	settest.Near(t, "L to chassis", c.Solve(on(c, AsMarked).WithFaults(c.Faults[1])).Read("chassis", "").Milliamps, 1e3*120/cmplx.Abs(0.11+body60), 1e-3)
	// by the near end its own 6.3 V stand between, in phase: start to start, so the chassis is at 120 − 6.3 V
	settest.Near(t, "L to near", c.Solve(on(c, AsMarked).WithFaults(c.Faults[0])).Read("chassis", "").VoltsOpen, 120-6.3, 1e-3)
}

// TestHeaterBreaksDownFromEitherPin: 50C5, 50 V at 0.15 A: 333.3 Ω from line 1 to line 2, its cathode on the
// chassis. From pin 3 the chassis is on line 1, from pin 4 on line 2,
// 0.1 Ω times the heater's 0.36 A from earth: 0.036 V, 18 µA.
func TestHeaterBreaksDownFromEitherPin(t *testing.T) {
	const parts = `V1 = { kind = "tube", type = "50C5", pins = { 3 = "L", 4 = "N", 1 = "chassis" } }`
	c := circuitOf(t, parts, "chassis")
	for pin, want := range map[string]float64{"L": 60.41, "N": 0.01812} {
		f := faultOf(t, c, "V1", HeaterCathode, pin, "chassis")
		settest.Near(t, "from "+pin, c.Solve(on(c, AsMarked).WithFaults(f)).Read("chassis", "").Milliamps, want, 1e-3)
	}
	wantDepth(t, c, "chassis", "1 by [V1 heater-cathode [L chassis]]")
	// a tube in condition failed: no one knows where, so each costs nothing, and none is there in every state
	failed := circuitOf(t, settest.Replaced(t, parts, `"chassis" } }`, `"chassis" }, condition = "failed" }`), "chassis")
	settest.Near(t, "no fault", failed.Solve(on(failed, AsMarked)).Read("chassis", "").Milliamps, 0, 0)
	wantDepth(t, failed, "chassis", "0 by [V1 heater-cathode [L chassis]]")
}

// TestPairsOfMetalAreSearched: mains of which nothing is earthed, a capacitor from line 1 to the chassis,
// another from line 2 to the shaft, which a sound knob guards. Neither is live alone; between them 120 V,
// once both have shorted and the knob is off: 3. Without the knob 2; a third piece on a wire from the
// chassis is the same metal.
func TestPairsOfMetalAreSearched(t *testing.T) {
	text := earthedAt(t, "nowhere", settest.With(`C1 = { kind = "capacitor", ends = ["L", "chassis"], value = "1 nF", type = "film" }
C2 = { kind = "capacitor", ends = ["N", "shaft"], value = "1 nF", type = "film" }
W1 = { kind = "wire", ends = ["chassis", "screw"] }`, "chassis", "screw", "shaft"))
	r := newCircuit(t, settest.Load(t, text), Bench{}).Examine(Options{Faults: 2})
	if len(r.Between) != 1 || r.Between[0].A.Name != "chassis" || r.Between[0].B.Name != "shaft" {
		t.Fatalf("%d pairs: %+v", len(r.Between), r.Between)
	}
	if got := fmt.Sprint(r.Between[0].Depth, r.Between[0].FaultSets); got != "2 [{2 [C1 shorted C2 shorted]}]" {
		t.Errorf("bare: %s", got)
	}
	// 120 V, two capacitors in series of 1 nF: 120·ω·0.5 nF = 22.6 µA
	settest.Near(t, "whole", r.Between[0].Normal.Milliamps, 1e3*120*w60*0.5e-9, 1e-2)
	guarded := settest.Replaced(t, text, `"shaft" = { touch = "chassis" }`, `"shaft" = { touch = "control", guard = "knob" }`)
	r = newCircuit(t, settest.Load(t, guarded), Bench{}).Examine(Options{Faults: 3})
	if got := fmt.Sprint(r.Between[0].Depth, r.Between[0].FaultSets); got != "3 [{3 [shaft guard-off C1 shorted C2 shorted]}]" {
		t.Errorf("behind a knob: %s", got)
	}
}

// TestSixteenPiecesAreLookedAtInPairs: of eighteen the pairs of two are left out, and it says of which.
func TestSixteenPiecesAreLookedAtInPairs(t *testing.T) {
	parts, names := "", []string{}
	for k := range 18 {
		names = append(names, fmt.Sprintf("p%d", k))
		parts += fmt.Sprintf("C%d = { kind = \"capacitor\", ends = [\"L\", \"p%d\"], value = \"1 nF\" }\n", k, k)
	}
	r := circuitOf(t, parts, names...).Examine(Options{Faults: 0})
	if len(r.Between) != 16*15/2 || len(r.LeftOut) != 2 || r.LeftOut[0][0].Name != "p16" || r.LeftOut[1][0].Name != "p17" {
		t.Errorf("%d pairs, left out %v", len(r.Between), r.LeftOut)
	}
}

// TestSuspectSet: the set's own word is that of every part and guard that has none: 0.1 µF to the chassis
// behind a knob, each at no cost; with the capacitor good, one failure.
func TestSuspectSet(t *testing.T) {
	text := func(capacitor string) string {
		return fmt.Sprintf(`[set]
name = "from an attic"
condition = "suspect"
[nodes]
chassis = { touch = "control", guard = "knob" }
[parts]
PL1 = { kind = "plug", hot = "L", neutral = "N" }
C1 = { kind = "capacitor", ends = ["L", "chassis"], value = "0.1 uF", type = "film"%s }
`, capacitor)
	}
	for capacitor, want := range map[string]string{
		"":                        "0 by [chassis guard-off C1 shorted]",
		`, condition = "good"`:    "1 by [chassis guard-off C1 shorted]",
		`, class = "Y2"`:          "1 by [chassis guard-off C1 shorted]",
		`, condition = "suspect"`: "0 by [chassis guard-off C1 shorted]",
	} {
		wantDepth(t, newCircuit(t, settest.Load(t, text(capacitor)), Bench{}), "chassis", want)
	}
}
