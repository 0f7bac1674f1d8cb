package setfile

import (
	"slices"

	"coldcheck/netlist"
)

// reach joins nodes between which something leads, be it a load or a safeguard.
type reach struct{ parent map[string]string }

// newReach joins the nodes of every part: all poles and throws closed, every insulation counted as
// a way. Of a tube only the heater, the rectifying sections and the insulation between heater and
// cathode lead anywhere; its grids and plates do not.
func newReach(s *netlist.Set) *reach {
	r := &reach{map[string]string{}}
	for _, p := range s.Parts {
		switch d := p.Detail.(type) {
		case *netlist.Plug:
		case *netlist.Switch:
			for _, pole := range d.Poles {
				r.join(pole[0], pole[1])
			}
		case *netlist.Selector:
			for _, deck := range d.Decks {
				for _, throw := range deck.Throws {
					r.join(deck.Common, throw)
				}
			}
		case *netlist.Tube:
			r.joinTube(d)
		default:
			for _, t := range p.Terminals {
				r.join(p.Terminals[0].Node, t.Node)
			}
		}
		for _, t := range p.Terminals {
			r.join(p.Frame, t.Node)
		}
	}
	return r
}

func (r *reach) joinTube(d *netlist.Tube) {
	heater := ""
	for _, p := range d.Pins {
		if h := d.Type.Heater; h != nil && h.HasPin(p.Number) {
			r.join(heater, p.Node)
			heater = p.Node
		}
	}
	for _, p := range d.Pins {
		if slices.Contains(d.Type.Cathodes, p.Number) {
			r.join(heater, p.Node)
		}
	}
	for _, s := range d.Type.Rectifiers {
		r.join(d.Node(s.Anode), d.Node(s.Cathode))
	}
}

func (r *reach) root(node string) string {
	for r.parent[node] != "" && r.parent[node] != node {
		next := r.parent[node]
		if r.parent[next] != "" {
			r.parent[node] = r.parent[next]
		}
		node = next
	}
	return node
}

// join joins two nodes; a node "" is none.
func (r *reach) join(a, b string) {
	if a == "" || b == "" {
		return
	}
	if x, y := r.root(a), r.root(b); x != y {
		r.parent[x] = y
	}
}

func (r *reach) joined(a, b string) bool { return r.root(a) == r.root(b) }
