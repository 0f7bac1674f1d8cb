package rules

import (
	"fmt"
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
