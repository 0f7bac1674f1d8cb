package survey

import (
	"math"
	"slices"

	"coldcheck/analysis"
	"coldcheck/analysis/trace"
	"coldcheck/netlist"
)

// What of a hand's current counts.
const (
	leastFlow   = 1e-6 // of the hand's current: less is rounding
	leastWay    = 0.04 // of it, that a path must bring to be told
	leastNeeded = 0.25 // of it, that a path must bring to be drawn wherever it does
	restOfFlow  = 0.08 // of it, that may be left when no further path is looked for
	mostWays    = 8    // paths that bring a hand's current in one state
	cyclesTried = 400
)

// way is a path with the share of a hand's current that comes by it.
type way struct {
	path  *Path
	share float64
}

// edge is a channel with what flows in it, from one node to another, of what reaches the hand.
type edge struct {
	channel  int
	from, to int
	flow     float64
}

// network is a state with a hand on one node, as flows that are in phase with the hand's current and add
// up to nothing at every node but those at which the supply, an earth or the hand takes or gives.
type network struct {
	channels []analysis.Channel
	names    []string
	number   map[string]int
	edges    []edge
	outside  []float64 // by node, what comes in from outside
	target   int
	hand     float64
}

// newNetwork lays out the flows of a state. given are nodes at which the supply or an earth may give, and source
// tells those from which alone the current can come, none where that cannot be said beforehand. What flows into a source brings
// nothing to the hand: a coil's current goes round with a capacitor's between the two sides of the line, and in phase
// with the hand's it would seem to come from the side that is at earth.
func newNetwork(channels []analysis.Channel, hand *analysis.Touch, target string, given []string, source func(node string) bool) *network {
	n := &network{channels: channels, number: map[string]int{}, hand: hand.Severity()}
	n.target = n.node(target)
	for _, ch := range channels {
		n.node(ch.A)
		n.node(ch.B)
	}
	net := make([]float64, len(n.names)) // what flows out of each node
	net[n.target] += n.hand
	carried := hand.Carried(channels)
	for k, ch := range channels {
		if x := carried[k]; !math.IsNaN(x) && ch.Sort != analysis.Conductor {
			a, b := n.node(ch.A), n.node(ch.B)
			if x > 0 && source(ch.B) || x < 0 && source(ch.A) {
				continue
			}
			n.add(k, a, b, x)
			net[a] += x
			net[b] -= x
		}
	}
	n.conduct(net, given)
	n.outside = make([]float64, len(n.names))
	n.outside[n.target] = n.hand
	for _, e := range n.edges {
		n.outside[e.from] += e.flow
		n.outside[e.to] -= e.flow
	}
	return n
}

func (n *network) node(name string) int {
	i, ok := n.number[name]
	if !ok {
		i = len(n.names)
		n.number[name] = i
		n.names = append(n.names, name)
	}
	return i
}

func (n *network) add(channel, a, b int, x float64) {
	switch {
	case x > leastFlow*n.hand:
		n.edges = append(n.edges, edge{channel, a, b, x})
	case -x > leastFlow*n.hand:
		n.edges = append(n.edges, edge{channel, b, a, -x})
	}
}

// conduct gives the conductors their currents, which the equations do not have: what the nodes that they
// join take and give must meet somewhere. Where several ways of conductors lie side by side, the shortest
// is taken. What is left over comes from the node of those that are given.
func (n *network) conduct(net []float64, given []string) {
	beside := make([][]int, len(n.names))
	for k, ch := range n.channels {
		if ch.Sort == analysis.Conductor {
			a, b := n.number[ch.A], n.number[ch.B]
			beside[a], beside[b] = append(beside[a], k), append(beside[b], k)
		}
	}
	seen := make([]bool, len(n.names))
	var roots []int
	for _, name := range given {
		if i, ok := n.number[name]; ok {
			roots = append(roots, i)
		}
	}
	for i := range n.names {
		roots = append(roots, i)
	}
	for _, root := range roots {
		if !seen[root] {
			n.conductFrom(root, beside, seen, net)
		}
	}
}

