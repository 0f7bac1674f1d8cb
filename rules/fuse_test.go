package rules

import (
	"slices"
	"strings"
	"testing"
)

func TestNoFuse(t *testing.T) {
	one(t, check(t, polarized, switchHot, wireNeut, loadHB, toChassis), "no-fuse", Caution)
	silent(t, check(t, polarized, wireNeut, loadHB, toChassis,
		`F1 = { kind = "fuse", ends = ["line 1", "fused"], amps = 0.5 }`,
		`S1 = { kind = "switch", ends = ["fused", "H"] }`), "no-fuse")
}

// A fuse that no line current passes is none of the line's.
func TestFuseDeepInTheSetIsNoLineFuse(t *testing.T) {
	one(t, check(t, polarized, switchHot, wireNeut, loadHB, toChassis,
		`R2 = { kind = "resistor", ends = ["H", "x"], value = "1k" }`,
		`F1 = { kind = "fuse", ends = ["x", "y"], amps = 0.5 }`,
		`R3 = { kind = "resistor", ends = ["y", "B-"], value = "1k" }`), "no-fuse", Caution)
}

func TestFuseMisplaced(t *testing.T) {
	first := `F1 = { kind = "fuse", ends = ["line 1", "fused"], amps = 0.5 }`
	// Fuse, switch, load in the hot leg: where it belongs.
	good := check(t, polarized, wireNeut, loadHB, toChassis, first, `S1 = { kind = "switch", ends = ["fused", "H"] }`)
	silent(t, good, "fuse-misplaced")

	neutral := check(t, polarized, switchHot, loadHB, toChassis, `F1 = { kind = "fuse", ends = ["line 2", "B-"], amps = 0.5 }`)
	one(t, neutral, "fuse-misplaced", Caution, "F1", "neutral leg (line 2)")
	silent(t, neutral, "no-fuse") // fuse-misplaced tells it

	behindSwitch := check(t, polarized, wireNeut, loadHB, toChassis,
		`S1 = { kind = "switch", ends = ["line 1", "switched"] }`, `F1 = { kind = "fuse", ends = ["switched", "H"], amps = 0.5 }`)
	one(t, behindSwitch, "fuse-misplaced", Caution, "behind a switch")

	behindLoad := check(t, polarized, wireNeut, loadHB, toChassis,
		`F1 = { kind = "fuse", ends = ["line 1", "H"], amps = 0.5 }`, `R2 = { kind = "resistor", ends = ["line 1", "B-"], value = "1k" }`)
	one(t, behindLoad, "fuse-misplaced", Caution, "behind R2")

	one(t, check(t, plain, switchHot, loadHB, toChassis, `F1 = { kind = "fuse", ends = ["line 2", "B-"], amps = 0.5 }`),
		"fuse-misplaced", Caution, "the file calls neutral (line 2)", "no one knows which")
	// A plain plug: in the leg written as hot it is as good as it gets.
	silent(t, check(t, plain, wireNeut, loadHB, toChassis, first, `S1 = { kind = "switch", ends = ["fused", "H"] }`), "fuse-misplaced")
}

// 120 V on 800 Ω is 150 mA, so 0.75 A is five times the working current.
func TestFuseRating(t *testing.T) {
	with := func(amps string) *Report {
		return check(t, polarized, wireNeut, loadHB, toChassis, `F1 = { kind = "fuse", ends = ["line 1", "H"]`+amps+` }`)
	}
	silent(t, with(", amps = 0.74"), "fuse-rating")
	one(t, with(", amps = 0.76"), "fuse-rating", Caution, "F1", "760 mA", "150 mA")
	one(t, with(""), "fuse-rating", Caution, "no rating")
}

