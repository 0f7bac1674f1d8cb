package analysis

import (
	"fmt"
	"math"
	"math/cmplx"
	"slices"
	"testing"

	"coldcheck/netlist/settest"
)

// Wirings that once were let off, and what each does, by its sum. Currents through the body network at
// 60 Hz: |500 + 1500/(1 + jω·1500·0.22 µF)| = 1985.66 Ω, so that 120 V drive 60.43 mA.

// depthOf is the depth of a point, and of its fault sets the first.
func depthOf(r *Result, node string) string {
	p := r.Point(node)
	if len(p.FaultSets) == 0 {
		return fmt.Sprint(p.Depth)
	}
	return fmt.Sprint(p.Depth, " by ", p.FaultSets[0].Faults)
}

func wantDepth(t *testing.T, c *Circuit, node, want string) {
	t.Helper()
	if got := depthOf(c.Examine(Options{Faults: 2}), node); got != want {
		t.Errorf("%s: depth %s, want %s", node, got, want)
	}
}

// TestTapeJackOnAVolumeControlTurnedDown: the jack is on the wiper, the low end on B-minus, which is line 2,
// the top on a load that leads nowhere. With the plug reversed, at the middle, 120 V stand behind 250 kΩ:
// 120/|250000 + 1977 − j184| = 0.4762 mA. Turned down, behind 0.01 Ω: 60.43 mA.
func TestTapeJackOnAVolumeControlTurnedDown(t *testing.T) {
	c := circuitOf(t, `S1 = { kind = "switch", ends = ["N", "B-"] }
R9 = { kind = "potentiometer", ends = ["detector", "B-"], wiper = "tape jack", value = "500k" }
R8 = { kind = "resistor", ends = ["detector", "plate"], value = "220k" }`, "tape jack")
	read := func(at string) float64 {
		return c.Solve(on(c, Reversed, "R9", at)).Read("tape jack", "").Milliamps
	}
	// the line stands at B-minus; its half of the control, 250 kΩ, before the body
	settest.Near(t, "at the middle", read("middle"), 1e3*120/cmplx.Abs(250e3+0.1+body60), 1e-4)
	settest.Near(t, "turned down", read("B-"), 1e3*120/cmplx.Abs(0.11+body60), 1e-4)
	settest.Near(t, "turned down", read("B-"), 60.43, 1e-4)
	settest.Near(t, "turned up", read("detector"), 1e3*120/cmplx.Abs(500e3+0.1+body60), 1e-4)
	wantDepth(t, c, "tape jack", "0 by []")
	normal := c.Examine(Options{Faults: 2}).Point("tape jack").Normal
	if normal == nil || normal.State.At("R9") != "B-" || normal.State.Plug != Reversed {
		t.Errorf("the worst is %+v, want the control turned to B- and the plug reversed", normal)
	}
}

// TestChangeoverWithADeckThatSticks: two decks change radio and phono, the one the line, the other the
// chassis: with both on phono, the chassis is on the pickup's ground, which nothing drives. With the second
// deck stuck on radio, the chassis stays on B-minus, which the first has given line 1: 60.43 mA.
func TestChangeoverWithADeckThatSticks(t *testing.T) {
	const parts = `S2 = { kind = "selector", decks = [{ common = "B-", throws = ["N", "L"] }, { common = "chassis", throws = ["B-", "pickup ground"] }], positions = ["radio", "phono"] }
R1 = { kind = "resistor", ends = ["pickup ground", "building earth"], value = "100" }
PL1 = { kind = "plug", style = "polarized", hot = "L", neutral = "N" }`
	c := circuitOf(t, parts, "chassis")
	stuck := faultOf(t, c, "S2", Stuck, "chassis", "B-")
	if stuck.Cost != 1 {
		t.Errorf("a deck that sticks costs %d", stuck.Cost)
	}
	settest.Near(t, "both on phono", c.Solve(on(c, AsMarked, "S2", "phono")).Read("chassis", "").Milliamps, 0, 0)
	s := c.Solve(on(c, AsMarked, "S2", "phono").WithFaults(stuck))
	settest.Near(t, "the second stuck on radio", s.Read("chassis", "").Milliamps, 1e3*120/cmplx.Abs(0.1+body60), 1e-5)
	settest.Near(t, "its own throw is not made", s.Read("pickup ground", "").VoltsOpen, 0, 0)
	// a polarized plug counts its reversal as a failure, yet with it as marked one failure is enough: the stuck deck
	r := c.Examine(Options{Faults: 2}).Point("chassis")
	if r.Depth != 0 || r.DepthAsMarked != 1 {
		t.Errorf("depth %d, as marked %d, want 0 (reversed, on radio) and 1 (the deck)", r.Depth, r.DepthAsMarked)
	}
	// two decks of which one is held by a tool: only the other throw of each can stick, and that one fault each
	c = circuitOf(t, settest.Replaced(t, parts, `"phono"] }`, `"phono"], fixed = "radio" }`), "chassis")
	if n := slices.DeleteFunc(slices.Clone(c.FaultsOf("S2")), func(f *Fault) bool { return f.Kind != Stuck }); len(n) != 2 {
		t.Errorf("fixed on radio: %v, want the two throws of phono", n)
	}
}

