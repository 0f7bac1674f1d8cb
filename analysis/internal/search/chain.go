package search

import (
	"container/heap"
	"encoding/binary"
	"slices"

	"coldcheck/analysis/internal/circuit"
	"coldcheck/analysis/internal/nodal"
)

// However many unverified parts stand in a row, they are not let off. Sets larger than the complete
// search goes to are tried where a path leads: in every state without faults the safeguards of the path
// of least cost from each blade to a target fail together; if that makes the target live, members are
// dropped as long as the rest does.

// edge is what can pass current between two nodes in a state without faults; fault is what must fail
// first, nil where it just passes.
type edge struct {
	to    int
	fault *circuit.Fault
}

// edges lists, by node, what leads from it in a position with one rectifier conducting (its place in
// Circuit.Sections, their number for the small diodes, -1 for none).
func edges(c *circuit.Circuit, position, conducting int) [][]edge {
	all := make([][]edge, len(c.Set.Nodes))
	add := func(a, b int, f *circuit.Fault) {
		all[a], all[b] = append(all[a], edge{b, f}), append(all[b], edge{a, f})
	}
	for i := range c.Elements {
		e := &c.Elements[i]
		passes := c.Closed(e, position)
		var fault *circuit.Fault
		switch e.Sort {
		case circuit.Link, circuit.Battery, circuit.Shunt:
			passes = true
		case circuit.Contact:
			passes = c.Made(e, position)
		case circuit.Load:
			short := c.ShortFault(c.PartOf(e).Name)
			_, control := c.ControlOf(e)
			switch ohms := c.OhmsAt(e, position); {
			case control:
				passes = true
				if ohms != circuit.TurnedOhms {
					fault = short
				}
			default:
				passes = short == nil || ohms < circuit.SafeguardOhms
			}
		case circuit.Rectifier:
			passes = conducting >= 0 && conducting < len(c.Sections) && c.Sections[conducting] == i
		case circuit.Diode:
			passes = conducting == len(c.Sections)
		}
		if passes {
			add(e.A, e.B, fault)
		}
	}
	for _, t := range c.Transformers {
		for _, w := range t.Windings {
			add(w.A, w.B, nil)
		}
	}
	for _, f := range c.Faults {
		if f.Short {
			add(f.A, f.B, f)
		}
	}
	return all
}

// step is a node with the faults on the way to it.
type step struct {
	cost int
	path []int // the faults, by their places
	node int
}

func (s step) compare(t step) int {
	switch {
	case s.cost != t.cost:
		return s.cost - t.cost
	case len(s.path) != len(t.path):
		return len(s.path) - len(t.path)
	}
	return slices.Compare(s.path, t.path)
}

// frontier is the steps still to be taken, the least first.
type frontier []step

func (f frontier) Len() int           { return len(f) }
func (f frontier) Less(i, j int) bool { return f[i].compare(f[j]) < 0 }
func (f frontier) Swap(i, j int)      { f[i], f[j] = f[j], f[i] }
func (f *frontier) Push(x any)        { *f = append(*f, x.(step)) }
func (f *frontier) Pop() any {
	last := (*f)[len(*f)-1]
	*f = (*f)[:len(*f)-1]
	return last
}

// leastPaths gives each node that a path from a blade reaches the faults on the one of least cost; among
// equals the fewest faults, then those that stand first in the file from the line end on (Dijkstra 1959,
// over that order; gonum's weights are single numbers).
func leastPaths(c *circuit.Circuit, from [][]edge, blade string) map[int][]*circuit.Fault {
	start, _ := c.Node(blade)
	done, best := map[int][]*circuit.Fault{}, frontier{{node: start}}
	for len(best) > 0 {
		s := heap.Pop(&best).(step)
		if _, known := done[s.node]; known {
			continue
		}
		faults := []*circuit.Fault{}
		for _, k := range s.path {
			faults = append(faults, c.Faults[k])
		}
		done[s.node] = faults
		for _, e := range from[s.node] {
			if _, known := done[e.to]; known {
				continue
			}
			next := step{s.cost, s.path, e.to}
			if e.fault != nil {
				next.cost += e.fault.Cost
				next.path = append(slices.Clip(s.path), e.fault.Index)
			}
			heap.Push(&best, next)
		}
	}
	return done
}

// chain is a set of faults to be tried, from the line end on.
type chain struct {
	target int
	faults []*circuit.Fault
}

