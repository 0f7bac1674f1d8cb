package rules

import (
	"slices"
	"strings"
	"testing"
)

// A coil of 2 MΩ and a capacitor of 1 µF lie side by side: the capacitor carries the current, and the path
// leads through it. Beside 2 kΩ of a resistor the same capacitor carries as much, and both are told; beside
// 100 Ω the resistor is the path alone.
func TestLiveThroughWhatCarries(t *testing.T) {
	with := func(load string) Finding {
		r := checkEarthed(t, "midpoint", polarized, wireHot, wireNeut, loadHB, load,
			`C1 = { kind = "capacitor", ends = ["H", "chassis"], value = "1 uF", type = "film" }`, `C2 = { kind = "capacitor", ends = ["B-", "chassis"], value = "1 nF", class = "Y1" }`)
		return one(t, r, "live-through-load", Danger)
	}
	f := with(`L1 = { kind = "coil", ends = ["H", "chassis"], ohms = 2000000 }`)
	if got := f.Path.Parts(); !slices.Contains(got, "C1") || slices.Contains(got, "L1") {
		t.Errorf("the path goes through %v", got)
	}
	if !strings.Contains(f.Message, "live through capacitor C1: ") || !strings.Contains(f.Between, "C1") ||
		!strings.Contains(strings.Join(f.Notes, "\n"), "a path without a safeguard leads there too, through coil L1, and carries less") {
		t.Errorf("%s\nbetween %s\n%q", f.Message, f.Between, f.Notes)
	}
	f = with(`R2 = { kind = "resistor", ends = ["H", "chassis"], value = "2k" }`)
	if !strings.Contains(f.Message, "live through resistor R2, and capacitor C1 beside it: ") {
		t.Error(f.Message)
	}
	f = with(`R2 = { kind = "resistor", ends = ["H", "chassis"], value = 100 }`)
	if !strings.Contains(f.Message, "live through resistor R2: ") || f.Between != "nothing" || len(f.Notes) > 0 {
		t.Errorf("%s\nbetween %s\n%q", f.Message, f.Between, f.Notes)
	}
}
