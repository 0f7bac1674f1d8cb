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
