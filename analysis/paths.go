package analysis

import (
	"math"

	"gonum.org/v1/gonum/graph"
	"gonum.org/v1/gonum/graph/path"
	"gonum.org/v1/gonum/graph/simple"
)

// Step is one channel of a path, in the direction in which the path goes.
type Step struct {
	Channel
	From, To string
}

// Path is a way from one node to another, part by part.
type Path struct {
	From, To string
	Steps    []Step
}

// Cost is how many safeguards stand in the path.
func (p Path) Cost() int {
	cost := 0
	for _, s := range p.Steps {
		cost += s.Cost
	}
	return cost
}

// Ohms adds up the sizes of the impedances along the path: how much it lets through while nothing
// has failed, told roughly.
func (p Path) Ohms() float64 {
	sum := 0.0
	for _, s := range p.Steps {
		sum += s.Ohms
	}
	return sum
}

// Barriers lists the steps of the path that are safeguards, or would be if they were sound.
func (p Path) Barriers() []Step {
	var barriers []Step
	for _, s := range p.Steps {
		if s.Barrier() {
			barriers = append(barriers, s)
		}
	}
	return barriers
}

// Query narrows a search for paths.
type Query struct {
	Avoid []string           // nodes that a path may not enter; its own ends are never avoided
	Pass  func(Channel) bool // channels that it may take; nil for all
}

// Shortest is the path with the fewest safeguards, and of those the fewest parts.
func (w *Wiring) Shortest(from, to string, q Query) (Path, bool) {
	g, s, t, ok := w.search(from, to, q)
	if !ok {
		return Path{}, false
	}
	if s == t {
		return Path{From: from, To: to}, true
	}
	nodes, weight := path.DijkstraFrom(simple.Node(s), g).To(int64(t))
	if math.IsInf(weight, 1) || len(nodes) == 0 {
		return Path{}, false
	}
	return w.told(from, to, nodes), true
}

// Paths gives up to n paths, fewest safeguards first, then fewest parts. No path enters a node
// twice.
func (w *Wiring) Paths(from, to string, n int, q Query) []Path {
	g, s, t, ok := w.search(from, to, q)
	if !ok || n <= 0 {
		return nil
	}
	if s == t {
		return []Path{{From: from, To: to}}
	}
	if _, reached := w.Shortest(from, to, q); !reached {
		return nil
	}
	var paths []Path
	for _, nodes := range path.YenKShortestPaths(g, n, math.Inf(1), simple.Node(s), simple.Node(t)) {
		paths = append(paths, w.told(from, to, nodes))
	}
	return paths
}

func (w *Wiring) search(from, to string, q Query) (g *channelGraph, s, t int, ok bool) {
	s, known := w.c.index[from]
	t, also := w.c.index[to]
	if !known || !also {
		return nil, 0, 0, false
	}
	blocked := w.blocked(q.Avoid)
	blocked[s], blocked[t] = false, false
	var pass func(int) bool
	if q.Pass != nil {
		pass = func(k int) bool { return q.Pass(w.Channels[k]) }
	}
	return w.graph.within(blocked, pass), s, t, true
}

// told turns gonum's vertices, node and channel by turns, into steps.
func (w *Wiring) told(from, to string, nodes []graph.Node) Path {
	p := Path{From: from, To: to}
	for i := 1; i+1 < len(nodes); i += 2 {
		ch := w.Channels[int(nodes[i].ID())-len(w.c.Set.Nodes)]
		p.Steps = append(p.Steps, Step{Channel: ch, From: w.c.Set.Nodes[nodes[i-1].ID()].Name, To: w.c.Set.Nodes[nodes[i+1].ID()].Name})
	}
	return p
}
