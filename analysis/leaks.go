package analysis

// joint says of a port whether it makes one node of two, or two of one. Two of them together may
// undo each other, and so may one in a ring of whole fuses: the earth leaks are then placed afresh.
type joint byte

const (
	noJoint joint = iota
	soleJoint
	ringJoint
)

// placeLeaks gives every joined node its one leak to earth: nodes that a whole fuse joins count as
// one. A port that opens such a joint is followed by one more leak, on the side that
// has none; a port that makes one, by one leak less.
func (b *base) placeLeaks(s *sparse, nodes int, opened []bool) {
	c := b.c
	b.follow = make([]int, len(c.ports))
	b.joint = make([]joint, len(c.ports))
	for i, p := range c.ports {
		b.follow[i] = -1
		if p.joins {
			b.joint[i] = soleJoint
		}
	}
	type fuseTo struct{ to, port, leak int }
	next := make([][]fuseTo, nodes)
	for i := range c.elements {
		e := &c.elements[i]
		if e.sort != link || opened[e.branch] {
			continue
		}
		b.joint[e.openPort] = soleJoint
		if x, y := b.node(e.a), b.node(e.b); x != y {
			next[x] = append(next[x], fuseTo{y, e.openPort, e.leaks[1]})
			next[y] = append(next[y], fuseTo{x, e.openPort, e.leaks[0]})
		}
	}
	group := make([]int, nodes)
	for start := range nodes {
		if group[start] != 0 {
			continue
		}
		group[start] = start + 1
		s.add(start, start, LeakSiemens)
		members, ends := []int{start}, 0
		for at := 0; at < len(members); at++ {
			for _, l := range next[members[at]] {
				ends++
				if group[l.to] == 0 {
					group[l.to] = start + 1
					b.follow[l.port] = l.leak
					members = append(members, l.to)
				}
			}
		}
		if ends > 2*(len(members)-1) {
			for _, n := range members {
				for _, l := range next[n] {
					b.joint[l.port] = ringJoint
				}
			}
		}
	}
	for p, q := range c.ports {
		if q.joins && group[b.node(q.a)] != group[b.node(q.b)] {
			b.follow[p] = p + 1
		}
	}
}
