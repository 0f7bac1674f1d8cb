package topology

import (
	"slices"

	"gonum.org/v1/gonum/graph"
	"gonum.org/v1/gonum/graph/iterator"
	"gonum.org/v1/gonum/graph/simple"
)

// channelGraph is the wiring as gonum's algorithms take it. A channel is a vertex between its two
// nodes, which turns parallel parts into a simple graph. Nodes are 0 … nodes-1, channel k is
// nodes+k. Neighbours come in the order of their numbers, which is that of the file, so that every
// answer is repeatable.
type channelGraph struct {
	nodes    int
	channels []Channel
	vertices []graph.Node
	next     [][]graph.Node
	blocked  []bool         // nodes that may not be entered
	pass     func(int) bool // channels that may
	// some are the only vertices that count, nil for all; gonum makes room for each.
	some    []graph.Node
	shut    []bool    // by vertex: one that does not count
	through []float64 // by vertex: the least weight of a path through it, where only paths up to most count
	most    float64
}

// safeguardWeight is what a safeguard weighs against a part: more than all the parts of a set.
const safeguardWeight = 1 << 20

func newChannelGraph(nodes int, channels []Channel) *channelGraph {
	g := &channelGraph{nodes: nodes, channels: channels, next: make([][]graph.Node, nodes+len(channels))}
	vertices := make([]graph.Node, nodes+len(channels))
	for i := range vertices {
		vertices[i] = simple.Node(i)
	}
	at := make([]int, nodes) // how many channels a node has
	for _, ch := range channels {
		at[ch.a]++
		at[ch.b]++
	}
	room := make([]graph.Node, 4*len(channels))
	for i, n := range at {
		g.next[i], room = room[:0:n], room[n:]
	}
	for k, ch := range channels {
		v := nodes + k
		g.next[ch.a] = append(g.next[ch.a], vertices[v])
		g.next[ch.b] = append(g.next[ch.b], vertices[v])
		g.next[v], room = append(room[:0:2], vertices[min(ch.a, ch.b)], vertices[max(ch.a, ch.b)]), room[2:]
	}
	g.vertices = vertices
	return g
}

// within is the same graph with some nodes and channels shut.
func (g *channelGraph) within(blocked []bool, pass func(int) bool) *channelGraph {
	narrow := *g
	narrow.blocked, narrow.pass = blocked, pass
	return &narrow
}

// between is the same graph without what no path from s to t can take: nodes that are not reached,
// and dead ends.
func (g *channelGraph) between(s, t int, reached []bool) *channelGraph {
	branches := make([]int, len(g.vertices)) // how many open neighbours each vertex has, 0 for one that is out
	for id := range g.vertices {
		if g.open(int64(id)) && (id < g.nodes && reached[id] || id >= g.nodes && (reached[g.channels[id-g.nodes].a] || reached[g.channels[id-g.nodes].b])) {
			branches[id] = (&openNodes{g: g, next: g.next[id], at: -1}).Len()
		}
	}
	for id := range branches {
		for v := id; branches[v] == 1 && v != s && v != t; { // a dead end: what leads to it is one less
			branches[v] = 0
			for _, n := range g.next[v] {
				if branches[n.ID()] > 0 {
					v = int(n.ID())
				}
			}
			branches[v]--
		}
	}
	narrow := *g
	narrow.some = []graph.Node{}
	shut := make([]bool, len(branches))
	for id, n := range branches {
		if n > 0 {
			narrow.some = append(narrow.some, g.vertices[id])
		} else {
			shut[id] = true
		}
	}
	narrow.shut = shut
	return &narrow
}

func (g *channelGraph) open(id int64) bool {
	if g.through != nil && g.through[id] > g.most || g.shut != nil && g.shut[id] {
		return false
	}
	if id < int64(g.nodes) {
		return g.blocked == nil || !g.blocked[id]
	}
	return g.pass == nil || g.pass(int(id)-g.nodes)
}

func (g *channelGraph) Node(id int64) graph.Node {
	if id < 0 || id >= int64(len(g.next)) {
		return nil
	}
	return g.vertices[id]
}

func (g *channelGraph) Nodes() graph.Nodes {
	return iterator.NewOrderedNodes(g.counted())
}

// counted are the vertices that count.
func (g *channelGraph) counted() []graph.Node {
	if g.some != nil {
		return g.some
	}
	return g.vertices
}

func (g *channelGraph) From(id int64) graph.Nodes {
	return &openNodes{g: g, next: g.next[id], at: -1}
}

// openNodes goes through those of some nodes that are open. Walks ask for so many of them that a
// list of its own for each would be most of the work.
type openNodes struct {
	g    *channelGraph
	next []graph.Node
	at   int
}

func (n *openNodes) Next() bool {
	for n.at++; n.at < len(n.next); n.at++ {
		if n.g.open(n.next[n.at].ID()) {
			return true
		}
	}
	return false
}

func (n *openNodes) Node() graph.Node {
	if n.at < 0 || n.at >= len(n.next) {
		return nil
	}
	return n.next[n.at]
}

// Len is how many are still to come.
func (n *openNodes) Len() int {
	left := 0
	for _, node := range n.next[min(n.at+1, len(n.next)):] {
		if n.g.open(node.ID()) {
			left++
		}
	}
	return left
}

func (n *openNodes) Reset() { n.at = -1 }

func (g *channelGraph) HasEdgeBetween(x, y int64) bool {
	if x < int64(g.nodes) {
		x, y = y, x
	}
	if x < int64(g.nodes) || y >= int64(g.nodes) || !g.open(x) || !g.open(y) {
		return false
	}
	ch := g.channels[x-int64(g.nodes)]
	return int64(ch.a) == y || int64(ch.b) == y
}

func (g *channelGraph) Edge(u, v int64) graph.Edge {
	if !g.HasEdgeBetween(u, v) {
		return nil
	}
	return simple.Edge{F: simple.Node(u), T: simple.Node(v)}
}

func (g *channelGraph) WeightedEdge(u, v int64) graph.WeightedEdge {
	w, ok := g.Weight(u, v)
	if !ok || u == v {
		return nil
	}
	return simple.WeightedEdge{F: simple.Node(u), T: simple.Node(v), W: w}
}

// Weight is half of a channel's on either side of it: its safeguards first, then one part.
func (g *channelGraph) Weight(u, v int64) (float64, bool) {
	if u == v {
		return 0, true
	}
	if !g.HasEdgeBetween(u, v) {
		return 0, false
	}
	ch := g.channels[max(u, v)-int64(g.nodes)]
	return float64(2*ch.Cost*safeguardWeight+2) / 2 / 2, true
}

func (g *channelGraph) EdgeBetween(u, v int64) graph.Edge { return g.Edge(u, v) }

// reach marks the nodes that can be come to from some. It is asked so often that gonum's walk, which makes
// a set of vertices and an iterator for each, would be most of the work.
func (g *channelGraph) reach(from []int, blocked []bool, pass func(int) bool) []bool {
	reached := make([]bool, len(g.next))
	narrow := g.within(blocked, pass)
	next := slices.Clone(from) // what is to be gone on from
	for _, start := range from {
		reached[start] = true
	}
	for len(next) > 0 {
		v := next[len(next)-1]
		next = next[:len(next)-1]
		for _, n := range g.next[v] {
			if id := n.ID(); !reached[id] && narrow.open(id) {
				reached[id] = true
				next = append(next, int(id))
			}
		}
	}
	return reached[:g.nodes]
}
