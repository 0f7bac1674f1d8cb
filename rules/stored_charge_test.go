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

// What the blades may keep depends on the size: 170 V of 28 nF are let through (200 V), of 41 nF (150 V)
// they are not. Straight between two of the table: 130 nF may keep 75 V and 40/79 of 25 V, 87.7 V.
func TestChargedCapacitorsBySize(t *testing.T) {
	with := func(parts ...string) *Report {
		return check(t, append([]string{polarized, switchHot, wireNeut, loadHB, toChassis}, parts...)...)
	}
	filter := func(name, value string) string {
		return name + ` = { kind = "capacitor", ends = ["line 1", "line 2"], value = "` + value + `", class = "X2" }`
	}
	one(t, with(filter("C1", "28 nF")), "stored-charge", Caution, "C1 stays charged")
	one(t, with(filter("C1", "41 nF")), "stored-charge", Warning, "blades", "150 V are let through")
	if found := findings(with(filter("C1", "28 nF"), filter("C2", "28 nF")), "stored-charge"); len(found) != 2 || found[0].Signal != Warning {
		t.Errorf("two of 28 nF side by side: %v", found)
	}
	if got := chargedVolts(130e-9); got < 87.6 || got > 87.8 {
		t.Errorf("130 nF may keep %g V", got)
	}
	// τ = 0.1 µF × 30 MΩ = 3 s leave 169.7·e^(−2/3) = 87 V after 2 s, and 0.1 µF may keep 97 V.
	one(t, with(filter("C1", "0.1 uF"), `R9 = { kind = "resistor", ends = ["line 1", "line 2"], value = "30 meg" }`), "stored-charge", Caution, "C1 stays charged")
	one(t, with(filter("C1", "0.1 uF"), `R9 = { kind = "resistor", ends = ["line 1", "line 2"], value = "40 meg" }`), "stored-charge", Warning, "97")
}

// A damper says that there is a picture tube.
func TestChargeOfATelevision(t *testing.T) {
	tube := func(name string) *Report {
		return check(t, polarized, switchHot, wireNeut, loadHB, toChassis, `V9 = { kind = "tube", type = "`+name+`", pins = { 7 = "H", 8 = "B-" } }`)
	}
	one(t, tube("6W4GT"), "stored-charge", Caution, "V9", "picture tube")
	silent(t, tube("6V6GT"), "stored-charge")
}
