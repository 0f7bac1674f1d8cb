package nodal

import "coldcheck/analysis/internal/circuit"

// joint says of a port whether it merges two nodes into one, or splits one into two. Two of them
// together may undo each other, and so may one in a ring of whole fuses: the minimum conductances are
// then placed afresh.
type joint byte

const (
	noJoint joint = iota
	soleJoint
	ringJoint
)

// fuseTo is a whole fuse as seen from one of its ends: the end it leads to, the port that opens it,
// and the port of a minimum conductance at that end.
type fuseTo struct{ to, port, minimum int }

// minimumConductance gives every joined node its one minimum conductance to ground: nodes that a
// whole fuse joins count as one. A port that splits such a node is followed by one more, on the side
// that has none; a port that merges two nodes, by one less. The unplugged set, which no port of this
// kind changes, has one at each node.
func (w *writer) minimumConductance(nodes int) {
	b, n := w.b, w.b.net
	b.follow = make([]int, len(n.ports))
	b.joint = make([]joint, len(n.ports))
	for i, p := range n.ports {
		b.follow[i] = -1
		if p.merges {
			b.joint[i] = soleJoint
		}
	}
	if b.key.mode == circuit.Unplugged {
		for i := range nodes {
			w.s.add(i, i, circuit.UnpluggedSiemens)
		}
		return
	}
	next := w.wholeFuses(nodes)
	group := make([]int, nodes)
	for start := range nodes {
		if group[start] == 0 {
			w.s.add(start, start, circuit.MinimumSiemens)
			b.joinByFuses(start, group, next)
		}
	}
	for p, q := range n.ports {
		if q.merges && group[b.node(q.a)] != group[b.node(q.b)] {
			b.follow[p] = p + 1
		}
	}
}

// wholeFuses lists, by unknown, the whole fuses and earth wires that lead from it.
func (w *writer) wholeFuses(nodes int) [][]fuseTo {
	b, n := w.b, w.b.net
	next := make([][]fuseTo, nodes)
	for i := range n.Circuit.Elements {
		e, p := &n.Circuit.Elements[i], n.element[i]
		if e.Sort != circuit.Link || w.opened[p.branch] {
			continue
		}
		b.joint[p.opens] = soleJoint
		if x, y := b.node(e.A), b.node(e.B); x != y {
			next[x] = append(next[x], fuseTo{y, p.opens, p.minimum[1]})
			next[y] = append(next[y], fuseTo{x, p.opens, p.minimum[0]})
		}
	}
	return next
}

// joinByFuses numbers the unknowns that whole fuses join to one, and notes what follows each fuse
// that opens. Where the fuses make a ring none of them splits anything.
func (b *Equations) joinByFuses(start int, group []int, next [][]fuseTo) {
	group[start] = start + 1
	members, ends := []int{start}, 0
	for at := 0; at < len(members); at++ {
		for _, l := range next[members[at]] {
			ends++
			if group[l.to] == 0 {
				group[l.to] = start + 1
				b.follow[l.port] = l.minimum
				members = append(members, l.to)
			}
		}
	}
	if ends <= 2*(len(members)-1) {
		return
	}
	for _, m := range members {
		for _, l := range next[m] {
			b.joint[l.port] = ringJoint
		}
	}
}