// TestFuseThatOpensItsOwnLeg: C1 shorted carries 120 V/0.21 Ω = 571 A through the fuse in the line 1 leg.
// Blown, it leaves B-minus, and the chassis on it, on line 2 by way of the shorted capacitor: with the plug
// reversed that is hot. No breaker has opened.
func TestFuseThatOpensItsOwnLeg(t *testing.T) {
	c := circuitOf(t, `F1 = { kind = "fuse", ends = ["L", "chassis"], amps = 1 }
C1 = { kind = "capacitor", ends = ["chassis", "N"], value = "0.1 uF", type = "film" }
PL1 = { kind = "plug", style = "polarized", hot = "N", neutral = "L" }`, "chassis")
	shorted := faultOf(t, c, "C1", Shorted)
	s := c.Solve(on(c, AsMarked).WithFaults(shorted))
	settest.Near(t, "the short", s.SupplyAmps(), 120/0.21, 1e-4)
	if !s.Cleared {
		t.Error("571 A are not cleared")
	}
	var blown []Row
	for _, row := range c.Judged(shorted) {
		if len(row.State.Blown) > 0 {
			blown = append(blown, row)
		}
	}
	if len(blown) != 2 || !slices.Equal(blown[0].State.Blown, []string{"F1"}) || blown[0].Cleared {
		t.Fatalf("with F1 blown: %+v", blown)
	}
	// as marked N is hot: 120 V behind 0.1 Ω and the 0.01 Ω of the shorted capacitor
	settest.Near(t, "blown, as marked", blown[0].Readings[0].Milliamps, 1e3*120/cmplx.Abs(0.11+body60), 1e-5)
	settest.Near(t, "blown, reversed", blown[1].Readings[0].Milliamps, 0, 0)
	// one that a wire bridges carries nothing: the breaker opens, and nothing is live as marked
	c = circuitOf(t, `F1 = { kind = "fuse", ends = ["L", "chassis"], amps = 1 }
W1 = { kind = "wire", ends = ["L", "chassis"] }
C1 = { kind = "capacitor", ends = ["chassis", "N"], value = "0.1 uF", type = "film" }`, "chassis")
	for _, row := range c.Judged(faultOf(t, c, "C1", Shorted)) {
		if len(row.State.Blown) > 0 || !row.Cleared {
			t.Errorf("a fuse that is bridged: %+v", row)
		}
	}
	// two side by side share 571 A, each 286 A: both blow
	c = circuitOf(t, `F1 = { kind = "fuse", ends = ["L", "chassis"], amps = 1 }
F2 = { kind = "fuse", ends = ["L", "chassis"], amps = 1 }
C1 = { kind = "capacitor", ends = ["chassis", "N"], value = "0.1 uF", type = "film" }`, "chassis")
	rows := c.Judged(faultOf(t, c, "C1", Shorted))
	if !slices.ContainsFunc(rows, func(row Row) bool { return slices.Equal(row.State.Blown, []string{"F1", "F2"}) }) {
		t.Errorf("two fuses side by side: %+v", rows)
	}
}

