package diagnose

import (
	"testing"

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
