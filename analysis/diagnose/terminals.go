package diagnose

import (
	"fmt"
	"slices"

	"coldcheck/netlist"
)

// terminal is one end of a part and what it is called.
type terminal struct{ name, node string }

// rewired is a copy of a part with each terminal on the node that move gives. It visits the
// terminals in one order, always the same.
func rewired(p *netlist.Part, move func(k int, name, node string) string) *netlist.Part {
	part, k := *p, 0
	to := func(name, node string) string {
		if node == "" {
			return ""
		}
		k++
		return move(k-1, name, node)
	}
	ends := func(e netlist.Ends) netlist.Ends { return netlist.Ends{to("end 1", e[0]), to("end 2", e[1])} }
	switch d := p.Detail.(type) {
	case *netlist.Plug:
		x := *d
		x.Hot, x.Neutral, x.Earth = to("hot", d.Hot), to("neutral", d.Neutral), to("earth", d.Earth)
		part.Detail = &x
	case *netlist.Switch:
		x := netlist.Switch{}
		for i, e := range d.Poles {
			x.Poles = append(x.Poles, netlist.Ends{to(poleEnd(d, i, 1), e[0]), to(poleEnd(d, i, 2), e[1])})
		}
		part.Detail = &x
	case *netlist.Selector:
		x := *d
		x.Decks = nil
		for _, deck := range d.Decks {
			moved := netlist.Deck{Common: to("common", deck.Common)}
			for i, throw := range deck.Throws {
				moved.Throws = append(moved.Throws, to("throw "+d.Positions[i], throw))
			}
			x.Decks = append(x.Decks, moved)
		}
		part.Detail = &x
	case *netlist.Fuse:
		x := *d
		x.Ends = ends(d.Ends)
		part.Detail = &x
	case *netlist.Wire:
		part.Detail = &netlist.Wire{Ends: ends(d.Ends)}
	case *netlist.Resistor:
		x := *d
		x.Ends = ends(d.Ends)
		part.Detail = &x
	case *netlist.Potentiometer:
		x := *d
		x.Ends = ends(d.Ends)
		x.Wiper = to("wiper", d.Wiper)
		part.Detail = &x
	case *netlist.Capacitor:
		x := *d
		x.Ends = ends(d.Ends)
		part.Detail = &x
	case *netlist.Coil:
		x := *d
		x.Ends = ends(d.Ends)
		part.Detail = &x
	case *netlist.Motor:
		x := *d
		x.Ends = ends(d.Ends)
		part.Detail = &x
	case *netlist.Lamp:
		x := *d
		x.Ends = ends(d.Ends)
		part.Detail = &x
	case *netlist.Transformer:
		x := *d
		x.Windings = slices.Clone(d.Windings)
		for i, w := range d.Windings {
			x.Windings[i].Start, x.Windings[i].End = to(w.Name+" start", w.Start), to(w.Name+" end", w.End)
		}
		part.Detail = &x
	case *netlist.Tube:
		x := *d
		x.Pins = slices.Clone(d.Pins)
		for i, pin := range d.Pins {
			x.Pins[i].Node = to(fmt.Sprintf("pin %d", pin.Number), pin.Node)
		}
		part.Detail = &x
	case *netlist.Rectifier:
		x := *d
		x.Anode, x.Cathode = to("anode", d.Anode), to("cathode", d.Cathode)
		part.Detail = &x
	case *netlist.Battery:
		x := *d
		x.Positive, x.Negative = to("positive", d.Positive), to("negative", d.Negative)
		part.Detail = &x
	case *netlist.Insulation:
		x := *d
		x.Ends = ends(d.Ends)
		part.Detail = &x
	}
	return &part
}

func poleEnd(d *netlist.Switch, pole, end int) string {
	if len(d.Poles) == 1 {
		return fmt.Sprintf("end %d", end)
	}
	return fmt.Sprintf("pole %d end %d", pole+1, end)
}

// terminalsOf lists a part's terminals in the order of rewired.
func terminalsOf(p *netlist.Part) []terminal {
	var all []terminal
	rewired(p, func(_ int, name, node string) string {
		all = append(all, terminal{name, node})
		return node
	})
	return all
}

// withParts is a set with some of its parts in another shape, and parts and a node added. Its
// touch points are the same.
func withParts(s *netlist.Set, change func(*netlist.Part) *netlist.Part, node string, more ...*netlist.Part) *netlist.Set {
	set := *s
	set.Parts = make([]*netlist.Part, 0, len(s.Parts)+len(more))
	for _, p := range s.Parts {
		set.Parts = append(set.Parts, change(p))
	}
	set.Parts = append(set.Parts, more...)
	if node != "" {
		set.Nodes = append(slices.Clone(s.Nodes), &netlist.Node{Name: node})
	}
	return &set
}

// withPart is a set with one part in another shape.
func withPart(s *netlist.Set, old, now *netlist.Part, node string) *netlist.Set {
	return withParts(s, func(p *netlist.Part) *netlist.Part {
		if p == old {
			return now
		}
		return p
	}, node)
}

// freshNode is a name that no node of the set has.
func freshNode(s *netlist.Set, near string) string {
	name := near + ", loose"
	for s.Node(name) != nil {
		name += "'"
	}
	return name
}
