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

// behindTransformer is a chassis at one end of a winding of 120 V that floats, and an antenna; parts join
// the antenna to the other end, which no current leaves for the earth.
func behindTransformer(t *testing.T, parts ...string) *Report {
	t.Helper()
	return checkSet(t, loadWhole(t, `[set]
name = "trial"
[nodes]
chassis = { touch = "chassis" }
antenna = { touch = "antenna" }
[parts]
PL1 = { kind = "plug", style = "polarized", hot = "line 1", neutral = "line 2" }
T1 = { kind = "transformer", windings = { primary = ["line 1", "line 2"], secondary = ["high", "chassis"] }, volts = { primary = 120, secondary = 120 }, insulation = "reinforced" }
`+strings.Join(parts, "\n")+"\n"), analysis.Bench{})
}

// The one failure is graded as the rules of one failure grade it: good basic insulation of a frame is
// CAUTION, the same on which no one can count WARNING, two layers nothing.
func TestLiveBetweenIsGradedByWhatFails(t *testing.T) {
	coil := func(keys string) string {
		return `L1 = { kind = "coil", ends = ["high", "x"], ohms = 400, frame = "antenna"` + keys + " }"
	}
	one(t, behindTransformer(t, coil("")), "live-between", Caution, "chassis", "antenna", "L1 insulation failed")
	one(t, behindTransformer(t, coil(`, condition = "suspect"`)), "live-between", Warning, "L1 insulation failed")
	silent(t, behindTransformer(t, coil(`, frame_insulation = "double"`)), "live-between")
}

// 120 V through R and the body's 2 kΩ: 2 × 130 kΩ let 0.458 mA through, within a fifth below 0.5 mA,
// 2 × 160 kΩ 0.373 mA, 2 × 110 kΩ 0.541 mA. Two resistors are two safeguards.
func TestLiveBetweenByCurrent(t *testing.T) {
	with := func(ohms string) *Report {
		return behindTransformer(t, `R1 = { kind = "resistor", ends = ["high", "x"], value = "`+ohms+`" }`, `R2 = { kind = "resistor", ends = ["x", "antenna"], value = "`+ohms+`" }`)
	}
	f := one(t, with("130k"), "live-between", Notice, "0.458 mA", "with nothing failed")
	if !strings.Contains(f.Figures, "at the limit") {
		t.Error(f.Figures)
	}
	one(t, with("110k"), "live-between", Warning, "0.541 mA")
	silent(t, with("160k"), "live-between")
}

// Every failure that does it is named in one finding of the two metals.
func TestLiveBetweenNamesEveryFailure(t *testing.T) {
	r := behindTransformer(t, `C1 = { kind = "capacitor", ends = ["high", "antenna"], value = "100 pF" }`, `C2 = { kind = "capacitor", ends = ["high", "antenna"], value = "100 pF" }`)
	f := one(t, r, "live-between", Warning, "with C1 shorted")
	if strings.Join(f.Parts, " ") != "C1 C2" || !strings.Contains(strings.Join(f.Notes, "\n"), "so does C2 shorted") {
		t.Errorf("parts %v, notes %q", f.Parts, f.Notes)
	}
}
