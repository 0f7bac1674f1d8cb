package nodal

import (
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
	blown      []int // elements: fuses that a short has opened
}

// earth is the place of earth among the nodes of a group, the floating supply's own terminal the next.
func (n *Network) earth() int { return len(n.Circuit.Set.Nodes) }

// groups finds the groups of a state.
func (n *Network) groups(x groupOf) *unionfind.Sets {
	c := n.Circuit
	sets := unionfind.New(n.earth() + 2)
	gone := n.takenOut(x)
	for i := range c.Elements {
		if e := &c.Elements[i]; !gone[i] && n.joins(e, i, x) {
			sets.Union(e.A, e.B)
		}
	}
	for _, t := range c.Transformers {
		for _, w := range t.Windings {
			sets.Union(w.A, w.B)
		}
	}
	for _, f := range x.faults {
		if f.Short || f.Kind == circuit.Stuck {
			sets.Union(f.A, f.B)
		}
	}
	n.joinSupply(sets, x)
	return sets
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

// takenOut are the elements that faults and blown fuses take out.
func (n *Network) takenOut(x groupOf) []bool {
	gone := make([]bool, len(n.element))
	for _, f := range x.faults {
		for _, i := range n.takes[f.Index] {
			gone[i] = true
		}
		if f.Throw >= 0 {
			if own := n.ownContact(f, x.position); own >= 0 {
				gone[own] = true
			}
		}
	}
	for _, i := range x.blown {
		gone[i] = true
	}
	return gone
}

// joinSupply joins what the supply, the earth contact, the building's earth and clips join. A floating
// supply's stray capacitance leads to earth at AC, on the hot side at the blade, also while that side
// is open.
func (n *Network) joinSupply(sets *unionfind.Sets, x groupOf) {
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
			sets.Union(i, common)
		}
		if c.Floating() && !x.mode.DC() && k == x.plug.HotBlade() {
			sets.Union(i, earth)
			sets.Union(common, earth)
		}
	}
	if i, ok := c.Node(c.Plug.Earth); ok && c.Plug.Earth != "" && !contactLost {
		sets.Union(i, earth)
	}
	if i, ok := c.Node(netlist.BuildingEarth); ok {
		sets.Union(i, earth)
	}
	for _, name := range c.Bench.Earthed {
		i, _ := c.Node(name)
		sets.Union(i, earth)
	}
}
