package rules

import (
	"strings"
	"testing"

	"coldcheck/analysis"
)

// A board that the failure of a winding puts on the line is live against the arm beside it too, and
// in the other way of the plug: the finding names both.
func TestOneFailureNamesTheOtherHand(t *testing.T) {
	r := checkSet(t, loadWhole(t, `[set]
name = "trial"
[nodes]
arm = { touch = "pickup" }
board = { touch = "pickup" }
[parts]
PL1 = { kind = "plug", style = "polarized", hot = "line 1", neutral = "arm" }
M1 = { kind = "coil", ends = ["line 1", "arm"], ohms = 400, frame = "board" }
`), analysis.Bench{})
	f := one(t, r, "one-insulation", Caution, "board is one failure from live")
	if notes := strings.Join(f.Notes, "\n"); !strings.Contains(notes, "from board to arm") || !strings.Contains(notes, "plug as marked") {
		t.Errorf("the other hand is not told: %q", f.Notes)
	}
	silent(t, r, "live-between")
}

// Behind a transformer neither metal is live to earth when C1 shorts, and both hands get the winding's
// 120 V. That the chassis is live to earth by another failure hides nothing of it.
func TestLiveBetweenByAFailureOfItsOwn(t *testing.T) {
	with := func(class string) *Report {
		return checkSet(t, loadWhole(t, `[set]
name = "trial"
[nodes]
chassis = { touch = "chassis" }
antenna = { touch = "antenna" }
[parts]
PL1 = { kind = "plug", style = "polarized", hot = "line 1", neutral = "line 2" }
T1 = { kind = "transformer", windings = { primary = ["line 1", "line 2"], secondary = ["high", "chassis"] }, volts = { primary = 120, secondary = 120 } }
C1 = { kind = "capacitor", ends = ["high", "antenna"], value = "100 pF"`+class+` }
`), analysis.Bench{})
	}
	f := one(t, with(""), "live-between", Warning, "chassis", "antenna", "C1 shorted")
	if f.Worst.Milliamps < 40 {
		t.Errorf("%g mA of 120 V", f.Worst.Milliamps)
	}
	silent(t, with(`, class = "Y1"`), "live-between")
}
