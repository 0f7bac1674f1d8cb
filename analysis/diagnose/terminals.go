package diagnose

import (
	"fmt"
	"slices"

	"coldcheck/netlist"
)

// terminal is one end of a part and what it is called.
type terminal struct{ name, node string }

// rewirer puts the terminals of a part on other nodes. It visits them in one order, always the same.
type rewirer struct {
	k    int
	move func(k int, name, node string) string
}

func (r *rewirer) to(name, node string) string {
	if node == "" {
		return ""
	}
	r.k++
	return r.move(r.k-1, name, node)
}

func (r *rewirer) ends(e netlist.Ends) netlist.Ends {
	return netlist.Ends{r.to("end 1", e[0]), r.to("end 2", e[1])}
}

// changed is a copy of a part's detail with something of it changed.
func changed[T any](d *T, change func(*T)) *T {
	x := *d
	change(&x)
	return &x
}

// rewired is a copy of a part with each terminal on the node that move gives.
func rewired(p *netlist.Part, move func(k int, name, node string) string) *netlist.Part {
	part, r := *p, &rewirer{move: move}
	switch d := p.Detail.(type) {
	case *netlist.Plug:
		part.Detail = changed(d, func(x *netlist.Plug) {
			x.Hot, x.Neutral, x.Earth = r.to("hot", d.Hot), r.to("neutral", d.Neutral), r.to("earth", d.Earth)
		})
	case *netlist.Switch:
		part.Detail = r.poles(d)
	case *netlist.Selector:
		part.Detail = r.decks(d)
	case *netlist.Fuse:
		part.Detail = changed(d, func(x *netlist.Fuse) { x.Ends = r.ends(d.Ends) })
	case *netlist.Wire:
		part.Detail = changed(d, func(x *netlist.Wire) { x.Ends = r.ends(d.Ends) })
	case *netlist.Resistor:
		part.Detail = changed(d, func(x *netlist.Resistor) { x.Ends = r.ends(d.Ends) })
	case *netlist.Thermistor:
		part.Detail = changed(d, func(x *netlist.Thermistor) { x.Ends = r.ends(d.Ends) })
	case *netlist.Potentiometer:
		part.Detail = changed(d, func(x *netlist.Potentiometer) { x.Ends, x.Wiper = r.ends(d.Ends), r.to("wiper", d.Wiper) })
	case *netlist.Capacitor:
		part.Detail = changed(d, func(x *netlist.Capacitor) { x.Ends = r.ends(d.Ends) })
	case *netlist.Coil:
		part.Detail = changed(d, func(x *netlist.Coil) { x.Ends = r.ends(d.Ends) })
	case *netlist.Motor:
		part.Detail = changed(d, func(x *netlist.Motor) { x.Ends = r.ends(d.Ends) })
	case *netlist.Lamp:
		part.Detail = changed(d, func(x *netlist.Lamp) { x.Ends = r.ends(d.Ends) })
	case *netlist.Transformer:
		part.Detail = r.windings(d)
	case *netlist.Tube:
		part.Detail = r.pins(d)
	case *netlist.Rectifier:
		part.Detail = changed(d, func(x *netlist.Rectifier) {
			x.Anode, x.Cathode = r.to("anode", d.Anode), r.to("cathode", d.Cathode)
		})
	case *netlist.Battery:
		part.Detail = changed(d, func(x *netlist.Battery) {
			x.Positive, x.Negative = r.to("positive", d.Positive), r.to("negative", d.Negative)
		})
	case *netlist.Insulation:
		part.Detail = changed(d, func(x *netlist.Insulation) { x.Ends = r.ends(d.Ends) })
	}
	return &part
}

func (r *rewirer) poles(d *netlist.Switch) *netlist.Switch {
	x := &netlist.Switch{}
	for i, e := range d.Poles {
		x.Poles = append(x.Poles, netlist.Ends{r.to(poleEnd(d, i, 1), e[0]), r.to(poleEnd(d, i, 2), e[1])})
	}
	return x
}

func (r *rewirer) decks(d *netlist.Selector) *netlist.Selector {
	x := *d
	x.Decks = nil
	for _, deck := range d.Decks {
		moved := netlist.Deck{Common: r.to("common", deck.Common)}
		for i, throw := range deck.Throws {
			moved.Throws = append(moved.Throws, r.to("throw "+d.Positions[i], throw))
		}
		x.Decks = append(x.Decks, moved)
	}
	return &x
}

func (r *rewirer) windings(d *netlist.Transformer) *netlist.Transformer {
	x := *d
	x.Windings = slices.Clone(d.Windings)
	for i, w := range d.Windings {
		x.Windings[i].Start, x.Windings[i].End = r.to(w.Name+" start", w.Start), r.to(w.Name+" end", w.End)
	}
	return &x
}

func (r *rewirer) pins(d *netlist.Tube) *netlist.Tube {
	x := *d
	x.Pins = slices.Clone(d.Pins)
	for i, pin := range d.Pins {
		x.Pins[i].Node = r.to(fmt.Sprintf("pin %d", pin.Number), pin.Node)
	}
	return &x
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
