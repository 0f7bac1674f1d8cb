package analysis

import (
	"slices"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"coldcheck/netlist/settest"
)

// What joins two points in every position of the controls makes one piece of metal of them; a switch,
// a failed part or a lead of the bench does not, and a fault takes a fuse or an earth wire away.
func TestMetals(t *testing.T) {
	const earth = `W1 = { kind = "wire", ends = ["chassis", "building earth"] }
W2 = { kind = "wire", ends = ["shaft", "building earth"] }
`
	for _, c := range []struct {
		joint  string
		open   string // the part that a fault takes out
		kind   FaultKind
		metals string
	}{
		{`W1 = { kind = "wire", ends = ["chassis", "shaft"] }`, "", "", "chassis shaft"},
		{`F1 = { kind = "fuse", ends = ["chassis", "shaft"] }`, "", "", "chassis shaft"},
		{`F1 = { kind = "fuse", ends = ["chassis", "shaft"] }`, "F1", Open, "chassis, shaft"},
		{earth, "", "", "chassis shaft"},
		{earth, "W2", EarthLost, "chassis, shaft"},
		{`S1 = { kind = "switch", ends = ["chassis", "shaft"] }`, "", "", "chassis, shaft"},
		{`SL1 = { kind = "selector", common = "chassis", throws = ["shaft", "a"], positions = ["low", "high"] }
W1 = { kind = "wire", ends = ["shaft", "a"] }`, "", "", "chassis shaft"},
		{`SL1 = { kind = "selector", common = "chassis", throws = ["shaft", ""], positions = ["low", "high"] }`, "", "", "chassis, shaft"},
		{`C1 = { kind = "capacitor", ends = ["chassis", "shaft"], value = "1 nF", condition = "failed" }`, "", "", "chassis, shaft"},
	} {
		made := circuitOf(t, c.joint+"\n", "chassis", "shaft")
		var faults []*Fault
		for _, f := range made.Faults {
			if f.Part == c.open && f.Kind == c.kind {
				faults = append(faults, f)
			}
		}
		if (len(faults) > 0) != (c.open != "") {
			t.Fatalf("%s: no fault %s of %s", c.joint, c.kind, c.open)
		}
		if got := metalsText(made, faults...); got != c.metals {
			t.Errorf("%s with %q out: %s, want %s", c.joint, c.open, got, c.metals)
		}
	}
	leads := newCircuit(t, settest.Load(t, settest.With(`C1 = { kind = "capacitor", ends = ["chassis", "shaft"], value = "1 nF" }`+"\n", "chassis", "shaft")), Bench{Earthed: []string{"chassis", "shaft"}})
	if got := metalsText(leads); got != "chassis, shaft" {
		t.Errorf("leads of the bench make %s of two points", got)
	}
}

func metalsText(c *Circuit, faults ...*Fault) string {
	var all []string
	for _, points := range c.Metals(faults...) {
		var names []string
		for _, p := range points {
			names = append(names, p.Name)
		}
		all = append(all, strings.Join(names, " "))
	}
	return strings.Join(all, ", ")
}

// Two points are of one piece just where the wiring joins them in every normal state, the shorts of
// failed parts left out.
func TestMetalsAgainstWiring(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		text := settest.Draw(t, lawful).Text()
		set := settest.Load(t, text)
		c := newCircuit(t, set, drawBench(t, set))
		home := map[string]int{}
		for i, points := range c.Metals() {
			for _, p := range points {
				home[p.Name] = i
			}
		}
		if len(home) != len(c.Points) {
			t.Fatalf("%d of %d points\n%s", len(home), len(c.Points), text)
		}
		for _, p := range c.Points {
			for _, q := range c.Points {
				apart := slices.ContainsFunc(c.Normal(), func(s State) bool {
					s.Without = true
					return !c.Wiring(s).Joined(p.Name, q.Name)
				})
				if (home[p.Name] == home[q.Name]) == apart {
					t.Fatalf("%s and %s: one piece %v\n%s", p.Name, q.Name, !apart, text)
				}
			}
		}
	})
}