// A fuse in a heater winding is not measured by the line's current, but must have a rating.
func TestFuseOutsideTheLine(t *testing.T) {
	with := func(amps string) *Report {
		return check(t, polarized, switchHot, wireNeut, toChassis, `F1 = { kind = "fuse", ends = ["sec", "hot"]`+amps+` }`,
			`R2 = { kind = "resistor", ends = ["hot", "low"], value = 6.3 }`,
			`T1 = { kind = "transformer", windings = { primary = ["H", "B-"], heaters = ["sec", "low"] }, volts = { primary = 120, heaters = 6.3 } }`)
	}
	silent(t, with(", amps = 4"), "fuse-rating")
	one(t, with(""), "fuse-rating", Caution, "F1")
}

// A fuse in one branch of the hot leg covers nothing of another; one fuse a branch covers all, and so
// does a second fuse behind the first.
func TestFuseInOneBranch(t *testing.T) {
	switched := `S1 = { kind = "switch", ends = ["line 1", "s"] }`
	motor := `M1 = { kind = "motor", ends = ["fused", "B-"], volts = 120, watts = 12 }`
	ahead := check(t, polarized, wireNeut, loadHB, toChassis, `S1 = { kind = "switch", ends = ["line 1", "H"] }`,
		`F1 = { kind = "fuse", ends = ["line 1", "fused"], amps = 0.2 }`, motor)
	one(t, ahead, "fuse-misplaced", Caution, "fuse F1 covers a branch alone", "R1 hangs on the hot leg (line 1) with no fuse ahead")
	silent(t, ahead, "no-fuse")

	two := check(t, polarized, wireNeut, loadHB, toChassis, `F1 = { kind = "fuse", ends = ["line 1", "fused"], amps = 0.2 }`, motor,
		`F2 = { kind = "fuse", ends = ["line 1", "s"], amps = 0.5 }`, `S1 = { kind = "switch", ends = ["s", "H"] }`)
	silent(t, two, "fuse-misplaced")

	second := check(t, polarized, wireNeut, loadHB, toChassis, `F2 = { kind = "fuse", ends = ["line 1", "first"], amps = 0.7 }`,
		`S1 = { kind = "switch", ends = ["first", "H"] }`, `F1 = { kind = "fuse", ends = ["H", "fused"], amps = 0.2 }`, motor)
	silent(t, second, "fuse-misplaced")

	behind := check(t, polarized, wireNeut, loadHB, toChassis, switched, `W3 = { kind = "wire", ends = ["s", "H"] }`,
		`F1 = { kind = "fuse", ends = ["s", "fused"], amps = 0.2 }`, motor)
	found := findings(behind, "fuse-misplaced")
	if len(found) != 2 || !strings.Contains(found[0].Message, "behind a switch") || !strings.Contains(found[1].Message, "R1 hangs") {
		t.Errorf("told:\n%s", messages(behind))
	}
}

// Wherever the fuses and switches are, a set of which something hangs on the hot leg without a fuse
// first in it gets a word; so does one without a switch that takes all off the hot leg.
func TestNoUnfusedOrUnswitchedHotLegIsSilent(t *testing.T) {
	hotLegs := []struct {
		lines           []string
		fused, switched bool
	}{
		{[]string{wireHot}, false, false},
		{[]string{switchHot}, false, true},
		{[]string{`F1 = { kind = "fuse", ends = ["line 1", "H"], amps = 0.5 }`}, true, false},
		{[]string{`F1 = { kind = "fuse", ends = ["line 1", "f"], amps = 0.5 }`, `S1 = { kind = "switch", ends = ["f", "H"] }`}, true, true},
		{[]string{`S1 = { kind = "switch", ends = ["line 1", "s"] }`, `F1 = { kind = "fuse", ends = ["s", "H"], amps = 0.5 }`}, false, true},
	}
	neutralLegs := [][]string{{wireNeut}, {`F2 = { kind = "fuse", ends = ["line 2", "B-"], amps = 0.5 }`}, {`S2 = { kind = "switch", ends = ["line 2", "B-"] }`},
		{`S2 = { kind = "switch", ends = ["line 2", "n"] }`, `F2 = { kind = "fuse", ends = ["n", "B-"], amps = 0.5 }`}}
	for _, plug := range []string{plain, polarized} {
		for _, hot := range hotLegs {
			for _, neutral := range neutralLegs {
				lines := slices.Concat([]string{plug, loadHB, toChassis}, hot.lines, neutral)
				r := check(t, lines...)
				if !hot.fused && len(findings(r, "no-fuse"))+len(findings(r, "fuse-misplaced")) == 0 {
					t.Errorf("no word of a fuse:\n%s\n%s", strings.Join(lines, "\n"), messages(r))
				}
				said := len(findings(r, "no-switch")) + len(findings(r, "switch-after-load")) + len(findings(r, "switch-in-neutral"))
				if !hot.switched && said == 0 {
					t.Errorf("no word of a switch:\n%s\n%s", strings.Join(lines, "\n"), messages(r))
				}
			}
		}
	}
}

