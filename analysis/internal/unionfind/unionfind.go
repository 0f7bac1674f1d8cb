// Package unionfind keeps a partition of 0 … n-1 into sets that only ever grow together: nodes that
// conductors join, windings that share a node, metal that is one piece. Disjoint sets with path
// halving (Tarjan and van Leeuwen 1984).
package unionfind

import "slices"

// Sets is a partition.
type Sets struct{ parent []int }

// New puts each of n members into a set of its own.
func New(n int) *Sets {
	s := &Sets{parent: make([]int, n)}
	for i := range s.parent {
		s.parent[i] = i
	}
	return s
}

// Clone is a copy that grows apart.
func (s *Sets) Clone() *Sets { return &Sets{parent: slices.Clone(s.parent)} }

// Find is the member that stands for the set of i: the same for all in the set. After Firsts it only
// reads.
func (s *Sets) Find(i int) int {
	for {
		p := s.parent[i]
		if s.parent[p] == p {
			return p
		}
		s.parent[i] = s.parent[p]
		i = s.parent[p]
	}
}

// Union makes one set of those of a and b. It reports whether they were two. The lesser of the two
// members that stood for them stands for it: a set is named by its first member.
func (s *Sets) Union(a, b int) bool {
	a, b = s.Find(a), s.Find(b)
	if a == b {
		return false
	}
	s.parent[max(a, b)] = min(a, b)
	return true
}

// Same reports whether a and b are in one set.
func (s *Sets) Same(a, b int) bool { return s.Find(a) == s.Find(b) }

// Firsts gives each member the first of its set.
func (s *Sets) Firsts() []int {
	for i := range s.parent {
		s.parent[i] = s.Find(i)
	}
	return s.parent
}
