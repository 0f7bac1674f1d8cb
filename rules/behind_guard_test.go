package rules

import (
	"strings"
	"testing"

	"coldcheck/analysis"
)

// One piece of metal with several points: each guard is named with the point that it covers, for any
// one of them off lays it bare. One guard over all is told once.
func TestEveryGuardIsNamed(t *testing.T) {
	with := func(shaft, line string) *Report {
		return checkSet(t, loadWhole(t, `[set]
name = "trial"
[nodes]
chassis = { touch = "chassis", guard = "cabinet" }
shaft = { touch = "control", guard = "`+shaft+`" }
[parts]
PL1 = { kind = "plug", hot = "line 1", neutral = "line 2" }
W1 = { kind = "wire", ends = ["chassis", "shaft"] }
R1 = { kind = "resistor", ends = ["line 1", "line 2"], value = 800 }
`+line), analysis.Bench{})
	}
	wire := `W2 = { kind = "wire", ends = ["line 2", "chassis"] }`
	both := "behind a guard on each (chassis: cabinet, shaft: knob)"
	f := one(t, with("knob", wire), "behind-guard", Warning, both+" alone")
	if !strings.Contains(f.Between, "shaft: knob") {
		t.Errorf("between: %s", f.Between)
	}
	one(t, with("cabinet", wire), "behind-guard", Warning, "behind the cabinet alone")

	suspect := `C1 = { kind = "capacitor", ends = ["line 2", "chassis"], value = "0.1 uF", type = "paper" }`
	one(t, with("knob", suspect), "one-capacitor", Warning, both)
}
