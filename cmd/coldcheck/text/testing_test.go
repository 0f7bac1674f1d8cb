package text

import (
	"strings"
	"testing"

	"coldcheck/analysis"
	"coldcheck/netlist/setfile"
)

// circuitOf makes a set of the parts of a set file ready.
func circuitOf(t *testing.T, file string) *analysis.Circuit {
	t.Helper()
	set, err := setfile.Load("test.toml", strings.NewReader(file))
	if err != nil {
		t.Fatal(err)
	}
	c, err := analysis.New(set, analysis.Bench{})
	if err != nil {
		t.Fatal(err)
	}
	return c
}

// stringSet has a heater string of three, with a lamp, wires in a row, a capacitor and a sleeve.
const stringSet = `
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
