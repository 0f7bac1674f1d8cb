package diagnose

import (
	"testing"

	"coldcheck/netlist/settest"
)

// TestWhatGoesWrongOften: what a shop replaces most is taken for more frequent than what it hardly ever replaces, by the
// part's own kind.
func TestWhatGoesWrongOften(t *testing.T) {
	set := settest.Load(t, settest.With(`C1 = { kind = "capacitor", ends = ["L", "chassis"], value = "0.05 uF", type = "paper" }
C2 = { kind = "capacitor", ends = ["L", "chassis"], value = "0.05 uF", type = "film" }
C3 = { kind = "capacitor", ends = ["L", "chassis"], value = "250 pF", type = "mica" }
C4 = { kind = "capacitor", ends = ["p", "chassis"], value = "40 uF", type = "electrolytic", positive = "p" }
I1 = { kind = "insulation", ends = ["L", "chassis"], grade = "basic" }
R1 = { kind = "resistor", ends = ["L", "chassis"], value = "220k" }
L1 = { kind = "coil", ends = ["L", "chassis"], ohms = 100 }
S1 = { kind = "switch", ends = ["L", "chassis"] }
V1 = { kind = "tube", type = "35W4", pins = { 3 = "L", 4 = "a", 5 = "L", 7 = "p" } }
V2 = { kind = "tube", type = "50C5", pins = { 3 = "a", 4 = "b", 7 = "p", 1 = "chassis" } }
V3 = { kind = "tube", type = "12AV6", pins = { 3 = "b", 4 = "N" } }
`, "chassis"))
	how := func(part string, kind ExplanationKind) float64 {
		return often(set, &Explanation{Kind: kind, Part: part})
	}
	order := [][]float64{
		{how("C1", Leaks), how("C4", Leaks), how("V3", Leaks), how("C2", Leaks), how("I1", Leaks), how("C3", Leaks)},
		{how("", PlugReversed), how("S1", SwitchMoved), how("L1", OtherValue)},
		{how("R1", OtherValue), how("L1", OtherValue)},
		{how("V1", WeakTube), how("V2", WeakTube), how("V3", WeakTube), how("V3", WrongType), how("V3", EndsSwapped)},
		{how("C4", DriedOut), how("S1", ConnectionOff), how("S1", SwitchMoved)},
	}
	for i, falls := range order {
		for k := 1; k < len(falls); k++ {
			if !(falls[k] < falls[k-1]) || falls[k] <= 0 || falls[0] > mostFrequent {
				t.Errorf("row %d does not fall: %v", i, falls)
			}
		}
	}
	if how("S1", SwitchMoved) != how("V1", EndsSwapped) || how("C1", AsDescribed) != mostFrequent || how("C1", StatedAbsent) != mostFrequent {
		t.Error("wiring slips, and what is as described, have two figures")
	}
}
