package rules

import (
	"strings"
	"testing"
)

// TestOneInsulationRemedies: what is to be done about one insulation goes by what it is of.
func TestOneInsulationRemedies(t *testing.T) {
	for _, c := range []struct {
		part   string
		signal Signal
		remedy string
	}{
		{`I1 = { kind = "insulation", ends = ["H", "chassis"], grade = "basic" }`, Warning, "add a second layer to I1, or earth the metal on its far side"},
		{`I1 = { kind = "insulation", ends = ["H", "chassis"], grade = "functional" }`, Warning, "renew I1 with insulation made to protect"},
		{`I1 = { kind = "insulation", ends = ["H", "chassis"], grade = "basic", condition = "suspect" }`, Warning, "renew I1 with insulation made to protect"},
		{`T1 = { kind = "transformer", windings = { primary = ["H", "B-"], secondary = ["chassis", "s"] }, volts = { primary = 120, secondary = 6.3 } }`, Caution, "have T1 tested between windings"},
		{`M1 = { kind = "motor", ends = ["H", "B-"], frame = "chassis", volts = 120, amps = "150 mA" }`, Caution, "insulate the frame of M1"},
	} {
		f := one(t, check(t, polarized, switchHot, wireNeut, loadHB, c.part), "one-insulation", c.signal, "chassis")
		if !strings.Contains(f.Remedy, c.remedy) {
			t.Errorf("%s\nremedy: %s\nwant:   %s", c.part, f.Remedy, c.remedy)
		}
	}
}
