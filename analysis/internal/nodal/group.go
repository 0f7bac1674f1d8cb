package nodal

import (
	"slices"

	"coldcheck/analysis/internal/circuit"
	"coldcheck/analysis/internal/unionfind"
	"coldcheck/netlist"
)

// What floats reads nothing: nodes joined by anything that conducts are a group, and a group from which
// nothing that conducts leads to earth floats, for no current can return through a hand. A winding
// joins its own two ends, not those of another winding.

// groupOf says which groups are meant.
type groupOf struct {
	position   int
	mode       circuit.Mode
	conducting int // in Circuit.Sections, the rectifier that conducts where reservoirs are held; -1 for none
	plug       circuit.Polarity
	without    bool
	faults     []*circuit.Fault
	blown      *blown
	joints     []int // ports that join points as by one hand
	shunts     []Shunt
}

// earth is the place of earth among the nodes of a group, the floating supply's own terminal the next.
func (n *Network) earth() int { return len(n.Circuit.Set.Nodes) }

// wholeKey tells the groups of states in which nothing has failed apart.
type wholeKey struct {
	position, conducting int
	mode                 circuit.Mode
	hot                  int // the hot blade, where it bears on the groups
	variant
}

// whole is the groups of a state in which nothing has failed, and what they are made of.
type whole struct {
	fixed *unionfind.Sets // what no fault takes out, the supply aside
	loose []join          // what a fault may take out
	sets  *unionfind.Sets
	// parts says, by element, whether taking it out alone parts nodes that are read.
	parts []bool
}

// join is an element that joins two nodes to a group.
type join struct{ a, b, element int }

// groups finds the groups of a state. Those of a state in which nothing is open are those of the whole
// set, joined further; most of what opens alone parts nothing that is read.
func (n *Network) groups(x groupOf) *unionfind.Sets {
	if len(x.joints) > 0 {
		return n.newGroups(x)
	}
	opens, joins := -1, len(x.shunts) > 0
	for _, f := range x.faults {
		joins = joins || f.Short || f.Kind == circuit.Stuck
		switch takes := n.takes[f.Index]; {
		case !n.mayPart(f):
		case len(takes) == 1 && opens < 0:
			opens = takes[0]
		default:
			return n.newGroups(x)
		}
	}
	w := n.wholeGroups(x)
	switch {
	case opens >= 0 && (joins || w.parts[opens]):
		return n.newGroups(x)
	case joins && !n.joinsApart(x, w.sets):
		return w.sets
	case joins:
		sets := w.sets.Clone()
		n.joinFaults(x, func(a, b int) { sets.Union(a, b) })
		return sets
	}
	return w.sets
}

// joinsApart reports whether faults and shunts join nodes of different groups; most join what is joined.
func (n *Network) joinsApart(x groupOf, sets *unionfind.Sets) (apart bool) {
	n.joinFaults(x, func(a, b int) { apart = apart || !sets.Same(a, b) })
	return apart
}

// mayPart reports whether a fault takes something out, so that groups may fall apart.
func (n *Network) mayPart(f *circuit.Fault) bool {
	return len(n.takes[f.Index]) > 0 || f.Part == circuit.SupplyName || f.Throw >= 0
}

// wholeGroups are those of the whole set. They are kept.
func (n *Network) wholeGroups(x groupOf) *whole {
	k := wholeKey{x.position, x.conducting, x.mode, 0, variant{x.without, x.blown}}
	if n.Circuit.Floating() {
		k.hot = x.plug.HotBlade()
	}
	n.lock.Lock()
	w := n.whole[k]
	n.lock.Unlock()
	if w == nil {
		x.faults, x.joints, x.shunts = nil, nil, nil
		w = n.layGroups(x)
		n.lock.Lock()
		n.whole[k] = w
		n.lock.Unlock()
	}
	return w
}

// joinFaults joins what faults and shunts join.
func (n *Network) joinFaults(x groupOf, join func(a, b int)) {
	for _, f := range x.faults {
		if f.Short || f.Kind == circuit.Stuck {
			join(f.A, f.B)
		}
	}
	for _, s := range x.shunts {
		joins := s.AC != 0
		if x.mode.DC() {
			joins = s.DC != 0
		}
		if p := n.ports[s.Port]; joins && p.branch < 0 {
			join(n.orEarth(p.a), n.orEarth(p.b))
		}
	}
}

