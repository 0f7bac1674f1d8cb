package rules

import (
	"fmt"
	"strings"
	"testing"
)

// A capacitor from the hot leg to an earthed chassis: 120 V · 2π·60 Hz · C, 45.24 µA a nanofarad.
func TestEarthCurrentOfALineCapacitor(t *testing.T) {
	with := func(nano float64, plug string, more ...string) *Report {
		c := fmt.Sprintf(`C1 = { kind = "capacitor", ends = ["H", "chassis"], value = "%g nF", class = "Y2" }`, nano)
		return check(t, append([]string{plug, wireHot, wireNeut, loadHB, c}, more...)...)
	}
	silent(t, with(70, grounding), "earth-current") // 3.17 mA
	one(t, with(80, grounding), "earth-current", Notice, "3.62 mA", "earth contact")
	one(t, with(120, grounding), "earth-current", Warning, "5.43 mA", "5 mA")
	silent(t, with(120, polarized), "earth-current") // no earth to carry it

	rod := `WE = { kind = "wire", ends = ["chassis", "building earth"] }`
	one(t, with(80, polarized, rod), "earth-current", Notice, "WE")
	one(t, with(120, polarized, rod), "earth-current", Warning, "WE", "5.43 mA")
	silent(t, with(70, polarized, rod), "earth-current")
}

// Without a wire the current into the earth is that of all parts on it together.
func TestEarthCurrentWithoutAWire(t *testing.T) {
	one(t, check(t, polarized, wireHot, wireNeut, loadHB, toChassis,
		`C1 = { kind = "capacitor", ends = ["H", "building earth"], value = "120 nF", class = "Y2" }`), "earth-current", Warning, "building earth")
}

// A wire that is noted hides nothing: 3.62 mA in it and as much beside it come to 7.24 mA, which go
// through a hand when the earth itself is lost. Told of the wire over the limit already, or of no more
// than the wire carries, the sum says nothing new.
func TestEarthCurrentIsSummed(t *testing.T) {
	with := func(nano float64, more ...string) *Report {
		c := fmt.Sprintf(`C1 = { kind = "capacitor", ends = ["H", "chassis"], value = "%g nF", class = "Y2" }`, nano)
		return check(t, append([]string{polarized, wireHot, wireNeut, loadHB, c,
			`WE = { kind = "wire", ends = ["chassis", "building earth"] }`}, more...)...)
	}
	beside := `C2 = { kind = "capacitor", ends = ["H", "building earth"], value = "80 nF", class = "Y2" }`
	found := findings(with(80, beside), "earth-current")
	if len(found) != 2 || found[0].Signal != Warning || !strings.Contains(found[0].Message, "7.24 mA in all that is on building earth together") ||
		found[1].Signal != Notice || !strings.Contains(found[1].Message, "WE") {
		t.Errorf("told: %+v", found)
	}
	one(t, with(80), "earth-current", Notice, "WE")
	one(t, with(120, beside), "earth-current", Warning, "WE")
	// Two wires, neither of which is worth a note.
	one(t, with(60, `W3 = { kind = "wire", ends = ["rod", "building earth"] }`,
		`C3 = { kind = "capacitor", ends = ["H", "rod"], value = "60 nF", class = "Y2" }`), "earth-current", Warning, "5.43 mA", "together")
}
