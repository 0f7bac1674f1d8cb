package netlist

import (
	"math"
	"strings"
	"testing"

	"coldcheck/netlist/internal/words"
)

// Whatever the text: a value is refused, or within what its unit may be, and printed and read back
// it is the same to six digits. Colours, mains and percentages alike.
func FuzzValue(f *testing.F) {
	for _, text := range valueSeeds() {
		f.Add(text)
	}
	f.Fuzz(func(t *testing.T, text string) {
		for _, unit := range Units {
			facts := units[unit]
			x, err := ParseValue(text, unit)
			if err != nil {
				if x != 0 || strings.ContainsFunc(err.Error(), words.Invisible) {
					t.Errorf("%q in %s: %v beside %q", text, unit.Plural(), x, err)
				}
				continue
			}
			if !(x >= facts.min && x <= facts.max) {
				t.Errorf("%q in %s is %v", text, unit.Plural(), x)
			}
			printed := FormatValue(x, unit)
			if back, err := ParseValue(printed, unit); err != nil || math.Abs(back-x) > 1e-5*x {
				t.Errorf("%q in %s is %v, printed %q, read back %v, %v", text, unit.Plural(), x, printed, back, err)
			}
		}
		if _, err := ParseQuantity(text, Ohm); ReadsOpen(text) && err == nil {
			t.Errorf("%q is ohms, and an ohmmeter that shows nothing", text)
		}
		if volts, hertz, err := ParseMains(text); err == nil && !(volts > 0 && volts <= maxMainsVolts && hertz > 0 && hertz <= maxMainsHertz) {
			t.Errorf("mains %q: %v V %v Hz", text, volts, hertz)
		}
		if ohms, tolerance, err := ParseBands(text); err == nil && !(ohms > 0 && !math.IsInf(ohms, 0) && tolerance > 0 && tolerance <= 100) {
			t.Errorf("bands %q: %v ohms, %v %%", text, ohms, tolerance)
		}
	})
}

// valueSeeds are ways to write values, right and wrong.
func valueSeeds() []string {
	all := []string{"220k", "2.2 meg", "4k7", ".05 mfd", "250 mmf", "15 mA", "1e999", "-5", "0", "½ W", "1/2", "4n7F", "\u2126",
		"yellow violet yellow gold", "120 V 60 Hz", "40 uA at 10 V", "400 WVDC", "10 %", "nan", "0x1p-2", "1_000", "OL", " o.l. ", "Open", "0L", "∞"}
	for _, s := range spellings {
		for _, w := range s.all {
			all = append(all, w.Text)
		}
	}
	return all
}
