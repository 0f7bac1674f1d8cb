package analysis

import (
	"testing"

	"coldcheck/netlist/settest"
)

// found is what a meter and a body find at one point of a set in one state.
type found struct {
	open, meter float64 // V AC, with nothing connected and with a meter of 10 MΩ
	body        float64 // mA
	hot         float64 // V, of the hot check
}

// exampleCase is one arrangement as an example has it, or with parts of its text replaced, in one
// state. The figures were computed apart from this program, for the line side alone; heaters hot,
// rectifiers blocking.
type exampleCase struct {
	what    string
	example string
	node    string
	plug    Polarity
	at      []string // control, position, …
	faults  []faultName
	edits   []string // old text, new text, …
	want    found
	part    float64 // how near; 0 is half a per cent
}

type faultName struct {
	part string
	kind FaultKind
}

func opened(parts ...string) []faultName {
	var list []faultName
	for _, p := range parts {
		list = append(list, faultName{p, Open})
	}
	return list
}

// unloaded takes every load off the autotransformer: what is left is its magnetising current.
var unloaded = append(opened("LP1", "M1", "R1"),
	faultName{"V1", Pulled}, faultName{"V2", Pulled}, faultName{"V3", Pulled}, faultName{"V4", Pulled}, faultName{"V5", Pulled})

var (
	isOn  = []string{"S1", "on"}
	isOff = []string{"S1", "off"}
)

const (
	barrierCapacitor = `C1  = { kind = "capacitor", ends = ["B-", "chassis"], value = "0.1 uF", rating = "630 V", type = "film", note = "new; it was paper" }`
	bypassCapacitor  = `C1  = { kind = "capacitor", ends = ["line 2", "chassis"], value = ".01 mfd", rating = "600 V", type = "paper", note = "line bypass" }`
	fromBothLines    = `C1  = { kind = "capacitor", ends = ["line 2", "chassis"], value = "10 nF" }
C11 = { kind = "capacitor", ends = ["line 1", "chassis"], value = "10 nF" }`
	coreStrays = `C1  = { kind = "capacitor", ends = ["primary start", "chassis"], value = "200 pF" }
C11 = { kind = "capacitor", ends = ["line 2", "chassis"], value = "200 pF" }`
)

var appendixCases = []exampleCase{
	{what: "a, lamp, reversed on", example: "hot-chassis-line-switch", node: "chassis", plug: Reversed, at: isOn, want: found{119.98, 119.98, 60.423, 119.98}},
	{what: "a, lamp, reversed off", example: "hot-chassis-line-switch", node: "chassis", plug: Reversed, at: isOff, want: found{120.00, 120.00, 60.430, 119.99}},
	{what: "c, lamp, marked off", example: "hot-chassis", node: "chassis", plug: AsMarked, at: isOff, want: found{120.00, 119.99, 43.246, 78.51}},
	{what: "c, no lamp, marked off", example: "hot-chassis", node: "chassis", plug: AsMarked, at: isOff, faults: opened("LP1"), want: found{120.00, 119.99, 42.827, 77.59}},
	{what: "b 220k and 0.1 uF, reversed on", example: "floating-b-minus", node: "chassis", plug: Reversed, at: isOn, want: found{119.98, 119.95, 4.473, 6.722}},
	{what: "b 220k and 0.1 uF, marked off", example: "floating-b-minus", node: "chassis", plug: AsMarked, at: isOff, want: found{120.00, 119.95, 4.447, 6.685}},
	{what: "b 220k and 0.25 uF, reversed on", example: "floating-b-minus", node: "chassis", plug: Reversed, at: isOn,
		edits: []string{`value = "0.1 uF"`, `value = "0.25 uF"`}, want: found{119.98, 119.98, 10.855, 16.457}},
	// the loop returns to the chassis: R7 of 3.3 MΩ is a second path from B-minus, here open
	{what: "b 220k alone, reversed on", example: "floating-b-minus", node: "chassis", plug: Reversed, at: isOn,
		edits: []string{barrierCapacitor, ""}, faults: opened("R7"), want: found{119.98, 117.40, 0.541, 0.810}},
	{what: "e, marked off", example: "line-cord-resistor", node: "chassis", plug: AsMarked, at: isOff, want: found{120.00, 120.00, 50.329, 94.72}},
	{what: "f, marked off", example: "series-string-doubler", node: "chassis", plug: AsMarked, at: isOff, want: found{120.00, 120.00, 55.004, 106.08}},
	{what: "f antenna, reversed on", example: "series-string-doubler", node: "antenna 1", plug: Reversed, at: isOn, want: found{119.93, 109.31, 0.122, 0.182}},
	{what: "g unloaded, marked off", example: "autotransformer", node: "chassis", plug: AsMarked, at: isOff, faults: unloaded, want: found{230.00, 230.00, 47.200, 72.62}},
	{what: "h 10 nF on L2, reversed on", example: "line-bypass", node: "chassis", plug: Reversed, at: isOn, want: found{119.99, 119.95, 0.452, 0.676}},
	{what: "h 2 x 10 nF, marked on", example: "line-bypass", node: "chassis", plug: AsMarked, at: isOn,
		edits: []string{bypassCapacitor, fromBothLines}, want: found{60.00, 59.99, 0.452, 0.675}},
	// some forty nodes hang on the chassis here, each with its 10 GΩ to earth: 250 MΩ beside the meter
	{what: "h strays, marked on", example: "line-bypass", node: "chassis", plug: AsMarked, at: isOn,
		edits: []string{bypassCapacitor, coreStrays}, want: found{60.00, 49.96, 0.009, 0.014}, part: 0.04},
	{what: "i, marked off", example: "guitar-amplifier", node: "jack sleeve", plug: AsMarked, at: isOff, want: found{120.00, 119.99, 43.114, 78.22}},
	{what: "j, C shorted, marked off", example: "three-way-portable", node: "chassis", plug: AsMarked, at: isOff,
		faults: []faultName{{"C1", Shorted}}, want: found{120.00, 119.96, 24.461, 40.61}},
	{what: "k, reversed on", example: "european-dropper", node: "chassis", plug: Reversed, at: isOn, want: found{219.99, 219.99, 110.542, 219.98}},
	{what: "k, L2 pole open, marked", example: "european-dropper", node: "chassis", plug: AsMarked, at: isOff,
		faults: []faultName{{"S1", Stuck}}, want: found{220.00, 219.95, 52.544, 89.11}},
	{what: "k earth socket, reversed on", example: "european-dropper", node: "earth socket", plug: Reversed, at: isOn, want: found{219.99, 219.54, 0.345, 0.517}},
	{what: "l, marked off", example: "phonograph", node: "tone arm", plug: AsMarked, at: isOff, want: found{120.00, 120.00, 52.376, 99.09}},
	// as with h: some thirty minimum conductances of 10 GΩ beside the meter
	{what: "m 300 pF, reversed on", example: "isolated-conversion", node: "chassis", plug: Reversed, at: isOn, want: found{118.55, 88.62, 0.013, 0.020}, part: 0.011},
	{what: "n 4.7 nF, reversed on", example: "done-properly", node: "chassis", plug: Reversed, at: isOn, want: found{119.98, 119.79, 0.213, 0.318}},
}