// TestFuseThatTakesTheBreakersPlace: what a fuse carries at 20 A is a matter of the sum: 120 V through
// 5.8 Ω and 0.2 Ω of the supply are 20 A, which neither blows nor clears; 5.7 Ω, 20.34 A, do.
func TestFuseThatTakesTheBreakersPlace(t *testing.T) {
	for ohms, blows := range map[float64]bool{5.81: false, 5.7: true} {
		c := circuitOf(t, fmt.Sprintf(`F1 = { kind = "fuse", ends = ["L", "chassis"] }
R1 = { kind = "resistor", ends = ["chassis", "N"], value = %g }`, ohms), "chassis")
		rows := c.Judged()
		if got := slices.ContainsFunc(rows, func(row Row) bool { return len(row.State.Blown) > 0 }); got != blows {
			t.Errorf("%g Ω, %.2f A: blows is %v", ohms, 120/(ohms+0.2), got)
		}
	}
}

// TestSmallDiodeInATube: detector plate 5 and cathode 2 of a tube: 0.1 µF from the line to the plate, the
// cathode on the chassis. The diode passes half the wave, which only charges the capacitor: 0 mA beside the
// capacitor, for a small diode conducts with capacitors open. Straight on the plate it passes the line:
// 1 kΩ, so 120/|1000.1 + 1977.1 − j183.8| = 40.23 mA.
func TestSmallDiodeInATube(t *testing.T) {
	parts := `V1 = { kind = "tube", type = "12AV6", pins = { 5 = "plate", 2 = "chassis" } }
W1 = { kind = "wire", ends = ["L", "plate"] }`
	c := circuitOf(t, parts, "chassis")
	state := on(c, AsMarked)
	settest.Near(t, "blocking", c.Solve(state).Read("chassis", "").Milliamps, 0, 0)
	state.Rectifier = smallDiodes
	settest.Near(t, "conducting", c.Solve(state).Read("chassis", "").Milliamps, 1e3*120/cmplx.Abs(1000.1+body60), 1e-5)
	settest.Near(t, "conducting", c.Solve(state).Read("chassis", "").Milliamps, 40.24, 1e-3)
	wantDepth(t, c, "chassis", "0 by []")
	pulled := faultOf(t, c, "V1", Pulled)
	for _, row := range c.Judged(pulled) {
		if row.State.Rectifier != "" {
			t.Errorf("a pulled tube conducts: %+v", row.State)
		}
	}
	// 0.1 µF before it: |Z| of 0.1 µF and the body is 120/4.4798 mA; the diode adds nothing to that
	c = circuitOf(t, `V1 = { kind = "tube", type = "12AV6", pins = { 5 = "plate", 2 = "chassis" } }
C1 = { kind = "capacitor", ends = ["L", "plate"], value = "0.1 uF", type = "film" }
C2 = { kind = "capacitor", ends = ["L", "chassis"], value = "0.1 uF", type = "film" }
R1 = { kind = "resistor", ends = ["L", "N"], value = "1k" }`, "chassis")
	settest.Near(t, "0.1 µF alone", c.Solve(on(c, AsMarked)).Read("chassis", "").Milliamps, 4.48, 1e-3)
	charged := on(c, AsMarked)
	charged.Rectifier = smallDiodes
	settest.Near(t, "with the diode, which charges it", c.Solve(charged).Read("chassis", "").Milliamps, 0, 0)
	if p := c.Examine(Options{Faults: 0}).Point("chassis"); p.Depth != None || p.Normal.State.Rectifier != "" {
		t.Errorf("depth %d, the worst %+v; want none, nothing conducting", p.Depth, p.Normal.State)
	}
}

