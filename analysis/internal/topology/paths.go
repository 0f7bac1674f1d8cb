package topology

import (
	"math"
	"slices"
	"strings"

	"gonum.org/v1/gonum/graph"
	"gonum.org/v1/gonum/graph/path"
	"gonum.org/v1/gonum/graph/simple"
)

// Step is one channel of a path, in the direction in which the path goes.
type Step struct {
	Channel
	From, To string
}

// Path leads from one node to another, part by part.
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

// Leads reports whether the path leads through a part.
func (p Path) Leads(part string) bool {
	return slices.ContainsFunc(p.Steps, func(s Step) bool { return s.Part == part })
}

// Parts lists the parts of the path in order, each once; of no path it is empty.
func (p *Path) Parts() []string {
	names := []string{}
	if p == nil {
		return names
	}
	seen := make(map[string]bool, len(p.Steps))
	for _, s := range p.Steps {
		if !seen[s.Part] {
			seen[s.Part] = true
			names = append(names, s.Part)
		}
	}
	return names
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
	nodes, weight := path.DijkstraFromTo(simple.Node(s), simple.Node(t), g)
	if math.IsInf(weight, 1) || len(nodes) == 0 {
		return Path{}, false
	}
	return w.path(from, to, nodes), true
}

// Paths gives up to n paths, fewest safeguards first, then fewest parts. No path enters a node
// twice.
func (w *Wiring) Paths(from, to string, n int, q Query) []Path {
	var slacks []float64
	if len(w.Channels) > manyChannels {
		slacks = largeSlacks
	}
	return w.pathsWithin(slacks, from, to, n, q)
}

// manyChannels is from how many on paths are first looked for where none weighs more than the
// lightest by over a slack: most of a large set lies far from any one touch point.
const manyChannels = 2000

// fewChannels is up to how many on it is quicker to leave in what no path can take.
const fewChannels = 250

// largeSlacks: 8 parts more, then a safeguard more as well.
var largeSlacks = []float64{8, safeguardWeight + 8}

// pathsWithin looks within rising slacks until there are enough paths, at last in the whole graph.
func (w *Wiring) pathsWithin(slacks []float64, from, to string, n int, q Query) []Path {
	g, s, t, ok := w.search(from, to, q)
	if !ok || n <= 0 {
		return nil
	}
	if s == t {
		return []Path{{From: from, To: to}}
	}
	reached := g.reach([]int{s}, g.blocked, g.pass)
	if !reached[t] {
		return nil
	}
	all := g
	if len(w.Channels) > fewChannels || len(slacks) > 0 {
		g = g.between(s, t, reached)
	}
	best := func(g *channelGraph) [][]graph.Node {
		return path.YenKShortestPaths(g, n, math.Inf(1), simple.Node(s), simple.Node(t))
	}
	var found [][]graph.Node
	if len(slacks) > 0 {
		through := w.through(all, g, s, t, q)
		for _, slack := range slacks {
			most := through[s] + slack
			if light := best(g.lighter(through, most)); len(light) == n && g.weigh(light[n-1]) <= most {
				found = light
				break
			}
		}
	}
	if found == nil {
		found = best(g)
	}
	var paths []Path
	for _, nodes := range found {
		paths = append(paths, w.path(from, to, nodes))
	}
	return paths
}

// through is, by vertex, the least weight of a path from s to t through it, of the graph between them.
// The weights from s in the whole of it are kept for the next target; one that is to be avoided, or
// channels that may not pass, make another graph.
func (w *Wiring) through(all, between *channelGraph, s, t int, q Query) []float64 {
	var from []float64
	if q.Pass != nil || slices.Contains(q.Avoid, w.c.NodeName(t)) {
		from = between.weightsFrom(s)
	} else {
		from = w.weightsFrom(all, s, q)
	}
	weight := between.weightsFrom(t)
	for id := range weight {
		weight[id] += from[id]
	}
	return weight
}

// weightsFrom is the weights from s in a graph that no target bears on, kept.
func (w *Wiring) weightsFrom(g *channelGraph, s int, q Query) []float64 {
	key := w.c.NodeName(s) + "\x00" + strings.Join(q.Avoid, "\x00")
	w.lock.Lock()
	defer w.lock.Unlock()
	if w.weights == nil {
		w.weights = map[string][]float64{}
	}
	if w.weights[key] == nil {
		w.weights[key] = g.weightsFrom(s)
	}
	return w.weights[key]
}

// weightsFrom is, by vertex that counts, the least weight of a path from one.
func (g *channelGraph) weightsFrom(s int) []float64 {
	from := path.DijkstraFrom(simple.Node(s), g)
	weight := make([]float64, len(g.next))
	for id := range weight {
		weight[id] = math.Inf(1)
	}
	for _, v := range g.counted() {
		weight[v.ID()] = from.WeightTo(v.ID())
	}
	return weight
}

// lighter is the graph without the vertices through which every path weighs more than most: it has
// every path that does not.
func (g *channelGraph) lighter(through []float64, most float64) *channelGraph {
	narrow := *g
	narrow.through, narrow.most, narrow.some = through, most, []graph.Node{}
	for _, v := range g.some {
		if through[v.ID()] <= most {
			narrow.some = append(narrow.some, v)
		}
	}
	return &narrow
}

// weigh is the weight of a path of vertices.
func (g *channelGraph) weigh(vertices []graph.Node) float64 {
	sum := 0.0
	for i := 1; i < len(vertices); i++ {
		w, _ := g.Weight(vertices[i-1].ID(), vertices[i].ID())
		sum += w
	}
	return sum
}

func (w *Wiring) search(from, to string, q Query) (g *channelGraph, s, t int, ok bool) {
	s, known := w.c.Node(from)
	t, also := w.c.Node(to)
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

// path turns gonum's vertices, node and channel by turns, into steps.
func (w *Wiring) path(from, to string, nodes []graph.Node) Path {
	p := Path{From: from, To: to}
	for i := 1; i+1 < len(nodes); i += 2 {
		ch := w.Channels[int(nodes[i].ID())-len(w.c.Set.Nodes)]
		p.Steps = append(p.Steps, Step{Channel: ch, From: w.c.Set.Nodes[nodes[i-1].ID()].Name, To: w.c.Set.Nodes[nodes[i+1].ID()].Name})
	}
	return p
}
