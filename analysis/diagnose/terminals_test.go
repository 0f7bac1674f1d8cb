package diagnose

import (
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
// end; of what is alike from both sides none.
func TestLeadsThatMakeADifference(t *testing.T) {
	set := settest.Load(t, settest.With(`S9 = { kind = "switch", poles = [["L", "a"], ["N", "b"], ["c", "chassis"]] }
R9 = { kind = "resistor", ends = ["a", "b"], value = "10k" }
D9 = { kind = "rectifier", anode = "c", cathode = "chassis" }
RV9 = { kind = "potentiometer", ends = ["b", "chassis"], wiper = "c", value = "10k" }
`, "chassis"))
	for name, want := range map[string][][2]int{
		"S9": {{1, 3}, {1, 2}, {3, 5}, {3, 4}}, "R9": nil, "D9": {{0, 1}}, "RV9": {{0, 2}, {1, 2}},
	} {
		p := set.Part(name)
		if got := swappable(p, terminalsOf(p)); !cmp.Equal(got, want) {
			t.Errorf("%s: %v, want %v", name, got, want)
		}
	}
}