// TestThreeDoubtfulCapacitorsAndAGoodOne: three paper capacitors of 1 nF and one of 0.01 µF film in a row
// from the line to the chassis. The three let go at no cost, one failure is left: depth 1 by all four,
// more than the K + 1 = 3 faults of the complete search at K = 2. Whole, the row is 1/(3/1n + 1/10n) =
// 322.6 pF, 120·ω·C = 14.6 µA.
func TestThreeDoubtfulCapacitorsAndAGoodOne(t *testing.T) {
	const row = `C1 = { kind = "capacitor", ends = ["L", "a"], value = "1 nF", type = "paper" }
C2 = { kind = "capacitor", ends = ["a", "b"], value = "1 nF", type = "paper" }
C3 = { kind = "capacitor", ends = ["b", "c"], value = "1 nF", type = "paper" }
C4 = { kind = "capacitor", ends = ["c", "chassis"], value = "0.01 uF", type = "film" }
R1 = { kind = "resistor", ends = ["L", "N"], value = "1k" }`
	c := circuitOf(t, row, "chassis")
	settest.Near(t, "whole", c.Solve(on(c, AsMarked)).Read("chassis", "").Milliamps, 1e3*120*w60/(3e9+1e8), 1e-3)
	wantDepth(t, c, "chassis", "1 by [C1 shorted C2 shorted C3 shorted C4 shorted]")
	// the same with the good one Y1: two failures
	wantDepth(t, circuitOf(t, settest.Replaced(t, row, `type = "film"`, `type = "film", class = "Y1"`), "chassis"), "chassis",
		"2 by [C1 shorted C2 shorted C3 shorted C4 shorted]")
	// three alone: they cost nothing, so it is live as soon as they let go
	wantDepth(t, circuitOf(t, settest.Replaced(t, row, `C4 = { kind = "capacitor", ends = ["c", "chassis"], value = "0.01 uF", type = "film" }`,
		`W4 = { kind = "wire", ends = ["c", "chassis"] }`), "chassis"), "chassis", "0 by [C1 shorted C2 shorted C3 shorted]")
	// a tenth doubtful one in the row is not let off either
	long, node := "", "L"
	for k := range 9 {
		next := fmt.Sprintf("n%d", k)
		long += fmt.Sprintf("K%d = { kind = \"capacitor\", ends = [%q, %q], value = \"1 nF\", type = \"paper\" }\n", k, node, next)
		node = next
	}
	long += fmt.Sprintf("K9 = { kind = \"capacitor\", ends = [%q, \"chassis\"], value = \"1 nF\", type = \"film\" }", node)
	if p := circuitOf(t, long, "chassis").Examine(Options{Faults: 2}).Point("chassis"); p.Depth != 1 || len(p.FaultSets) != 1 || len(p.FaultSets[0].Faults) != 10 {
		t.Errorf("nine doubtful and a good one: depth %d by %v", p.Depth, p.FaultSets)
	}
}

// TestChainDropsWhatNeedNotFail: of a chain, a member that makes no difference is no part of the set. C2 is
// 5 µF: 530 Ω at 60 Hz. 120 V through it and the body are 58.8 mA: live with it whole.
func TestChainDropsWhatNeedNotFail(t *testing.T) {
	c := circuitOf(t, `C1 = { kind = "capacitor", ends = ["L", "a"], value = "1 nF", type = "paper" }
C2 = { kind = "capacitor", ends = ["a", "b"], value = "5 uF", type = "paper" }
C3 = { kind = "capacitor", ends = ["b", "c"], value = "1 nF", type = "paper" }
C4 = { kind = "capacitor", ends = ["c", "d"], value = "1 nF", type = "paper" }
C5 = { kind = "capacitor", ends = ["d", "chassis"], value = "1 nF", type = "film" }
`, "chassis")
	s := c.Solve(on(c, AsMarked).WithFaults(faultOf(t, c, "C1", Shorted), faultOf(t, c, "C3", Shorted), faultOf(t, c, "C4", Shorted), faultOf(t, c, "C5", Shorted)))
	settest.Near(t, "with C2 whole", s.Read("chassis", "").Milliamps, 1e3*120/cmplx.Abs(0.14+body60-1i/(w60*5e-6)), 1e-4)
	wantDepth(t, c, "chassis", "1 by [C1 shorted C3 shorted C4 shorted C5 shorted]")
}