// chains tries what the paths lead to.
func (d *depthSearch) chains() {
	for _, x := range d.chainsOf() {
		target := d.targets[x.target]
		anyway, marked := d.makesLive(target, x.faults)
		if anyway {
			rest := thinned(x.faults, func(set []*circuit.Fault) bool { live, _ := d.makesLive(target, set); return live })
			if d.within(target, rest) && !d.found[x.target].holdsSubset(rest) {
				d.found[x.target].add(rest)
			}
		}
		if marked {
			rest := thinned(x.faults, func(set []*circuit.Fault) bool { _, live := d.makesLive(target, set); return live })
			if cost := circuit.CostOf(rest); d.within(target, rest) && (d.marked[x.target] == None || cost < d.marked[x.target]) {
				d.marked[x.target] = cost
			}
		}
	}
}

// within reports whether a set of faults with a target's guards costs K or less.
func (d *depthSearch) within(t target, set []*circuit.Fault) bool {
	return circuit.CostOf(set)+t.guardCost() <= d.limit
}

// chainsOf are the chains larger than the complete search goes to, each once: of two points the paths to
// either, and that from one blade to the one with that from the other blade to the other.
func (d *depthSearch) chainsOf() []chain {
	c := d.c
	var all []chain
	tried := map[string]bool{}
	for position := range c.Positions {
		for conducting := -1; conducting <= len(c.Sections); conducting++ {
			if conducting == len(c.Sections) && len(c.Diodes) == 0 {
				continue
			}
			from := edges(c, position, conducting)
			blades := [2]map[int][]*circuit.Fault{leastPaths(c, from, c.Plug.Hot), leastPaths(c, from, c.Plug.Neutral)}
			for k, t := range d.targets {
				for _, faults := range candidates(c, t, blades) {
					if len(faults) <= d.together || !d.within(t, faults) {
						continue
					}
					if key := chainKey(k, faults); !tried[key] {
						tried[key] = true
						all = append(all, chain{k, faults})
					}
				}
			}
		}
	}
	return all
}

// candidates are the chains to a target.
func candidates(c *circuit.Circuit, t target, blades [2]map[int][]*circuit.Fault) [][]*circuit.Fault {
	var all [][]*circuit.Fault
	a, b := c.Points[t.a].Index, -1
	if t.b >= 0 {
		b = c.Points[t.b].Index
	}
	for _, paths := range blades {
		all = append(all, paths[a])
		if b >= 0 {
			all = append(all, paths[b])
		}
	}
	if b < 0 {
		return all
	}
	for k := range blades {
		one, ok := blades[k][a]
		two, also := blades[1-k][b]
		if !ok || !also {
			continue
		}
		both := slices.Clone(one)
		for _, f := range two {
			if !slices.Contains(one, f) {
				both = append(both, f)
			}
		}
		all = append(all, both)
	}
	return all
}

// chainKey tells chains apart.
func chainKey(target int, faults []*circuit.Fault) string {
	key := binary.AppendUvarint(nil, uint64(target))
	for _, f := range faults {
		key = binary.AppendUvarint(key, uint64(f.Index))
	}
	return string(key)
}

// makesLive reports whether a set of faults makes a target live in any state, and with the plug as
// marked.
func (d *depthSearch) makesLive(t target, set []*circuit.Fault) (anyway, marked bool) {
	points := []int{t.a}
	p := probe{0, -1}
	if t.b >= 0 {
		points, p.b = append(points, t.b), 1
	}
	for position := range d.c.Positions {
		e := d.n.EvaluatorOf(position, points)
		e.Evaluate(set, nodal.Ask{Plugs: nodal.Both, Uncleared: true}, func(x *nodal.Evaluation) bool {
			if !x.Cleared && x.Source(p.a, p.b).Reading(d.c.Omega).Class() == nodal.Live {
				anyway = true
				marked = marked || x.Plug == circuit.AsMarked
			}
			return !x.Cleared
		})
		if marked {
			return true, true
		}
	}
	return anyway, marked
}

// thinned drops members one after the other, from the line end, as long as the rest is live, and again
// until none can go.
func thinned(set []*circuit.Fault, live func([]*circuit.Fault) bool) []*circuit.Fault {
	kept := slices.Clone(set)
	for shorter := true; shorter; {
		shorter = false
		for _, f := range slices.Clone(kept) {
			rest := slices.DeleteFunc(slices.Clone(kept), func(g *circuit.Fault) bool { return g == f })
			if live(rest) {
				kept, shorter = rest, true
			}
		}
	}
	return kept
}