// TestFiguresOfTheArrangements: open volts, volts on a meter, current through a body and the hot
// check of each classic arrangement.
func TestFiguresOfTheArrangements(t *testing.T) {
	for _, x := range appendixCases {
		t.Run(x.what, x.run)
	}
}

func (x exampleCase) run(t *testing.T) {
	c := newCircuit(t, settest.Load(t, settest.Replaced(t, settest.Example(t, x.example), x.edits...)), Bench{})
	x.hold(t, c)
}

func (x exampleCase) hold(t *testing.T, c *Circuit) {
	var faults []*Fault
	for _, f := range x.faults {
		faults = append(faults, faultOf(t, c, f.part, f.kind))
	}
	s := c.Solve(on(c, x.plug, x.at...).WithFaults(faults...))
	r := s.Read(x.node, "")
	part := x.part
	if part == 0 {
		part = 0.005
	}
	// the printed figures stop at a hundredth of a volt and a thousandth of a milliampere
	within := func(what string, got, want, printed float64) {
		t.Helper()
		if d := got - want; d > part*want+printed || -d > part*want+printed {
			t.Errorf("%s: %s is %.5g, want %.5g", x.what, what, got, want)
		}
	}
	within("open", r.VoltsOpen, x.want.open, 0.005)
	within("10 MΩ", r.VoltsMeter, x.want.meter, 0.005)
	within("body", r.Milliamps, x.want.body, 0.0005)
	within("hot check", s.HotCheck(x.node), x.want.hot, 0.0005)
}

// TestStraysWithNothingElseOnTheChassis: the two rows that hang on picofarads, without the signal
// side's nodes and their minimum conductances.
func TestStraysWithNothingElseOnTheChassis(t *testing.T) {
	const h = `F1 = { kind = "fuse", ends = ["L", "in"] }
S1 = { kind = "switch", ends = ["in", "P"] }
T1 = { kind = "transformer", windings = { p = ["P", "N"], s = ["heater", "chassis"] }, volts = { p = 120, s = 6.3 } }
C1 = { kind = "capacitor", ends = ["P", "chassis"], value = "200 pF" }
C2 = { kind = "capacitor", ends = ["N", "chassis"], value = "200 pF" }`
	exampleCase{what: "h", node: "chassis", plug: AsMarked, at: isOn, want: found{60.00, 49.96, 0.009, 0.014}}.hold(t, circuitOf(t, h, "chassis"))
	// the string of 818.7 Ω on the secondary
	const m = `S1 = { kind = "switch", ends = ["L", "P"] }
T1 = { kind = "transformer", windings = { p = ["P", "N"], s = ["hot", "chassis"] }, volts = { p = 120, s = 120 } }
C1 = { kind = "capacitor", ends = ["P", "hot"], value = "150 pF" }
C2 = { kind = "capacitor", ends = ["N", "chassis"], value = "150 pF" }
R1 = { kind = "resistor", ends = ["hot", "chassis"], value = 818.7 }`
	exampleCase{what: "m", node: "chassis", plug: Reversed, at: isOn, want: found{118.55, 88.62, 0.013, 0.020}}.hold(t, circuitOf(t, m, "chassis"))
}
