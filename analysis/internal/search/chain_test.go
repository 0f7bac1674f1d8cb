package search

import (
	"slices"
	"testing"

	"pgregory.net/rapid"

	"coldcheck/analysis/internal/circuit"
	"coldcheck/analysis/internal/circuit/circuittest"
	"coldcheck/netlist/settest"
)

// relaxed is what leastPaths gives, found by going over all edges until none makes anything less (Bellman 1958).
func relaxed(c *circuit.Circuit, from [][]edge, blade string) map[int]step {
	start, _ := c.Node(blade)
	best := map[int]step{start: {node: start}}
	for changed := true; changed; {
		changed = false
		for a := range from {
			s, reached := best[a]
			if !reached {
				continue
			}
			for _, e := range from[a] {
				next := step{s.cost, s.path, e.to}
				if e.fault != nil {
					next.cost += e.fault.Cost
					next.path = append(slices.Clip(s.path), e.fault.Index)
				}
				if was, ok := best[e.to]; !ok || next.compare(was) < 0 {
					best[e.to], changed = next, true
				}
			}
		}
	}
	return best
}

// TestLeastPathsAgainstRelaxation: to each node leads the path of least cost; of such the one of fewest faults, then the
// first in the order of the file.
func TestLeastPathsAgainstRelaxation(t *testing.T) {
	compared := 0
	settest.Check(t, 200, func(t *rapid.T) {
		c, text := circuittest.Draw(t, settest.Limits{Parts: [2]int{4, 16}, Switches: 1, Sections: 1}, false)
		for position := range c.Positions {
			from := edges(c, position, -1)
			got, want := leastPaths(c, from, c.Plug.Hot), relaxed(c, from, c.Plug.Hot)
			if len(got) != len(want) {
				t.Fatalf("%d nodes are reached, %d by relaxation\n%s", len(got), len(want), text)
			}
			for node, faults := range got {
				var path []int
				for _, f := range faults {
					path = append(path, f.Index)
				}
				if !slices.Equal(path, want[node].path) {
					t.Fatalf("to %s by %v, by relaxation %v\n%s", c.NodeName(node), path, want[node].path, text)
				}
				if len(path) > 1 {
					compared++
				}
			}
		}
	})
	if compared == 0 {
		t.Error("no path needs two faults")
	}
}
