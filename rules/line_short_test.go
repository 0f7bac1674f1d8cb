package rules

import (
	"slices"
	"strings"
	"testing"
)

// A conductor from blade to blade shorts the line where a switch closes it, a few ohms where they draw more than a breaker
// lets through; a rectifier counts as a conductor. What draws less is no short, and two wires that do not meet are none.
func TestLineShort(t *testing.T) {
	metal := `C1 = { kind = "capacitor", ends = ["line 2", "chassis"], value = "1 nF", class = "Y1" }`
	for name, c := range map[string]struct {
		lines []string
		says  string
		parts []string
	}{
		"wire":      {[]string{`W1 = { kind = "wire", ends = ["line 1", "line 2"] }`}, "the line is shorted", []string{"W1"}},
		"switch":    {[]string{`S1 = { kind = "switch", ends = ["line 1", "H"] }`, `W1 = { kind = "wire", ends = ["H", "line 2"] }`}, "S1 is on", []string{"S1", "W1"}},
		"rectifier": {[]string{`D1 = { kind = "rectifier", anode = "line 1", cathode = "line 2" }`}, "the line is shorted", []string{"D1"}},
		"few ohms":  {[]string{`R1 = { kind = "resistor", ends = ["line 1", "line 2"], value = 5 }`}, "the line is shorted", nil}, // 24 A
	} {
		f := one(t, check(t, append([]string{polarized, metal}, c.lines...)...), "line-short", Danger, c.says)
		if c.parts != nil && !slices.Equal(f.Parts, c.parts) {
			t.Errorf("%s: by %v, want %v", name, f.Parts, c.parts)
		}
		if !slices.Contains(f.Nodes, "line 1") || !slices.Contains(f.Nodes, "line 2") || f.Worst == nil {
			t.Errorf("%s: nodes %v, state %v", name, f.Nodes, f.Worst)
		}
		if !strings.Contains(f.Caution, "Do not plug it in") || !strings.Contains(f.Figures, "over 20 A a breaker is taken to open") && name != "rectifier" {
			t.Errorf("%s: figures %q", name, f.Figures)
		}
	}
	for _, lines := range map[string][]string{
		"a load":     {`R1 = { kind = "resistor", ends = ["line 1", "line 2"], value = 7 }`}, // 17 A
		"two wires":  {`W1 = { kind = "wire", ends = ["line 1", "a"] }`, `W2 = { kind = "wire", ends = ["line 2", "b"] }`, `R1 = { kind = "resistor", ends = ["a", "b"], value = 800 }`},
		"open pole":  {`S1 = { kind = "switch", ends = ["line 1", "H"] }`, `R1 = { kind = "resistor", ends = ["H", "line 2"], value = 800 }`},
		"rectifiers": {`D1 = { kind = "rectifier", anode = "line 1", cathode = "p" }`, `D2 = { kind = "rectifier", anode = "line 2", cathode = "p" }`, `R1 = { kind = "resistor", ends = ["p", "line 2"], value = 800 }`},
	} {
		silent(t, check(t, append([]string{polarized, metal}, lines...)...), "line-short")
	}
}
