package circuit

import (
	"coldcheck/analysis/internal/unionfind"
	"coldcheck/netlist"
)

func (c *Circuit) addTransformer(i int, d *netlist.Transformer) {
	t := Transformer{Part: i}
	for _, w := range d.Windings {
		if !d.Coupled {
			c.addElement(Element{Sort: Load, Part: i, A: c.node(w.Start), B: c.node(w.End), Ohms: WindingOhms})
			continue
		}
		ohms := LowWindingOhms
		if w.Volts >= HighWinding {
			ohms = WindingOhms
		}
		t.Windings = append(t.Windings, Winding{c.node(w.Start), c.node(w.End), w.Volts, ohms})
	}
	if d.Coupled {
		c.Transformers = append(c.Transformers, t)
	}
	groups := windingGroups(d.Windings)
	for v := range d.Windings {
		for w := v + 1; w < len(d.Windings); w++ {
			if !groups.Same(v, w) {
				c.betweenWindings(i, d.Windings[v], d.Windings[w], gradeCost(d.Insulation))
			}
		}
	}
}

// betweenWindings adds the breakdown of either end of the one to either end of the other.
func (c *Circuit) betweenWindings(i int, v, w netlist.Winding, cost int) {
	for _, a := range []string{v.Start, v.End} {
		for _, b := range []string{w.Start, w.End} {
			c.breakdown(i, InsulationOut, a, b, cost, true)
		}
	}
}

// windingGroups puts windings that name a common node, directly or through a third winding, into one
// group: there is no insulation between them.
func windingGroups(windings []netlist.Winding) *unionfind.Sets {
	groups := unionfind.New(len(windings))
	for v := range windings {
		for w := v + 1; w < len(windings); w++ {
			a, b := windings[v], windings[w]
			if a.Start == b.Start || a.Start == b.End || a.End == b.Start || a.End == b.End {
				groups.Union(v, w)
			}
		}
	}
	return groups
}
