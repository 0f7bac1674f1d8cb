package settest

import (
	"fmt"
	"math/rand/v2"
	"strings"
)

// heatedStages is how many stages have their heaters on the line, in strings of nine.
const heatedStages = 198

// Large writes a set of about so many parts as large sets are built: stages on a supply bus that
// is decoupled stage by stage, heaters in strings, several touch points, capacitors and windings
// that bridge. The same seed gives the same set.
func Large(parts int, seed uint64) string {
	rng := rand.New(rand.NewPCG(seed, 1))
	var b strings.Builder
	n := 0
	add := func(name, text string, a ...any) {
		fmt.Fprintf(&b, "%s = { %s }\n", name, fmt.Sprintf(text, a...))
		n++
	}
	b.WriteString("[set]\nname = \"large\"\n[nodes]\nchassis = { touch = \"chassis\" }\nshaft = { touch = \"control\", guard = \"knob\" }\n" +
		"antenna = { touch = \"antenna\" }\njack = { touch = \"jack\" }\n[parts]\n")
	add("PL1", `kind = "plug", style = "polarized", hot = "line", neutral = "B-"`)
	add("F1", `kind = "fuse", ends = ["line", "fused"], amps = 3`)
	add("S1", `kind = "switch", ends = ["fused", "hot"], frame = "shaft"`)
	add("C1", `kind = "capacitor", ends = ["B-", "chassis"], value = "4.7 nF", class = "Y2"`)
	add("C2", `kind = "capacitor", ends = ["hot", "B-"], value = "47 nF", class = "X2"`)
	add("C3", `kind = "capacitor", ends = ["antenna", "grid 0"], value = "100 pF", type = "mica"`)
	add("C4", `kind = "capacitor", ends = ["jack", "B-"], value = "10 nF", type = "film"`)
	add("W1", `kind = "wire", ends = ["shaft", "chassis"]`)
	add("R1", `kind = "resistor", ends = ["antenna", "chassis"], value = "1 meg"`)
	add("R2", `kind = "resistor", ends = ["jack", "chassis"], value = "1 meg"`)
	add("D1", `kind = "rectifier", anode = "hot", cathode = "bus 0"`)
	add("C5", `kind = "capacitor", ends = ["bus 0", "B-"], value = "100 uF", type = "electrolytic"`)
	heater := "hot"
	stage := 0
	for ; n < parts-2; stage++ {
		k := stage
		next := fmt.Sprintf("heater %d", k)
		if k%9 == 8 {
			next = "B-"
		}
		if k < heatedStages {
			add(fmt.Sprintf("V%d", k), `kind = "tube", type = "12BA6", pins = { 1 = "grid %d", 3 = "%s", 4 = "%s", 5 = "plate %d", 7 = "cathode %d" }`, k, heater, next, k, k)
			heater = next
			if next == "B-" {
				heater = "hot"
			}
		} else { // fed from a converter of their own: the line would not bear more strings
			add(fmt.Sprintf("V%d", k), `kind = "tube", type = "12BA6", pins = { 1 = "grid %d", 5 = "plate %d", 7 = "cathode %d" }`, k, k, k)
		}
		add(fmt.Sprintf("RB%d", k), `kind = "resistor", ends = ["bus %d", "bus %d"], value = "%d"`, k, k+1, 470+rng.IntN(2000))
		add(fmt.Sprintf("CB%d", k), `kind = "capacitor", ends = ["bus %d", "B-"], value = "%d uF", type = "electrolytic"`, k+1, 4+rng.IntN(40))
		add(fmt.Sprintf("RK%d", k), `kind = "resistor", ends = ["cathode %d", "B-"], value = "%d"`, k, 100+rng.IntN(900))
		add(fmt.Sprintf("RG%d", k), `kind = "resistor", ends = ["grid %d", "B-"], value = "%dk"`, k, 220+rng.IntN(800))
		if k%4 == 3 {
			add(fmt.Sprintf("T%d", k), `kind = "transformer", windings = { p = ["plate %d", "bus %d"], s = ["grid %d", "B-"] }`, k, k+1, k+1)
		} else {
			add(fmt.Sprintf("RP%d", k), `kind = "resistor", ends = ["plate %d", "bus %d"], value = "%dk"`, k, k+1, 10+rng.IntN(90))
			add(fmt.Sprintf("CC%d", k), `kind = "capacitor", ends = ["plate %d", "grid %d"], value = "10 nF", type = "film"`, k, k+1)
		}
		if rng.IntN(12) == 0 {
			add(fmt.Sprintf("I%d", k), `kind = "insulation", ends = ["cathode %d", "chassis"]`, k)
		}
	}
	if heater != "hot" {
		add("RD", `kind = "resistor", ends = ["%s", "B-"], value = "220"`, heater)
	}
	add("RL", `kind = "resistor", ends = ["grid %d", "B-"], value = "470k"`, stage)
	return b.String()
}
