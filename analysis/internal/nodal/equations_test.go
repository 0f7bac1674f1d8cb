package nodal

import (
	"math/cmplx"
	"testing"

	"pgregory.net/rapid"

	"coldcheck/analysis/internal/circuit"
	"coldcheck/analysis/internal/circuit/circuittest"
	"coldcheck/netlist/settest"
)

// TestReciprocity: an ampere into one node lifts another as much as an ampere into the other lifts
// the one, in all equations, ideal transformers among the parts.
func TestReciprocity(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		c, text := circuittest.Draw(t, settest.Limits{Parts: [2]int{4, 25}, Switches: 2, Controls: 1, Sections: 3, Failed: true}, true)
		n, d := NewNetwork(c), settest.NewDrawer(t)
		b := n.equations(n.keyOf(d.N(len(c.Positions)), settest.OneOf(d, circuit.Blocking, circuit.Held, circuit.Direct), settest.OneOf(d, circuit.Polarities[:]...), variant{}))
		i, j := b.row[d.N(len(c.Set.Nodes))], b.row[d.N(len(c.Set.Nodes))]
		lift := func(into, at int) complex128 {
			x := make([]complex128, b.size)
			x[into] = 1
			b.lu.Solve(x)
			return x[at]
		}
		x, y := lift(i, j), lift(j, i)
		// what floats on its minimum conductance stands at some 10 GΩ, where four digits are left
		if cmplx.Abs(x-y) > 1e-3*max(cmplx.Abs(x), cmplx.Abs(y))+1e-6 {
			t.Fatalf("from %d to %d %v Ω, back %v Ω\n%s", i, j, x, y, text)
		}
	})
}