// orEarth is a node's place in a group, that of earth for -1.
func (n *Network) orEarth(i int) int {
	if i < 0 {
		return n.earth()
	}
	return i
}

// layGroups finds the groups of a state in which nothing has failed.
func (n *Network) layGroups(x groupOf) *whole {
	w := &whole{fixed: unionfind.New(n.earth() + 2)}
	n.eachElement(x, func(a, b, i int) {
		switch {
		case slices.Contains(x.blown.out(), i):
		case n.element[i].opens >= 0:
			w.loose = append(w.loose, join{a, b, i})
		default:
			w.fixed.Union(a, b)
		}
	})
	for _, t := range n.Circuit.Transformers {
		for _, winding := range t.Windings {
			w.fixed.Union(winding.A, winding.B)
		}
	}
	w.fixed.Firsts() // from now on it is only read
	w.sets = n.join(w, x)
	w.sets.Firsts()
	w.parts = n.partedBy(w, x)
	return w
}

// newGroups finds the groups of a state from what no fault takes out and what is left of the rest.
func (n *Network) newGroups(x groupOf) *unionfind.Sets { return n.join(n.wholeGroups(x), x) }

// join joins what is left in a state.
func (n *Network) join(w *whole, x groupOf) *unionfind.Sets {
	sets := w.fixed.Clone()
	unite := func(a, b int) { sets.Union(a, b) }
	var room [16]int
	gone := n.takenOut(room[:0], x)
	for _, j := range w.loose {
		if !slices.Contains(gone, j.element) {
			sets.Union(j.a, j.b)
		}
	}
	n.joinFaults(x, unite)
	for _, p := range x.joints {
		sets.Union(n.ports[p].a, n.ports[p].b)
	}
	n.joinSupply(x, unite)
	return sets
}

// eachElement visits the elements that join two nodes in a state.
func (n *Network) eachElement(x groupOf, visit func(a, b, element int)) {
	for i := range n.Circuit.Elements {
		if e := &n.Circuit.Elements[i]; n.joins(e, i, x) {
			visit(e.A, e.B, i)
		}
	}
}

// read are the nodes whose groups are asked for: earth, and the ends of ports that are read and of
// rectifiers.
func (n *Network) read() []bool {
	read := make([]bool, n.earth()+2)
	read[n.earth()] = true
	for _, p := range n.ports {
		if p.branch < 0 && p.ohms == 0 {
			for _, i := range []int{p.a, p.b} {
				if i >= 0 {
					read[i] = true
				}
			}
		}
	}
	return read
}

// partedBy finds the elements that alone hold nodes together that are read: the bridges of the graph
// (Tarjan 1974) with such nodes on both sides.
func (n *Network) partedBy(w *whole, x groupOf) []bool {
	g := n.joinGraph(w, x)
	parts, reads := make([]bool, len(n.element)), make([]int, len(g.next)) // by node: how many that are read stand there
	for i, read := range n.read() {
		if read {
			reads[w.fixed.Find(i)]++
		}
	}
	g.eachBridge(reads, func(element, behind, all int) {
		parts[element] = parts[element] || behind > 0 && behind < all
	})
	return parts
}

// joinGraph is a group's nodes and what joins them.
type joinGraph struct {
	next     [][]joinEnd
	elements []int // by join, -1 for the supply's
}

type joinEnd struct{ to, join int }

func (n *Network) joinGraph(w *whole, x groupOf) *joinGraph {
	g := &joinGraph{next: make([][]joinEnd, n.earth()+2)}
	link := func(a, b, element int) {
		if a, b = w.fixed.Find(a), w.fixed.Find(b); a != b {
			g.next[a], g.next[b] = append(g.next[a], joinEnd{b, len(g.elements)}), append(g.next[b], joinEnd{a, len(g.elements)})
			g.elements = append(g.elements, element)
		}
	}
	for _, j := range w.loose {
		link(j.a, j.b, j.element)
	}
	n.joinSupply(x, func(a, b int) { link(a, b, -1) })
	return g
}

