package rules

import (
	"fmt"
	"testing"
)

// 120 V AC on a leakage of 1 MΩ is 0.12 mA in phase, whatever the capacitor passes besides.
func TestLeakageAcrossTheLine(t *testing.T) {
	with := func(leakage string) *Report {
		return check(t, polarized, switchHot, wireNeut, loadHB, toChassis,
			`C1 = { kind = "capacitor", ends = ["H", "B-"], value = "0.05 uF", class = "X2"`+leakage+` }`)
	}
	one(t, with(`, leakage = "1 meg"`), "leaky-part", Warning, "C1", "through 0.12 mA")
	silent(t, with(`, leakage = "1.3 meg"`), "leaky-part")
	silent(t, with(""), "leaky-part")
}

// 169.7 V through 20 MΩ into a grid leak of 470 kΩ: 169.7 · 0.47 / (0.47 + 20 + 0.22) = 3.85 V,
// while only 8 µA flow.
func TestCouplingCapacitorLiftsAGrid(t *testing.T) {
	with := func(leakage, grid string) *Report {
		return check(t, append(supplyOf(silicon, reservoir("")),
			`R2 = { kind = "resistor", ends = ["B+", "plate"], value = "220k" }`,
			`R3 = { kind = "resistor", ends = ["grid", "B-"], value = "470k" }`,
			fmt.Sprintf(`C2 = { kind = "capacitor", ends = ["plate", "grid"], value = "0.02 uF", type = "film", leakage = "%s" }`, leakage),
			fmt.Sprintf(`V2 = { kind = "tube", type = "50C5", pins = { 1 = "B-", %s } }`, grid))...)
	}
	one(t, with("20 meg", `2 = "grid"`), "leaky-part", Warning, "C2", "grid of V2 by 3.8")
	silent(t, with("200 meg", `2 = "grid"`), "leaky-part")
	silent(t, with("20 meg", `6 = "grid"`), "leaky-part") // a screen may well stand high
}

// A screen of two grids is a screen.
func TestScreenOfTwoGridsIsNoControlGrid(t *testing.T) {
	for element, control := range map[string]bool{"grid 1": true, "triode grid": true, "grid 3 (signal)": true, "grid, unit 2": true,
		"screen (grids 2 and 4)": false, "screen": false, "grid 2 (oscillator anode)": false, "cathode and grid 5": false, "plate": false} {
		if isControlGrid(element) != control {
			t.Errorf("%q is taken for a control grid: %v", element, !control)
		}
	}
}
