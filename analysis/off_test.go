package analysis_test

import (
	"testing"

	"coldcheck/analysis"
	"coldcheck/analysis/analysistest"
	"coldcheck/netlist/settest"
)

// With every switch off is what is off that turns off: a selector with such a position too, one without
// in any of its positions, and the worst of those.
func TestWorstOff(t *testing.T) {
	text := `[set]
name = "trial"
[nodes]
chassis = { touch = "chassis" }
[parts]
PL1 = { kind = "plug", hot = "line 1", neutral = "line 2" }
S1 = { kind = "switch", ends = ["line 1", "a"] }
SL1 = { kind = "selector", common = "chassis", throws = ["a", "b"], positions = ["one", "two"] }
SL2 = { kind = "selector", common = "b", throws = ["", "line 1"], positions = ["Off", "run"] }
R1 = { kind = "resistor", ends = ["line 2", "b"], value = "20k" }
`
	c := analysistest.New(t, settest.Load(t, text), analysis.Bench{})
	for name, turns := range map[string]bool{"S1": true, "SL1": false, "SL2": true, "PL1": false} {
		if c.TurnsOff(name) != turns {
			t.Errorf("%s turns off: %v", name, !turns)
		}
	}
	worst := c.WorstOff()
	if len(worst) != 1 || worst[0] == nil {
		t.Fatalf("worst is %v", worst)
	}
	// Only SL1 at two, with the plug reversed, has a path: 120 V through 20 kΩ and a body.
	if w := worst[0]; !c.AllOff(w.State) || w.State.At("SL1") != "two" || w.State.Plug != analysis.Reversed || w.Milliamps < 5 || w.Milliamps > 6 {
		t.Errorf("worst is %.2f mA, %v", w.Milliamps, w.State)
	}
	for _, state := range c.Normal() {
		if want := state.At("S1") == "off" && state.At("SL2") == "Off"; c.AllOff(state) != want {
			t.Errorf("%v is off: %v", state.Settings, !want)
		}
	}
}