// TestChainHandToHand: two doubtful capacitors from line 1 to the chassis, two from line 2 to the shaft.
// To earth, those of the hot leg: two that cost nothing. Hand to hand with mains of which nothing is
// earthed, all four: 120 V through the body network.
func TestChainHandToHand(t *testing.T) {
	const parts = `C1 = { kind = "capacitor", ends = ["L", "a"], value = "1 nF", type = "paper" }
C2 = { kind = "capacitor", ends = ["a", "chassis"], value = "1 nF", type = "paper" }
C3 = { kind = "capacitor", ends = ["N", "b"], value = "1 nF", type = "paper" }
C4 = { kind = "capacitor", ends = ["b", "shaft"], value = "1 nF", type = "paper" }`
	text := earthedAt(t, "nowhere", settest.With(parts, "chassis", "shaft"))
	c := newCircuit(t, settest.Load(t, text), Bench{})
	r := c.Examine(Options{Faults: 2})
	if p := r.Point("chassis"); p.Depth != None {
		t.Errorf("chassis to earth: depth %d by %v; no current returns", p.Depth, p.FaultSets)
	}
	if len(r.Between) != 1 {
		t.Fatalf("%d pairs", len(r.Between))
	}
	pair := r.Between[0]
	if got := fmt.Sprint(pair.Depth, pair.FaultSets); got != "0 [{0 [C1 shorted C2 shorted C3 shorted C4 shorted]}]" {
		t.Errorf("hand to hand: %s", got)
	}
	s := c.Solve(on(c, AsMarked).WithFaults(c.Faults[0], c.Faults[1], c.Faults[2], c.Faults[3]))
	settest.Near(t, "hand to hand", s.Read("chassis", "shaft").Milliamps, 1e3*120/cmplx.Abs(0.24+body60), 1e-4)
}

// earthedAt puts what of the mains is earthed into a set file's text.
func earthedAt(t settest.TB, where, text string) string {
	return settest.Replaced(t, text, "[nodes]", "earthed = \""+where+"\"\n[nodes]")
}

// TestCathodeThatAJackBringsOut: a plate on 90 V of battery, the cathode through 470 Ω on B-minus, which is
// on the building's earth; the jack is on the cathode. With nothing drawn it stands at 0 V. The tube draws
// its working current as a resistance: 12AV6, 250 V at 1.2 mA, is 208.3 kΩ; its cathode stands at
// 90·470/(208333 + 470 + 1) V.
func TestCathodeThatAJackBringsOut(t *testing.T) {
	c := circuitOf(t, `B1 = { kind = "battery", positive = "B+", negative = "N", volts = 90 }
V1 = { kind = "tube", type = "6J", pins = { 1 = "jack", 2 = "B+" } }
R1 = { kind = "resistor", ends = ["jack", "N"], value = "10k" }
PL1 = { kind = "plug", hot = "L", neutral = "N" }

[tube_types."6J"]
heater = { pins = [3, 4], volts = 6.3, amps = 0.3 }
cathodes = [1]
elements = { 1 = "cathode", 2 = "plate" }
working = [ { plate = 2, cathode = 1, plate_volts = 100.0, plate_milliamps = 10.0 } ]`, "jack")
	// 100 V at 10 mA is 10 kΩ plate to cathode, 10 kΩ in the cathode lead: 90·10000/(20001.1) = 44.997 V behind 5 kΩ,
	// through 2000 Ω: 90/(10001 + …): 44.9975/(5000.5 + 2000) = 6.428 mA
	r := c.Solve(on(c, AsMarked)).Read("jack", "")
	settest.Near(t, "open", r.VoltsDC, 90*10000/20001.0, 1e-4)
	z := 1 / (1/10000.1 + 1/10001.1)
	settest.Near(t, "through a body", r.MilliampsDC, 1e3*r.VoltsDC/(2000+z), 1e-4)
	settest.Near(t, "through a body", r.MilliampsDC, 6.428, 1e-3)
	pulled := c.Solve(on(c, AsMarked).WithFaults(faultOf(t, c, "V1", Pulled))).Read("jack", "")
	settest.Near(t, "the tube pulled", pulled.VoltsDC, 0, 0)
	// 200 V of a rectifier's supply in place of the battery: live by what the tube draws
	c = circuitOf(t, `T1 = { kind = "transformer", windings = { p = ["L", "N"], s = ["ac", "N"] }, volts = { p = 120, s = 240 } }
D1 = { kind = "rectifier", anode = "ac", cathode = "B+" }
V1 = { kind = "tube", type = "6J", pins = { 1 = "jack", 2 = "B+" } }
R1 = { kind = "resistor", ends = ["jack", "N"], value = "100k" }

[tube_types."6J"]
heater = { pins = [3, 4], volts = 6.3, amps = 0.3 }
cathodes = [1]
elements = { 1 = "cathode", 2 = "plate" }
working = [ { plate = 2, cathode = 1, plate_volts = 100.0, plate_milliamps = 25.0 } ]`, "jack")
	wantDepth(t, c, "jack", "0 by []")
	// √2·240 V, less a few thousandths in the windings; 4 kΩ in the tube, 100 kΩ at the jack
	r = c.Solve(on(c, AsMarked)).Read("jack", "")
	settest.Near(t, "open", r.VoltsDC, math.Sqrt2*240*100/104, 5e-3)
}

