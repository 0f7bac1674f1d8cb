package nodal

import (
	"coldcheck/analysis/internal/circuit"
)

// Earthed is the same state with one node earthed by an instrument's lead more: a hand, a tower antenna,
// another set's ground. A node that is not there earths nothing.
func (s *Solution) Earthed(node string) *Solution {
	i, ok := s.c.Node(node)
	if !ok {
		return s
	}
	with := &Solution{State: s.State, c: s.c, n: s.n, before: s, earth: i}
	with.blocking = s.earthed(s.blocking, i)
	with.ac = with.blocking
	with.Cleared = with.SupplyAmps() > circuit.ClearedAmps
	if s.ac != s.blocking {
		with.ac = s.earthed(s.ac, i)
	}
	for _, d := range s.dc {
		with.dc = append(with.dc, with.charged(d))
	}
	return with
}

// charged is the solution in a mode at DC, by the equations as they are before any node is earthed, with
// the rectifiers charging to the peak of what stands across them once it is.
func (s *Solution) charged(d *solved) *solved {
	with := &solved{d.Update, s.direct(d), d.groups}
	if s.before != nil {
		with = s.earthed(with, s.earth)
	}
	return with
}

// earthed is a solution with a node tied to earth. What floats comes to earth by it whole, for no current
// has where to return.
func (s *Solution) earthed(of *solved, node int) *solved {
	earth := s.n.earth()
	if of.groups.Same(node, earth) {
		with, _ := of.loaded(node, earth, circuit.EarthedOhms)
		return with
	}
	with := &solved{of.Update, make([]complex128, len(of.x)), of.groups.Clone()}
	copy(with.x, of.x)
	moved := make(map[int]bool)
	for i := range s.c.Set.Nodes {
		if row := of.eq.row[i]; of.groups.Same(i, node) && !moved[row] {
			moved[row] = true
			with.x[row] -= of.node(node)
		}
	}
	with.groups.Union(node, earth)
	with.groups.Firsts()
	return with
}
