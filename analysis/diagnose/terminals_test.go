package diagnose

import (
	"slices"
	"testing"

	"github.com/google/go-cmp/cmp"

	"coldcheck/netlist"
	"coldcheck/netlist/examples"
	"coldcheck/netlist/settest"
)

// Every lead of a part can be put elsewhere: a kind that is not known here would keep its leads where a variant
// has them moved.
func TestEveryLeadCanBeMoved(t *testing.T) {
	kinds := map[netlist.Kind]bool{}
	look := func(set *netlist.Set) {
		for _, p := range set.Parts {
			kinds[p.Kind] = true
			wired := 0
			for _, at := range p.Terminals {
				if at.Node != "" {
					wired++
				}
			}
			if n := len(terminalsOf(p)); n != wired {
				t.Errorf("%s, a %s: %d of %d leads can be moved", p.Name, p.Kind, n, wired)
			}
		}
	}
	for _, example := range examples.Sets() {
		look(settest.Load(t, example.Text))
	}
	look(settest.Load(t, settest.With(`TH1 = { kind = "thermistor", ends = ["L", "chassis"], cold = "100", hot = "10" }
`, "chassis")))
	if len(kinds) < 15 {
		t.Errorf("only %d kinds of part were looked at", len(kinds))
	}
}

// TestLeadsThatMakeADifference: of a switch the leads of two poles beside each other, of a control its wiper and each
// end, of a tube the pins of heater and rectifier, of a selector all; of what is alike from both sides none.
func TestLeadsThatMakeADifference(t *testing.T) {
	set := settest.Load(t, settest.With(`S9 = { kind = "switch", poles = [["L", "a"], ["N", "b"], ["c", "chassis"]] }
R9 = { kind = "resistor", ends = ["a", "b"], value = "10k" }
D9 = { kind = "rectifier", anode = "c", cathode = "chassis" }
RV9 = { kind = "potentiometer", ends = ["b", "chassis"], wiper = "c", value = "10k" }
V9 = { kind = "tube", type = "35W4", pins = { 3 = "L", 4 = "a", 5 = "L", 7 = "c" } }
SL9 = { kind = "selector", common = "a", throws = ["b", "c"] }
`, "chassis"))
	for name, want := range map[string][][2]int{
		"S9": {{1, 3}, {1, 2}, {3, 5}, {3, 4}}, "R9": nil, "D9": {{0, 1}}, "RV9": {{0, 2}, {1, 2}},
		"V9": {{0, 1}, {0, 2}, {0, 3}, {1, 2}, {1, 3}, {2, 3}}, "SL9": {{0, 1}, {0, 2}, {1, 2}},
	} {
		p := set.Part(name)
		if got := swappable(p, terminalsOf(p)); !cmp.Equal(got, want) {
			t.Errorf("%s: %v, want %v", name, got, want)
		}
	}
}

// TestStatedLeakageIsTakenBack: a part of which the file states a failure or a leakage is tried without it; of the others
// there is nothing to take back.
func TestStatedLeakageIsTakenBack(t *testing.T) {
	set := settest.Load(t, settest.With(`C1 = { kind = "capacitor", ends = ["L", "chassis"], value = "0.05 uF", leakage = "100k" }
C2 = { kind = "capacitor", ends = ["L", "chassis"], value = "0.05 uF", condition = "failed" }
C3 = { kind = "capacitor", ends = ["L", "chassis"], value = "0.05 uF" }
`, "chassis"))
	for name, want := range map[string]int{"C1": 1, "C2": 1, "C3": 0} {
		all := sound(set, set.Part(name))
		if len(all) != want {
			t.Fatalf("%s: %d variants, want %d", name, len(all), want)
		}
		for _, v := range all {
			i := slices.IndexFunc(v.set.Parts, func(p *netlist.Part) bool { return p.Name == name })
			p := v.set.Parts[i]
			if p.Condition == netlist.Failed || p.Detail.(*netlist.Capacitor).LeakOhms != 0 || v.Part != name || v.Kind != StatedAbsent {
				t.Errorf("%s: %s, %+v", name, p.Condition, p.Detail)
			}
		}
	}
}