// TestFloatingMetalReadsNothing: metal that nothing leads to earth from reads 0, where minimum conductances
// alone would divide the volts: a chassis on a winding of which both ends float, 153 V by them in a set with
// many parts on one node.
func TestFloatingMetalReadsNothing(t *testing.T) {
	parts := `T1 = { kind = "transformer", windings = { p = ["L", "N"], s = ["chassis", "far"] }, volts = { p = 120, s = 460 } }
R0 = { kind = "resistor", ends = ["far", "a"], value = "1 meg" }
`
	for k := range 5 {
		parts += fmt.Sprintf("R%d = { kind = \"resistor\", ends = [\"far\", \"n%d\"], value = \"1 meg\" }\n", k+1, k)
	}
	c := circuitOf(t, parts, "chassis", "far")
	for _, state := range c.Normal() {
		s := c.Solve(state)
		if r := s.Read("chassis", ""); r != (Reading{}) {
			t.Errorf("%s: floating metal reads %+v", state.Plug, r)
		}
		if v := s.Volts("chassis"); v != 0 {
			t.Errorf("%s: it stands at %v V", state.Plug, v)
		}
	}
	// hand to hand its own winding drives: 460 V behind 10 Ω and the primary's 10.2 Ω times (460/120)² = 149.9 Ω
	settest.Near(t, "across the winding", c.Solve(on(c, AsMarked)).Read("chassis", "far").Milliamps, 1e3*460/cmplx.Abs(159.9+body60), 1e-3)
	if p := c.Examine(Options{Faults: 2}).Between; len(p) != 1 || p[0].Depth != 0 {
		t.Errorf("hand to hand: %+v", p)
	}
	// between two groups of which one floats no current returns
	c = circuitOf(t, parts+`R9 = { kind = "resistor", ends = ["L", "shaft"], value = 100 }`, "chassis", "shaft")
	if r := c.Solve(on(c, AsMarked)).Read("chassis", "shaft"); r != (Reading{}) {
		t.Errorf("from what floats to the line: %+v", r)
	}
	// DC is judged apart: a capacitor lets AC return, not DC
	c = circuitOf(t, `B1 = { kind = "battery", positive = "chassis", negative = "a", volts = 90 }
C1 = { kind = "capacitor", ends = ["a", "L"], value = "0.1 uF", type = "film" }`, "chassis")
	r := c.Solve(on(c, AsMarked)).Read("chassis", "")
	settest.Near(t, "AC by the capacitor", r.VoltsOpen, 120, 1e-4)
	settest.Near(t, "DC", r.VoltsDC, 0, 0)
}