// conductFrom is conduct of the conductors about one node.
func (n *network) conductFrom(root int, beside [][]int, seen []bool, net []float64) {
	type step struct{ channel, parent, node int }
	queue := []step{{-1, -1, root}}
	seen[root] = true
	for i := 0; i < len(queue); i++ {
		at := queue[i].node
		for _, k := range beside[at] {
			other := n.number[n.channels[k].A] + n.number[n.channels[k].B] - at
			if !seen[other] {
				seen[other] = true
				queue = append(queue, step{k, at, other})
			}
		}
	}
	for _, s := range slices.Backward(queue) {
		if s.channel >= 0 {
			n.add(s.channel, s.parent, s.node, net[s.node])
			net[s.parent] += net[s.node]
		}
	}
}

// reaching keeps of the flows what reaches the hand: where several flow into a node, each has its part in
// what flows out of it.
func (n *network) reaching() {
	n.cancelCycles()
	into := make([][]int, len(n.names))
	left := make([]int, len(n.names)) // flows out of a node that are not worked out yet
	for i, e := range n.edges {
		if e.flow > 0 {
			into[e.to] = append(into[e.to], i)
			left[e.from]++
		}
	}
	wanted := make([]float64, len(n.names))
	wanted[n.target] = n.hand
	var ready []int
	for i := range n.names {
		if left[i] == 0 {
			ready = append(ready, i)
		}
	}
	for len(ready) > 0 {
		at := ready[len(ready)-1]
		ready = ready[:len(ready)-1]
		sum := max(0, n.outside[at])
		for _, i := range into[at] {
			sum += n.edges[i].flow
		}
		rest := wanted[at]
		for _, i := range into[at] {
			e := &n.edges[i]
			e.flow *= wanted[at] / sum
			rest -= e.flow
			wanted[e.from] += e.flow
			if left[e.from]--; left[e.from] == 0 {
				ready = append(ready, e.from)
			}
		}
		n.outside[at] = max(0, rest)
	}
}

// cancelCycles takes out what flows in a circle: none of it reaches the hand.
func (n *network) cancelCycles() {
	for range cyclesTried {
		circle := n.cycle()
		if circle == nil {
			return
		}
		least := math.Inf(1)
		for _, i := range circle {
			least = min(least, n.edges[i].flow)
		}
		for _, i := range circle {
			if n.edges[i].flow -= least; n.edges[i].flow <= leastFlow*n.hand {
				n.edges[i].flow = 0
			}
		}
	}
}

// cycle finds edges that flow in a circle, nil where none do.
func (n *network) cycle() []int {
	out := make([][]int, len(n.names))
	for i, e := range n.edges {
		if e.flow > 0 {
			out[e.from] = append(out[e.from], i)
		}
	}
	const fresh, open, done = 0, 1, 2
	mark := make([]int, len(n.names))
	next := make([]int, len(n.names))
	for start := range n.names {
		if mark[start] != fresh {
			continue
		}
		nodes, edges := []int{start}, []int(nil)
		mark[start] = open
		for len(nodes) > 0 {
			at := nodes[len(nodes)-1]
			if next[at] == len(out[at]) {
				mark[at] = done
				nodes = nodes[:len(nodes)-1]
				edges = edges[:max(0, len(edges)-1)]
				continue
			}
			i := out[at][next[at]]
			next[at]++
			switch to := n.edges[i].to; mark[to] {
			case open:
				return append(slices.Clone(edges[slices.Index(nodes, to):]), i)
			case fresh:
				mark[to] = open
				nodes, edges = append(nodes, to), append(edges, i)
			}
		}
	}
	return nil
}

// stretch is a path of edges to the hand, its first edge last, and what comes by it.
type stretch struct {
	edges []int
	flow  float64
}

