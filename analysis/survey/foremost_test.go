package survey

import (
	"testing"

	"coldcheck/analysis"
	"coldcheck/netlist/settest"
)

// TestWorstIsFirstWithNothingWrong: the worst of a target is told with nothing wrong where that is over the first limit,
// else with the one failure that makes it so.
func TestWorstIsFirstWithNothingWrong(t *testing.T) {
	for farads, want := range map[string]string{"1 nF": "C1", "0.1 uF": ""} {
		s := surveyOf(t, settest.With(`C1 = { kind = "capacitor", ends = ["L", "chassis"], value = "`+farads+`", type = "film" }
R1 = { kind = "resistor", ends = ["L", "N"], value = "1k" }`, "chassis"))
		place := s.Worst(0)
		got := ""
		for _, f := range s.FaultSets[place.Faults] {
			got += f.Part
		}
		if got != want {
			t.Errorf("%s: worst with %q, want %q", farads, got, want)
		}
		if e := s.At(place, 0); e.State.Plug != analysis.AsMarked && want != "" || e.Class() == analysis.UnderLimit {
			t.Errorf("%s: worst is %v, %.3g mA", farads, e.State.Plug, e.Milliamps)
		}
	}
}
