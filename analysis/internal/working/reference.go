package working

import (
	"slices"

	"coldcheck/analysis/internal/circuit"
	"coldcheck/netlist"
)

// nearCathode: a resistor or a coil up to this leads from a cathode to what the set takes for its common
// negative; what is more is a load.
const nearCathode = 5e3 // Ω

// commonNegative is the node against which volts are told where nobody names one, B-minus: what most
// reservoirs have for their negative; without any, where most amplifying cathodes lead through one
// resistor or coil of nearCathode or less; without cathodes, the neutral side. Of equals the one at which
// most terminals meet, then the first in the file.
func (n *branches) commonNegative() int {
	leads := n.reservoirNegatives()
	if len(leads) == 0 {
		leads = n.cathodeLeads()
	}
	if len(leads) == 0 {
		return n.neutral
	}
	meets, named := n.terminals()
	best := -1
	order := n.wired()
	for _, i := range order {
		root := n.sets.Find(i)
		if leads[root] == 0 || root == best {
			continue
		}
		if best < 0 || leads[root] > leads[best] || leads[root] == leads[best] && meets[root] > meets[best] {
			best = root
		}
	}
	of := -1
	for _, i := range order {
		if n.sets.Find(i) == best && (of < 0 || named[i] > named[of]) {
			of = i
		}
	}
	return of
}

// CommonNegative is the node against which volts are told in a position of the switches where nobody names one.
func CommonNegative(c *circuit.Circuit, position int) int {
	return build(c, Options{Position: position, Plug: circuit.AsMarked, Body: None, Reference: None}).reference
}

// wired lists the nodes in the order in which the parts of the file name them.
func (n *branches) wired() []int {
	var order []int
	seen := make([]bool, n.nodes)
	for _, p := range n.c.Set.Parts {
		for _, t := range p.Terminals {
			if i, ok := n.c.Node(t.Node); ok && !seen[i] {
				seen[i] = true
				order = append(order, i)
			}
		}
	}
	return order
}

// terminals counts the terminals at each joined node, and at each node by its name.
func (n *branches) terminals() (meets, named map[int]int) {
	meets, named = map[int]int{}, map[int]int{}
	n.eachBranch(func(a, b int, _ bool) {
		for _, node := range []int{a, b} {
			if node != ground {
				meets[n.sets.Find(node)]++
				named[node]++
			}
		}
	})
	return meets, named
}

// reservoirNegatives counts the reservoirs by the joined node of their negative.
func (n *branches) reservoirNegatives() map[int]int {
	held := map[int]int{}
	for _, p := range n.c.Set.Parts {
		d, ok := p.Detail.(*netlist.Capacitor)
		if !ok || d.Positive == "" || !circuit.Reservoir(d.Farads) {
			continue
		}
		a, b := n.root(d.Ends[0]), n.root(d.Ends[1])
		if n.root(d.Positive) == a {
			a = b
		}
		held[a]++
	}
	return held
}

func (n *branches) root(name string) int {
	i, _ := n.c.Node(name)
	return n.sets.Find(i)
}

// cathodeLeads counts the amplifying cathodes by the joined nodes to which they lead.
func (n *branches) cathodeLeads() map[int]int {
	near := n.nearResistances()
	leads := map[int]int{}
	for _, p := range n.c.Set.Parts {
		d, ok := p.Detail.(*netlist.Tube)
		if !ok {
			continue
		}
		for _, pin := range amplifyingCathodes(d.Type) {
			if d.Node(pin) == "" {
				continue
			}
			at := n.root(d.Node(pin))
			for _, node := range append(near[at], at) {
				leads[node]++
			}
		}
	}
	return leads
}

// nearResistances are the joined nodes that one resistor or coil of nearCathode or less leads to.
func (n *branches) nearResistances() map[int][]int {
	near := map[int][]int{}
	join := func(a, b int) {
		if a, b = n.sets.Find(a), n.sets.Find(b); a != b && !slices.Contains(near[a], b) {
			near[a], near[b] = append(near[a], b), append(near[b], a)
		}
	}
	for _, r := range n.resist {
		isCoil := r.part >= 0 && n.c.Set.Parts[r.part].Kind == netlist.KindCoil
		if (isCoil || r.what == resistor || r.what == potentiometer) && r.ohms <= nearCathode {
			join(r.a, r.b)
		}
	}
	for _, s := range n.store {
		if s.coil && s.told && s.ohms <= nearCathode {
			join(s.a, s.b)
		}
	}
	return near
}

// amplifyingCathodes are the pins of a type's cathodes that do not rectify.
func amplifyingCathodes(t *netlist.TubeType) []int {
	pins := slices.Clone(t.Cathodes)
	for _, w := range t.Working {
		pins = append(pins, w.Cathode)
	}
	slices.Sort(pins)
	pins = slices.Compact(pins)
	return slices.DeleteFunc(pins, func(pin int) bool {
		return slices.ContainsFunc(t.Rectifiers, func(s netlist.Section) bool { return s.Cathode == pin })
	})
}
