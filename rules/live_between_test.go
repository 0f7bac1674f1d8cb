package rules

import (
	"fmt"
	"slices"
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

// A pair is named by the points that the search took for it: of one piece of metal the bare shaft, and not the chassis
// whose cabinet no one vouches for. The sentence names both.
func TestLiveBetweenNamesThePairSearched(t *testing.T) {
	r := checkSet(t, loadWhole(t, `[set]
name = "trial"
[nodes]
chassis = { touch = "chassis", guard = "cabinet", guard_condition = "suspect" }
shaft = { touch = "control" }
antenna = { touch = "antenna" }
[parts]
PL1 = { kind = "plug", style = "polarized", hot = "line 1", neutral = "line 2" }
T1 = { kind = "transformer", windings = { primary = ["line 1", "line 2"], secondary = ["high", "chassis"] }, volts = { primary = 120, secondary = 120 } }
W1 = { kind = "wire", ends = ["chassis", "shaft"] }
C1 = { kind = "capacitor", ends = ["high", "antenna"], value = "100 pF" }
`), analysis.Bench{})
	f := one(t, r, "live-between", Warning, "from chassis and shaft (one piece of metal) to antenna", "C1 shorted")
	pair := r.Case.Result.Between[0]
	if want := []string{"shaft", "antenna"}; !slices.Equal(f.Nodes, want) || pair.A.Name != want[0] || pair.B.Name != want[1] {
		t.Errorf("told of %v, searched %s to %s", f.Nodes, pair.A.Name, pair.B.Name)
	}
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

// Two resistors of 800 Ω halve the 120 V of a winding for a capacitor to the antenna. With R2 open it gets
// the whole: hand to hand 13 nF startle then, 9 nF (0.407 mA) come within a fifth, 8 nF (0.362 mA) do not.
// To earth neither metal passes anything.
func TestLiveBetweenOnceOpen(t *testing.T) {
	with := func(nanofarads float64, more ...string) *Report {
		return behindTransformer(t, append(more, `R1 = { kind = "resistor", ends = ["high", "x"], value = 800 }`, `R2 = { kind = "resistor", ends = ["x", "chassis"], value = 800 }`,
			fmt.Sprintf(`C1 = { kind = "capacitor", ends = ["x", "antenna"], value = "%g nF", class = "Y1" }`, nanofarads))...)
	}
	f := one(t, with(13), "live-between", Warning, "chassis", "antenna", "0.588 mA passes once R2 is open")
	if !slices.Equal(f.Parts, []string{"R2"}) {
		t.Errorf("parts %v", f.Parts)
	}
	one(t, with(9), "live-between", Notice, "0.407 mA passes once R2 is open")
	silent(t, with(8), "live-between")
	// A lamp in place of R2 is everyday all the more.
	r := behindTransformer(t, `R1 = { kind = "resistor", ends = ["high", "x"], value = 800 }`, `LP1 = { kind = "lamp", ends = ["x", "chassis"], volts = 60, amps = 0.075 }`,
		`C1 = { kind = "capacitor", ends = ["x", "antenna"], value = "13 nF", class = "Y1" }`)
	one(t, r, "live-between", Warning, "once LP1 is open")
	// What startles as much with nothing failed is told once; what one failure makes live comes first.
	one(t, with(30), "live-between", Warning, "with nothing failed")
	f = one(t, with(13, `C2 = { kind = "capacitor", ends = ["high", "antenna"], value = "100 pF" }`), "live-between", Warning, "with C2 shorted")
	if !strings.Contains(strings.Join(f.Notes, "\n"), "once R2 is open") {
		t.Errorf("notes %q", f.Notes)
	}
}

// A metal that startles to earth by the same opening tells it, and the pair is silent.
func TestLiveBetweenLeavesToEarth(t *testing.T) {
	r := checkSet(t, loadWhole(t, `[set]
name = "trial"
[nodes]
chassis = { touch = "chassis" }
antenna = { touch = "antenna" }
[parts]
PL1 = { kind = "plug", style = "grounding", hot = "line 1", neutral = "line 2", earth = "antenna" }
R1 = { kind = "resistor", ends = ["line 1", "x"], value = 800 }
R2 = { kind = "resistor", ends = ["x", "line 2"], value = 800 }
C1 = { kind = "capacitor", ends = ["x", "chassis"], value = "13 nF", class = "Y1" }
`), analysis.Bench{})
	one(t, r, "touch-current", Warning, "chassis startles once R1 is open")
	silent(t, r, "live-between")
}