// stretches takes the flows apart into paths, that which brings the most first.
func (n *network) stretches() []stretch {
	var all []stretch
	rest := n.hand
	for rest > restOfFlow*n.hand && len(all) < mostWays {
		edges, flow := n.widest()
		if flow < leastWay*n.hand && len(all) > 0 || flow <= leastFlow*n.hand || len(edges) == 0 {
			break
		}
		for _, i := range edges {
			n.edges[i].flow -= flow
		}
		n.outside[n.edges[edges[len(edges)-1]].from] -= flow
		rest -= flow
		all = append(all, stretch{edges, flow})
	}
	return all
}

// widest is the path to the hand that brings the most, from its end.
func (n *network) widest() (edges []int, flow float64) {
	into := make([][]int, len(n.names))
	for i, e := range n.edges {
		if e.flow > leastFlow*n.hand {
			into[e.to] = append(into[e.to], i)
		}
	}
	width, by := make([]float64, len(n.names)), slices.Repeat([]int{-1}, len(n.names))
	done := make([]bool, len(n.names))
	width[n.target] = n.hand
	end := -1
	for {
		at := -1
		for i := range width {
			if !done[i] && width[i] > 0 && (at < 0 || width[i] > width[at]) {
				at = i
			}
		}
		if at < 0 {
			break
		}
		done[at] = true
		if x := min(width[at], n.outside[at]); at != n.target && x > flow {
			end, flow = at, x
		}
		for _, i := range into[at] {
			e := n.edges[i]
			if x := min(width[at], e.flow); !done[e.from] && x > width[e.from] {
				width[e.from], by[e.from] = x, i
			}
		}
	}
	for at := end; at >= 0 && at != n.target; at = n.edges[by[at]].to {
		edges = append(edges, by[at])
	}
	slices.Reverse(edges)
	return edges, flow
}

// leastDirect is of a hand's current what direct current must be for it to matter where it comes from.
const leastDirect = 0.01

// sources tells the nodes from which alone a hand's current comes in a state: those that conductors join to a blade whose
// side of the supply has volts to earth. It tells none where the supply floats, and where direct current is in it, which
// comes by way of either side.
func (t *Target) sources(state analysis.State, at *solved, hand *analysis.Touch) func(node string) bool {
	if t.circuit.Floating() || 1e3*math.Abs(hand.AmpsDC)/analysis.ES2AmpsDC > leastDirect*hand.Severity() {
		return func(string) bool { return false }
	}
	_, other := t.circuit.Blades(state.Plug)
	blades := slices.DeleteFunc(trace.Sources(t.circuit, state), func(blade string) bool { return lostSide(state, blade, other) })
	return func(node string) bool {
		return slices.ContainsFunc(blades, func(blade string) bool { return at.joined[blade] == at.joined[node] })
	}
}

// ways finds the paths by which a hand's current comes in a state.
func (t *Target) ways(state analysis.State, at *solved, hand *analysis.Touch) []way {
	hot, other := t.circuit.Blades(state.Plug)
	_, plug := t.circuit.Set.Plug()
	n := newNetwork(at.channels, hand, t.Node, append([]string{hot, other, plug.Earth, netlist.BuildingEarth}, t.circuit.Bench.Earthed...), t.sources(state, at, hand))
	n.reaching()
	var ways []way
	for _, s := range n.stretches() {
		first := n.edges[s.edges[len(s.edges)-1]]
		p := &Path{From: n.names[first.from], Nodes: []string{n.names[first.from]}}
		for _, i := range slices.Backward(s.edges) {
			e := n.edges[i]
			ch := n.channels[e.channel]
			from, to := n.names[e.from], n.names[e.to]
			p.Branches = append(p.Branches, t.branchOf(analysis.Step{Channel: ch, From: from, To: to}))
			p.Nodes = append(p.Nodes, to)
		}
		ways = append(ways, way{t.known(p), s.flow / n.hand})
	}
	return ways
}
