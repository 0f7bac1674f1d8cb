package rules

import "testing"

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
	silent(t, neutral, "no-fuse")

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
