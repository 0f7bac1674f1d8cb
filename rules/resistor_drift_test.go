package rules

import "testing"

func TestResistorDrift(t *testing.T) {
	with := func(keys string) *Report {
		return check(t, polarized, switchHot, wireNeut, toChassis, loadHB,
			`R2 = { kind = "resistor", ends = ["H", "B-"], value = "100k", `+keys+` }`)
	}
	one(t, with(`measured = "125k"`), "resistor-drift", Notice, "R2", "125 kΩ", "100 kΩ", "25 % high", "tolerance 20 %")
	silent(t, with(`measured = "120k"`), "resistor-drift")
	one(t, with(`measured = "94k", tolerance = 5`), "resistor-drift", Notice, "6.0 % low")
	silent(t, with(`tolerance = 5`), "resistor-drift") // not measured
}

// Between the line and the chassis a drift is more than a fault of sound.
func TestResistorDriftInABarrier(t *testing.T) {
	with := func(measured string) *Report {
		return check(t, polarized, switchHot, wireNeut, loadHB,
			`R2 = { kind = "resistor", ends = ["B-", "chassis"], value = "470k", measured = "`+measured+`" }`)
	}
	f := one(t, with("300k"), "resistor-drift", Caution, "R2", "36 % low", "between the line and chassis")
	if f.Node() != "chassis" {
		t.Errorf("it speaks of %q", f.Node())
	}
	silent(t, with("500k"), "resistor-drift")
}

// A barrier that came down under 10 kΩ was meant as one all the same.
func TestResistorThatBurntDown(t *testing.T) {
	one(t, check(t, polarized, switchHot, wireNeut, loadHB,
		`R2 = { kind = "resistor", ends = ["B-", "chassis"], value = "100k", measured = "9k" }`), "resistor-drift", Caution, "91 % low", "chassis")
	one(t, check(t, polarized, switchHot, wireNeut, loadHB, toChassis,
		`R2 = { kind = "resistor", ends = ["H", "B-"], value = "100k", measured = "9k" }`), "resistor-drift", Notice, "91 % low")
}
