package setfile

import (
	"slices"

	"coldcheck/netlist"
)

// links are the nodes next to each node, with one part between them that leads, be it a load or a
// safeguard.
type links map[string][]string

// linksOf has all poles and throws closed and counts every insulation as leading. Of a tube only the heater,
// the sections that conduct one way or draw a working current, and the insulation between heater and cathode
// lead anywhere.
func linksOf(s *netlist.Set) links {
	l := links{}
	for _, p := range s.Parts {
		switch d := p.Detail.(type) {
		case *netlist.Plug:
		case *netlist.Switch:
			for _, pole := range d.Poles {
				l.add(pole[0], pole[1])
			}
		case *netlist.Selector:
			for _, deck := range d.Decks {
				for _, throw := range deck.Throws {
					l.add(deck.Common, throw)
				}
			}
		case *netlist.Tube:
			l.addTube(d)
		default:
			for _, t := range p.Terminals {
				l.add(p.Terminals[0].Node, t.Node)
			}
		}
		for _, t := range p.Terminals {
			l.add(p.Frame, t.Node)
		}
	}
	return l
}

func (l links) addTube(d *netlist.Tube) {
	heater := ""
	for _, p := range d.Pins {
		if h := d.Type.Heater; h != nil && h.HasPin(p.Number) {
			l.add(heater, p.Node)
			heater = p.Node
		}
	}
	for _, p := range d.Pins {
		if slices.Contains(d.Type.Cathodes, p.Number) {
			l.add(heater, p.Node)
		}
	}
	for _, s := range slices.Concat(d.Type.Rectifiers, d.Type.Diodes, d.Type.Grids) {
		l.add(d.Node(s.Anode), d.Node(s.Cathode))
	}
	// A section draws where all its pins are wired.
	for _, w := range d.Type.Working {
		if plate, screen, cathode := d.Node(w.Plate), d.Node(w.Screen), d.Node(w.Cathode); w.Screen == 0 || screen != "" && plate != "" {
			l.add(plate, cathode)
			l.add(screen, cathode)
		}
	}
}

// add links two nodes; a node "" is none.
func (l links) add(a, b string) {
	if a != "" && b != "" {
		l[a], l[b] = append(l[a], b), append(l[b], a)
	}
}

// reachedFrom are the nodes to which something leads from some nodes, those themselves among them.
func (l links) reachedFrom(nodes ...string) map[string]bool {
	reached := map[string]bool{}
	for len(nodes) > 0 {
		node := nodes[len(nodes)-1]
		nodes = nodes[:len(nodes)-1]
		if !reached[node] {
			reached[node] = true
			nodes = append(nodes, l[node]...)
		}
	}
	return reached
}
