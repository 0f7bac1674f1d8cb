package survey

import (
	"slices"
	"testing"

	"coldcheck/analysis"
	"coldcheck/netlist/settest"
)

// TestPotentialsOfADivider: of a divider across the line what stands at nearly all of it is told as at its hot side, what
// stands at some of it as between, its ends as what they are.
func TestPotentialsOfADivider(t *testing.T) {
	s := surveyOf(t, settest.With(`R1 = { kind = "resistor", ends = ["L", "high"], value = "1k" }
R2 = { kind = "resistor", ends = ["high", "middle"], value = "100k" }
R3 = { kind = "resistor", ends = ["middle", "low"], value = "100k" }
R4 = { kind = "resistor", ends = ["low", "N"], value = "1k" }`, "high"))
	for i, state := range s.States {
		if state.Plug != analysis.AsMarked {
			continue
		}
		e := s.At(Place{0, i}, 0)
		want := map[string]Potential{"L": Hot, "high": Hot, "middle": Between, "low": Low, "N": Neutral}
		if !slices.Contains(s.Targets[0].Nodes, "middle") || len(e.Potentials) != len(s.Targets[0].Nodes) {
			t.Fatalf("nodes %v, potentials %v", s.Targets[0].Nodes, e.Potentials)
		}
		for k, node := range s.Targets[0].Nodes {
			if e.Potentials[k] != want[node] {
				t.Errorf("%s is told as %v, want %v", node, e.Potentials[k], want[node])
			}
		}
	}
}