// A fuse in the plate lead of a rectifier behind its surge resistor is told with what it leaves out; so is
// one behind the dropper of the whole set. A fuse first in the leg beside it covers that.
func TestFuseBehindAResistor(t *testing.T) {
	plateLead := []string{`R2 = { kind = "resistor", ends = ["H", "surge"], value = 27 }`, `F1 = { kind = "fuse", ends = ["surge", "plate"], amps = 0.2 }`,
		`D1 = { kind = "rectifier", anode = "plate", cathode = "B+" }`, `C1 = { kind = "capacitor", ends = ["B+", "B-"], value = "40 uF", rating = "200 V" }`,
		`R3 = { kind = "resistor", ends = ["B+", "B-"], value = "2k" }`}
	r := check(t, append([]string{polarized, switchHot, wireNeut, loadHB, toChassis}, plateLead...)...)
	f := one(t, r, "fuse-misplaced", Caution, "fuse F1 stands in one branch of the hot leg as marked (line 1), behind R2", "R1 hangs on that leg with no fuse ahead")
	if !slices.Equal(f.Parts, []string{"F1", "R2"}) {
		t.Errorf("parts %v", f.Parts)
	}
	silent(t, r, "no-fuse")

	dropper := check(t, polarized, switchHot, wireNeut, toChassis, `R2 = { kind = "resistor", ends = ["H", "x"], value = 160 }`,
		`F1 = { kind = "fuse", ends = ["x", "y"], amps = 0.5 }`, `LP1 = { kind = "lamp", ends = ["y", "B-"], volts = 100, amps = 0.15 }`)
	one(t, dropper, "fuse-misplaced", Caution, "behind R2: a short in what stands before it is not covered")

	// The other leg of a plain plug, and behind a rectifier, where no line current is left.
	one(t, check(t, plain, switchHot, loadHB, toChassis, `R2 = { kind = "resistor", ends = ["line 2", "x"], value = 27 }`, wireNeut,
		`F1 = { kind = "fuse", ends = ["x", "y"], amps = 0.5 }`, `M1 = { kind = "motor", ends = ["y", "H"], volts = 120, watts = 12 }`),
		"fuse-misplaced", Caution, "one branch of the leg line 2, behind R2", "R1 hangs")
	one(t, check(t, polarized, switchHot, wireNeut, loadHB, toChassis, `D1 = { kind = "rectifier", anode = "H", cathode = "B+" }`,
		`F1 = { kind = "fuse", ends = ["B+", "x"], amps = 0.2 }`, `L1 = { kind = "coil", ends = ["x", "B-"], ohms = 2000 }`), "no-fuse", Caution)

	first := append([]string{polarized, wireNeut, loadHB, toChassis, `F2 = { kind = "fuse", ends = ["line 1", "first"], amps = 0.5 }`,
		`S1 = { kind = "switch", ends = ["first", "H"] }`}, plateLead...)
	silent(t, check(t, first...), "fuse-misplaced")
}