// eachBridge visits the elements without which the graph falls apart (Tarjan's bridges, by one walk in depth), with
// the weight of the nodes behind each, and that of all nodes that were joined.
func (g *joinGraph) eachBridge(weight []int, visit func(element, behind, all int)) {
	type step struct{ node, by, at, parent int }                                                      // by is the join that led there, at the next to follow
	found, low, below := make([]int, len(g.next)), make([]int, len(g.next)), make([]int, len(g.next)) // in order from 1; weights
	order := 0
	for root := range g.next {
		if found[root] != 0 {
			continue
		}
		var bridges []int // nodes behind them, each with its element
		var stack []step
		enter := func(node, by, parent int) {
			order++
			found[node], low[node] = order, order
			below[node] = weight[node]
			stack = append(stack, step{node, by, 0, parent})
		}
		for enter(root, -1, -1); len(stack) > 0; {
			v := &stack[len(stack)-1]
			if v.at < len(g.next[v.node]) {
				e := g.next[v.node][v.at]
				v.at++
				switch {
				case e.join == v.by:
				case found[e.to] != 0:
					low[v.node] = min(low[v.node], found[e.to])
				default:
					enter(e.to, e.join, v.node)
				}
				continue
			}
			done := *v
			stack = stack[:len(stack)-1]
			if done.parent >= 0 {
				low[done.parent] = min(low[done.parent], low[done.node])
				below[done.parent] += below[done.node]
				if low[done.node] > found[done.parent] && g.elements[done.by] >= 0 {
					bridges = append(bridges, done.node, g.elements[done.by])
				}
			}
		}
		for k := 0; k < len(bridges); k += 2 {
			visit(bridges[k+1], below[bridges[k]], below[root])
		}
	}
}

// joins reports whether an element joins its nodes to a group.
func (n *Network) joins(e *circuit.Element, i int, x groupOf) bool {
	switch {
	case n.Circuit.Closed(e, x.position):
		return true
	case e.Sort == circuit.Shunt:
		return !x.without
	case e.Sort == circuit.Rectifier && x.mode == circuit.Held:
		return x.conducting >= 0 && n.Circuit.Sections[x.conducting] == i
	}
	_, conducts := n.Circuit.Impedance(e, x.mode, x.position)
	return conducts
}

// takenOut are the elements that faults take out.
func (n *Network) takenOut(gone []int, x groupOf) []int {
	for _, f := range x.faults {
		gone = append(gone, n.takes[f.Index]...)
		if f.Throw >= 0 {
			if own := n.ownContact(f, x.position); own >= 0 {
				gone = append(gone, own)
			}
		}
	}
	return gone
}

// joinSupply joins what the supply, the earth contact, the building's earth and clips join. A floating
// supply's stray capacitance leads to earth at AC, on the hot side at the blade, also while that side
// is open.
func (n *Network) joinSupply(x groupOf, join func(a, b int)) {
	c, earth := n.Circuit, n.earth()
	lost, contactLost := [2]bool{}, false
	for _, f := range x.faults {
		if f.Kind == circuit.NeutralLost {
			lost[c.LostBlade(f, x.plug)] = true
		} else if f.Part == circuit.SupplyName {
			contactLost = true
		}
	}
	common := earth
	if c.Floating() {
		common = earth + 1
	}
	for k, blade := range []string{c.Plug.Hot, c.Plug.Neutral} {
		i, _ := c.Node(blade)
		if !lost[k] {
			join(i, common)
		}
		if c.Floating() && !x.mode.DC() && k == x.plug.HotBlade() {
			join(i, earth)
			join(common, earth)
		}
	}
	if i, ok := c.Node(c.Plug.Earth); ok && c.Plug.Earth != "" && !contactLost {
		join(i, earth)
	}
	if i, ok := c.Node(netlist.BuildingEarth); ok {
		join(i, earth)
	}
	for _, name := range c.Bench.Earthed {
		i, _ := c.Node(name)
		join(i, earth)
	}
}
