package rules

import (
	"fmt"
	"strings"
	"testing"

	"coldcheck/analysis"
)

// A capacitor from 5 µF up holds its voltage while a rectifier conducts, and then passes as much as a
// wire; a smaller one takes its share of the volts.
func TestReservoirFromFiveMicrofaradsUp(t *testing.T) {
	for value, current := range map[string]string{"5.001 uF": "60.3 mA", "4.999 uF": "56.9 mA"} {
		r := check(t, polarized, wireHot, wireNeut, loadHB, `D1 = { kind = "rectifier", anode = "H", cathode = "B+" }`,
			`C1 = { kind = "capacitor", ends = ["B+", "chassis"], value = "`+value+`" }`)
		f := one(t, r, "touch-current", Danger, current)
		if f.Worst.State.Rectifier != "D1" {
			t.Errorf("%s: told in %+v", value, f.Worst.State)
		}
	}
}

// A wire to a line of 50 V is not the line on the metal; one to a line of more is.
func TestLineOfFiftyVolts(t *testing.T) {
	with := func(mains string) *Report {
		return checkSet(t, loadWhole(t, fmt.Sprintf(`[set]
name = "trial"
mains = %q
[nodes]
chassis = { touch = "chassis" }
[parts]
PL1 = { kind = "plug", ends = ["a", "b"] }
W1 = { kind = "wire", ends = ["a", "chassis"] }
R1 = { kind = "resistor", ends = ["chassis", "b"], value = 10 }
`, mains)), mainsBench)
	}
	silent(t, with("50 V 60 Hz"), "polarity-only")
	silent(t, with("50 V 60 Hz"), "hot-chassis")
	// 5 A in the ohms of the supply leave less than 50 V on the metal: the wire alone tells.
	one(t, with("50.1 V 60 Hz"), "polarity-only", Danger, "chassis is live whenever the plug")
}

// A finding says so where the current stands within a fifth of a limit, 0.8 to 1.25 times.
func TestAtTheLimit(t *testing.T) {
	with := func(share float64) string {
		var f Finding
		f.tellFigures(analysis.Reading{VoltsOpen: 120, Milliamps: share * analysis.ES2AmpsAC}, false)
		if strings.Contains(f.Figures, "at the limit") != strings.Contains(f.FiguresAgain, "at the limit") {
			t.Errorf("%q and %q differ", f.Figures, f.FiguresAgain)
		}
		return f.Figures
	}
	for share, at := range map[float64]bool{0.799: false, 0.801: true, 1.249: true, 1.251: false} {
		if strings.Contains(with(share), "at the limit: mains and parts have tolerances") != at {
			t.Errorf("%g of the limit of ES2: %s", share, with(share))
		}
		if tenth := share / 10; strings.Contains(with(tenth), "at the limit") != at {
			t.Errorf("%g of the limit of ES1: %s", share, with(tenth))
		}
	}
}

// Of two paths in parallel the one of up to five times the impedance is told beside the other.
func TestParallelPath(t *testing.T) {
	with := func(ohms int) string {
		r := check(t, polarized, wireNeut, `S1 = { kind = "switch", ends = ["B-", "chassis"] }`,
			`R1 = { kind = "resistor", ends = ["line 1", "chassis"], value = 800 }`,
			fmt.Sprintf(`M1 = { kind = "lamp", ends = ["line 1", "chassis"], volts = 120, amps = %g }`, 120/float64(ohms)))
		return strings.Join(one(t, r, "hot-chassis", Danger).Notes, "\n")
	}
	if notes := with(3990); !strings.Contains(notes, "resistor R1, and lamp M1 beside it") {
		t.Errorf("4.99 times the impedance: %s", notes)
	}
	if notes := with(4010); !strings.Contains(notes, "resistor R1:") {
		t.Errorf("5.01 times the impedance: %s", notes)
	}
}
