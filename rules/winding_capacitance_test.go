package rules

import (
	"strings"
	"testing"
)

// A small capacitor with nothing marked on it, from winding to winding or from a winding to the core,
// may be no part at all: the remedy says what then counts. A marked one, and one elsewhere, is a part.
func TestWindingCapacitance(t *testing.T) {
	transformer := `T1 = { kind = "transformer", windings = { primary = ["H", "B-"], secondary = ["high", "low"] }, volts = { primary = 120, secondary = 120 }, frame = "core" }`
	strap := `W3 = { kind = "wire", ends = ["low", "chassis"] }`
	bolt := `W4 = { kind = "wire", ends = ["core", "chassis"] }`
	for _, c := range []struct {
		capacitor string
		of        string
	}{
		{`ends = ["B-", "chassis"], value = "150 pF"`, "T1"},
		{`ends = ["high", "H"], value = "150 pF"`, "T1"},
		{`ends = ["B-", "chassis"], value = "150 pF", type = "mica", rating = "500 V"`, ""},
		{`ends = ["B-", "chassis"], value = "10 nF"`, ""},
		{`ends = ["H", "B-"], value = "150 pF"`, ""},
	} {
		set := load(t, polarized, switchHot, wireNeut, transformer, strap, bolt, `C1 = { kind = "capacitor", `+c.capacitor+` }`)
		if of := WindingCapacitance(set, set.Part("C1")); of != c.of {
			t.Errorf("%s is told to be the capacitance of %q, expected %q", c.capacitor, of, c.of)
		}
	}

	// From one winding of an i.f. transformer to the other it may well be a part: a padder, a coupling. From a coil or a
	// motor to its own metal it is none.
	for part, of := range map[string]string{
		`T2 = { kind = "transformer", windings = { plate = ["H", "x"], grid = ["y", "chassis"] } }`:                                  "",
		`T2 = { kind = "transformer", windings = { plate = ["H", "x"], grid = ["y", "chassis"] }, volts = { plate = 6, grid = 6 } }`: "T2",
		`T2 = { kind = "coil", ends = ["H", "x"], ohms = 100, frame = "chassis" }`:                                                   "T2",
		`T2 = { kind = "motor", ends = ["H", "x"], volts = 120, watts = 20, frame = "chassis" }`:                                     "T2",
		`T2 = { kind = "resistor", ends = ["H", "x"], value = 100, frame = "chassis" }`:                                              "",
	} {
		set := load(t, polarized, switchHot, wireNeut, part, `R9 = { kind = "resistor", ends = ["x", "B-"], value = 800 }`, `R8 = { kind = "resistor", ends = ["y", "chassis"], value = 800 }`,
			`C1 = { kind = "capacitor", ends = ["H", "chassis"], value = "150 pF" }`)
		if got := WindingCapacitance(set, set.Part("C1")); got != of {
			t.Errorf("beside %s it is told to be the capacitance of %q, expected %q", part, got, of)
		}
	}

	parts := []string{polarized, switchHot, wireNeut, transformer, strap, `C1 = { kind = "capacitor", ends = ["B-", "chassis"], value = "150 pF" }`,
		`W5 = { kind = "wire", ends = ["core", "lug"] }`}
	f := one(t, check(t, parts...), "one-capacitor", Warning, "C1")
	class := one(t, covered(t, parts...), "capacitor-class", Caution, "C1")
	for _, remedy := range []string{f.Remedy, class.Remedy} {
		if !strings.Contains(remedy, "T1's own windings") || !strings.Contains(remedy, "nothing can be fitted") {
			t.Errorf("to do: %s", remedy)
		}
	}
}
