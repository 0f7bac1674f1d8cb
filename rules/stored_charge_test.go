package rules

import (
	"fmt"
	"testing"
)

// 40 µF at 169.7 V hold 0.58 J; through 100 kΩ they come to 60 V in 4.16 s.
func TestStoredCharge(t *testing.T) {
	one(t, check(t, supplyOf(silicon, reservoir(""))...), "stored-charge", Caution, "C1", "170 V", "0.58 J", "nothing drains it")
	drained := check(t, append(supplyOf(silicon, reservoir("")), `R2 = { kind = "resistor", ends = ["B+", "B-"], value = "100k" }`)...)
	one(t, drained, "stored-charge", Caution, "C1", "4.2 s to 60 V", "100 kΩ")
	soon := check(t, append(supplyOf(silicon, reservoir("")), `R2 = { kind = "resistor", ends = ["B+", "B-"], value = "10k" }`)...)
	silent(t, soon, "stored-charge")
}

// A line filter ahead of the switch with nothing across it leaves its charge on the blades; 1 MΩ
// across 0.1 µF has it below 60 V in a tenth of a second.
func TestStoredChargeOnTheBlades(t *testing.T) {
	filter := `C1 = { kind = "capacitor", ends = ["line 1", "line 2"], value = "0.1 uF", class = "X2" }`
	one(t, check(t, polarized, switchHot, wireNeut, loadHB, toChassis, filter), "stored-charge", Warning, "blades", "C1", "170 V")
	silent(t, check(t, polarized, switchHot, wireNeut, loadHB, toChassis, filter,
		`R2 = { kind = "resistor", ends = ["line 1", "line 2"], value = "1 meg" }`), "stored-charge")
}

// More than two are one finding, the one with the most energy foremost, the small ones by name.
func TestManyChargesAreOneFinding(t *testing.T) {
	lines := supplyOf(silicon, `C1 = { kind = "capacitor", ends = ["B+", "B-"], value = "0.01 uF" }`)
	for i, value := range []string{"10 uF", "40 uF", "20 uF"} {
		lines = append(lines, fmt.Sprintf(`C%d = { kind = "capacitor", ends = ["B+", "B-"], value = "%s" }`, i+2, value))
	}
	f := one(t, check(t, lines...), "stored-charge", Caution, "4 capacitors", "foremost C3")
	if len(f.Parts) != 4 || f.Parts[0] != "C3" || f.Parts[3] != "C1" {
		t.Errorf("parts %v", f.Parts)
	}
	if last := f.Notes[len(f.Notes)-1]; last != "under 1 mJ: C1" {
		t.Errorf("the small one is told as %q", last)
	}
}
