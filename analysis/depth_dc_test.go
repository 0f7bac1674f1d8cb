package analysis

import (
	"fmt"
	"testing"
)

// earthedSupply holds p at √2 times the volts of a winding of which the other end is earthed.
func earthedSupply(volts float64) string {
	return fmt.Sprintf(`PL1 = { kind = "plug", style = "grounding", hot = "L", neutral = "N", earth = "G" }
T1 = { kind = "transformer", windings = { primary = ["L", "N"], high = ["a", "G"] }, volts = { primary = 120, high = %g }, insulation = "reinforced" }
D1 = { kind = "rectifier", anode = "a", cathode = "p" }
C1 = { kind = "capacitor", ends = ["p", "G"], value = "40 uF", rating = "450 V", type = "electrolytic", positive = "p" }
`, volts)
}

// TestDirectCurrentAloneMakesLive: behind a transformer of which one end is earthed nothing but the rectified volts, held
// by the reservoir, stands at the plus: √2·250 V, 354 V, some 170 mA of DC through a body, over ES2. Two insulations that
// fail together bring them to a shaft, three to another; no fewer do.
func TestDirectCurrentAloneMakesLive(t *testing.T) {
	c := circuitOf(t, earthedSupply(250)+`I1 = { kind = "insulation", ends = ["p", "b"], grade = "basic" }
I2 = { kind = "insulation", ends = ["b", "shaft"], grade = "basic" }
I3 = { kind = "insulation", ends = ["shaft", "screw"], grade = "basic" }
`, "shaft", "screw")
	r := c.Examine(Options{Faults: 2})
	for node, want := range map[string]int{"shaft": 2, "screw": None} {
		if p := r.Point(node); p.Depth != want {
			t.Errorf("%s: depth %d, want %d", node, p.Depth, want)
		}
	}
	sets := r.Point("shaft").FaultSets
	if len(sets) != 1 || len(sets[0].Faults) != 2 || sets[0].Faults[0].Part != "I1" || sets[0].Faults[1].Part != "I2" {
		t.Errorf("fault sets %v", sets)
	}
	if p := c.Examine(Options{Faults: 3}).Point("screw"); p.Depth != 3 {
		t.Errorf("screw: depth %d, want 3", p.Depth)
	}
}

// TestWeakerIsFound: what makes metal live by DC is told beside what makes it live by more AC, in either order of the
// file.
func TestWeakerIsFound(t *testing.T) {
	supply := earthedSupply(90)
	const each = 4
	var byLine, byPlus string
	for i := range each { // several, for the faults are shared out between those that search
		byLine += fmt.Sprintf("I%d = { kind = \"insulation\", ends = [\"L\", \"shaft\"], grade = \"basic\" }\n", i)
		byPlus += fmt.Sprintf("I%d = { kind = \"insulation\", ends = [\"p\", \"shaft\"], grade = \"basic\" }\n", each+i)
	}
	for _, parts := range []string{supply + byLine + byPlus, supply + byPlus + byLine} {
		found := map[string]bool{}
		for _, set := range circuitOf(t, parts, "shaft").Examine(Options{Faults: 2}).Point("shaft").FaultSets {
			if len(set.Faults) == 1 {
				found[set.Faults[0].Part] = true
			}
		}
		for i := range 2 * each {
			if name := fmt.Sprintf("I%d", i); !found[name] {
				t.Errorf("%s is not found in\n%s", name, parts)
			}
		}
	}
}
