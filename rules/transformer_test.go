package rules

import "testing"

func TestAutotransformer(t *testing.T) {
	with := func(windings, volts string) *Report {
		return check(t, polarized, switchHot, wireNeut, toChassis,
			`T1 = { kind = "transformer", windings = { `+windings+` }, volts = { `+volts+` } }`,
			`R1 = { kind = "resistor", ends = ["out", "ret"], value = 800 }`,
			`C1 = { kind = "capacitor", ends = ["ret", "chassis"], value = "1 nF", class = "Y2" }`)
	}
	one(t, with(`line = ["H", "B-"], load = ["out", "B-"], heaters = ["ret", "h"]`, `line = 120, load = 240, heaters = 6.3`),
		"autotransformer", Caution, "T1", "line winding", "B-", "load winding")
	silent(t, with(`line = ["H", "B-"], load = ["out", "ret"]`, `line = 120, load = 240`), "autotransformer")
}

// A strap from the secondary to the primary makes one of a double-wound transformer.
func TestStrapMakesAnAutotransformer(t *testing.T) {
	lines := []string{polarized, switchHot, wireNeut, toChassis,
		`T1 = { kind = "transformer", windings = { line = ["H", "B-"], load = ["out", "ret"] }, volts = { line = 120, load = 120 } }`,
		`R1 = { kind = "resistor", ends = ["out", "ret"], value = 800 }`,
		`C1 = { kind = "capacitor", ends = ["ret", "chassis"], value = "1 nF", class = "Y2" }`}
	silent(t, check(t, lines...), "autotransformer")
	one(t, check(t, append(lines, `W3 = { kind = "wire", ends = ["ret", "B-"] }`)...), "autotransformer", Caution, "load winding")
}

// One winding written in two pieces, with the load on the tap; two primaries in series feed
// nothing from the point between them.
func TestTappedWinding(t *testing.T) {
	with := func(load string) *Report {
		return check(t, polarized, switchHot, wireNeut, toChassis,
			`T1 = { kind = "transformer", windings = { low = ["mid", "B-"], high = ["H", "mid"], load = ["out", "ret"] }, volts = { low = 60, high = 60, load = 120 } }`,
			`C1 = { kind = "capacitor", ends = ["ret", "chassis"], value = "1 nF", class = "Y2" }`,
			`R1 = { kind = "resistor", ends = `+load+`, value = 800 }`)
	}
	one(t, with(`["mid", "B-"]`), "autotransformer", Caution, "tapped at mid")
	silent(t, with(`["out", "ret"]`), "autotransformer")
}

func TestGuessedFigure(t *testing.T) {
	with := func(volts string) *Report {
		return check(t, polarized, switchHot, wireNeut, toChassis,
			`T1 = { kind = "transformer", windings = { primary = ["H", "B-"], secondary = ["out", "ret"] }`+volts+` }`,
			`R1 = { kind = "resistor", ends = ["out", "ret"], value = 800 }`,
			`C1 = { kind = "capacitor", ends = ["ret", "chassis"], value = "1 nF", class = "Y2" }`)
	}
	one(t, with(""), "guessed-figure", Caution, "primary winding of T1", "10 Ω", "guess")
	silent(t, with(`, volts = { primary = 120, secondary = 120 }`), "guessed-figure")
	// An output transformer is not across the line.
	silent(t, check(t, polarized, switchHot, wireNeut, loadHB, toChassis,
		`T1 = { kind = "transformer", windings = { primary = ["H", "plate"], secondary = ["voice", "B-"] } }`,
		`L1 = { kind = "coil", ends = ["voice", "B-"], ohms = 4 }`), "guessed-figure")
}
