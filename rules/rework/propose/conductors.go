package propose

import (
	"slices"

	"coldcheck/netlist"
)

// joined are the points that parts join to a node, of those parts that ends gives the ends of.
func joined(set *netlist.Set, node string, ends func(*netlist.Part) (netlist.Ends, bool)) map[string]bool {
	next := map[string][]string{}
	for _, p := range set.Parts {
		if e, ok := ends(p); ok {
			next[e[0]] = append(next[e[0]], e[1])
			next[e[1]] = append(next[e[1]], e[0])
		}
	}
	group := map[string]bool{node: true}
	for queue := []string{node}; len(queue) > 0; queue = queue[1:] {
		for _, n := range next[queue[0]] {
			if !group[n] {
				group[n] = true
				queue = append(queue, n)
			}
		}
	}
	return group
}

// wired are the points that wires alone join to a node.
func wired(set *netlist.Set, node string) map[string]bool {
	return joined(set, node, func(p *netlist.Part) (netlist.Ends, bool) {
		if d, ok := p.Detail.(*netlist.Wire); ok {
			return d.Ends, true
		}
		return netlist.Ends{}, false
	})
}

// wiredOrFused are the points that wires and fuses join to a node.
func wiredOrFused(set *netlist.Set, node string) map[string]bool {
	return joined(set, node, func(p *netlist.Part) (netlist.Ends, bool) {
		switch d := p.Detail.(type) {
		case *netlist.Wire:
			return d.Ends, true
		case *netlist.Fuse:
			return d.Ends, true
		}
		return netlist.Ends{}, false
	})
}

// onEitherBlade are the points that wires and fuses join to one blade or the other.
func onEitherBlade(set *netlist.Set, hot, neutral string) map[string]bool {
	group := wiredOrFused(set, hot)
	for n := range wiredOrFused(set, neutral) {
		group[n] = true
	}
	return group
}

// touched reports whether a hand can reach a point.
func touched(set *netlist.Set, node string) bool {
	n := set.Node(node)
	return n != nil && n.Touch != ""
}

// terminalsOn counts the terminals on each point.
func terminalsOn(set *netlist.Set) map[string]int {
	counts := map[string]int{}
	for _, p := range set.Parts {
		for _, t := range p.Terminals {
			counts[t.Node]++
		}
	}
	return counts
}

// mostConnected is the point that most terminals are on: B-minus, in a set whose file does not say which
// point that is.
func mostConnected(set *netlist.Set) string {
	counts := terminalsOn(set)
	best := ""
	for _, n := range set.Nodes {
		if counts[n.Name] > counts[best] {
			best = n.Name
		}
	}
	return best
}

// orient says which blade is to be hot: the one whose line conductor does not lead to B-minus. Where
// neither does, or both are hot, the blades stay as they are marked.
func orient(set *netlist.Set) (hot, neutral string) {
	_, plug := set.Plug()
	bus := mostConnected(set)
	if !set.BothHot() && conductorFrom(set, plug.Hot).nodes[bus] && !conductorFrom(set, plug.Neutral).nodes[bus] {
		return plug.Neutral, plug.Hot
	}
	return plug.Hot, plug.Neutral
}

// lineConductor is what wires, fuses and the poles of switches join to a blade.
type lineConductor struct {
	nodes map[string]bool
	fuses []string
	// switches are those of which a pole hangs on the blade with wires and fuses alone between.
	switches []string
}

func conductorFrom(set *netlist.Set, blade string) lineConductor {
	c := lineConductor{nodes: wiredOrFused(set, blade)}
	for _, p := range set.Parts {
		switch d := p.Detail.(type) {
		case *netlist.Fuse:
			if c.nodes[d.Ends[0]] {
				c.fuses = append(c.fuses, p.Name)
			}
		case *netlist.Switch:
			if slices.ContainsFunc(d.Poles, func(pole netlist.Ends) bool { return linePole(set, pole, c.nodes) >= 0 }) {
				c.switches = append(c.switches, p.Name)
			}
		}
	}
	for _, name := range c.switches {
		for _, pole := range set.Part(name).Detail.(*netlist.Switch).Poles {
			if end := linePole(set, pole, c.nodes); end >= 0 {
				for n := range wiredOrFused(set, pole[1-end]) {
					c.nodes[n] = true
				}
			}
		}
	}
	return c
}

// linePole says which end of a pole is on a line conductor, where the other feeds more than one part; -1
// where the pole is none of its poles.
func linePole(set *netlist.Set, pole netlist.Ends, conductor map[string]bool) int {
	for end := range pole {
		far := pole[1-end]
		if !conductor[pole[end]] || conductor[far] {
			continue
		}
		on := terminalsOn(set)[far]
		if on >= 3 || on == 2 && len(wiredOrFused(set, far)) > 1 {
			return end
		}
	}
	return -1
}
