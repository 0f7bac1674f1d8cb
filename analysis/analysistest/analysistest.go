// Package analysistest makes circuits for the tests of what stands on package analysis.
package analysistest

import (
	"coldcheck/analysis"
	"coldcheck/netlist"
	"coldcheck/netlist/settest"
)

// New makes a set ready on a bench.
func New(t settest.TB, set *netlist.Set, bench analysis.Bench) *analysis.Circuit {
	t.Helper()
	c, err := analysis.New(set, bench)
	if err != nil {
		t.Fatalf("%v", err)
	}
	return c
}

// Of is a circuit of a set file on the bare mains.
func Of(t settest.TB, file string) *analysis.Circuit {
	t.Helper()
	return New(t, settest.Load(t, file), analysis.Bench{})
}

// With is a circuit of those parts, as settest.With writes them, on the mains.
func With(t settest.TB, parts string, touch ...string) *analysis.Circuit {
	t.Helper()
	return Of(t, settest.With(parts, touch...))
}

// HeaterString has a heater string of three, with a lamp, wires in a row, a capacitor and a sleeve.
const HeaterString = `
[set]
name = "String set"
[nodes]
chassis = { touch = "chassis" }
clip = { touch = "antenna" }
[parts]
PL1 = { kind = "plug", hot = "line 1", neutral = "line 2" }
S1 = { kind = "switch", ends = ["line 2", "B-"] }
R1 = { kind = "resistor", ends = ["line 1", "h0"], value = 100 }
V1 = { kind = "tube", type = "12BE6", pins = { 3 = "h0", 4 = "h1" } }
V2 = { kind = "tube", type = "12BA6", pins = { 3 = "h1", 4 = "h2" } }
V3 = { kind = "tube", type = "50C5", pins = { 3 = "h2", 4 = "B-" } }
W1 = { kind = "wire", ends = ["B-", "w1"] }
W2 = { kind = "wire", ends = ["w1", "w2"] }
W3 = { kind = "wire", ends = ["w2", "chassis"] }
C1 = { kind = "capacitor", ends = ["chassis", "mid"], value = "100 pF", type = "mica" }
I1 = { kind = "insulation", ends = ["mid", "clip"], grade = "functional" }
`

// TwoSwitches has two switches and a selector of three positions.
const TwoSwitches = `
[set]
name = "Switched set"
[nodes]
chassis = { touch = "chassis" }
[parts]
PL1 = { kind = "plug", hot = "line 1", neutral = "line 2" }
S1 = { kind = "switch", ends = ["line 1", "a"] }
S2 = { kind = "switch", ends = ["a", "b"] }
SL1 = { kind = "selector", common = "b", throws = ["c", "d", ""], positions = ["low", "high", "rest"] }
R1 = { kind = "resistor", ends = ["c", "chassis"], value = 100 }
R2 = { kind = "resistor", ends = ["d", "chassis"], value = 200 }
R3 = { kind = "resistor", ends = ["chassis", "line 2"], value = 300 }
`
