package diagnose

import (
	"slices"

	"coldcheck/analysis/internal/unionfind"
	"coldcheck/netlist"
)

// variant is a set wired otherwise than the file says.
type variant struct {
	Explanation
	set *netlist.Set
}

// variants lists the ways in which a set may be wired otherwise by one mistake: a switch in the
// other leg, two ends of a part swapped, a connection missing, another tube in a socket; and what the file states
// as failed or leaking being sound.
func variants(s *netlist.Set) []variant {
	var all []variant
	for _, p := range s.Parts {
		all = append(all, moved(s, p)...)
		all = append(all, swapped(s, p)...)
		all = append(all, loose(s, p)...)
		all = append(all, sound(s, p)...)
		all = append(all, wrongTypes(s, p)...)
	}
	return all
}

// moved puts a switch of one pole from its leg of the line into the other, right behind the plug.
func moved(s *netlist.Set, p *netlist.Part) []variant {
	d, ok := p.Detail.(*netlist.Switch)
	if !ok || len(d.Poles) != 1 {
		return nil
	}
	_, plug := s.Plug()
	ends := d.Poles[0]
	atHot, atNeutral := false, false
	for _, end := range ends {
		atHot = atHot || leads(s, p, end, plug.Hot)
		atNeutral = atNeutral || leads(s, p, end, plug.Neutral)
	}
	if atHot == atNeutral {
		return nil
	}
	other := plug.Hot
	if atHot {
		other = plug.Neutral
	}
	set, blade, behind := splitBlade(s, other)
	old := *p
	old.Detail = &netlist.Switch{Poles: []netlist.Ends{{blade, behind}}}
	bridge := &netlist.Part{Name: p.Name + " bridged", Kind: netlist.KindWire, Condition: netlist.Good}
	after := set.Parts[slices.Index(s.Parts, p)].Detail.(*netlist.Switch).Poles[0]
	bridge.Detail = &netlist.Wire{Ends: after}
	set.Parts[slices.Index(s.Parts, p)] = &old
	set.Parts = append(set.Parts, bridge)
	return []variant{{Explanation{Kind: SwitchMoved, Part: p.Name, Nodes: [2]string{other}}, set}}
}

// leads reports whether wires, fuses and other switches lead from a node to another.
func leads(s *netlist.Set, but *netlist.Part, from, to string) bool {
	place := map[string]int{}
	for i, n := range s.Nodes {
		place[n.Name] = i
	}
	joined := unionfind.New(len(s.Nodes))
	join := func(e netlist.Ends) { joined.Union(place[e[0]], place[e[1]]) }
	for _, p := range s.Parts {
		if p == but {
			continue
		}
		switch d := p.Detail.(type) {
		case *netlist.Wire:
			join(d.Ends)
		case *netlist.Fuse:
			join(d.Ends)
		case *netlist.Switch:
			for _, pole := range d.Poles {
				join(pole)
			}
		}
	}
	return joined.Same(place[from], place[to])
}

// splitBlade parts one blade of the plug from what is wired to it. The blade keeps the node's name,
// for that is where a meter is put, unless the node is metal that a hand can reach.
func splitBlade(s *netlist.Set, node string) (set *netlist.Set, blade, behind string) {
	fresh := freshNode(s, node)
	blade, behind = node, fresh
	if s.Node(node) != nil && s.Node(node).Touch != "" {
		blade, behind = fresh, node
	}
	set = withParts(s, func(p *netlist.Part) *netlist.Part {
		to := behind
		if p.Kind == netlist.KindPlug {
			to = blade
		}
		part := rewired(p, func(_ int, _, at string) string {
			if at == node {
				return to
			}
			return at
		})
		if part.Frame == node {
			part.Frame = behind
		}
		return part
	}, fresh)
	return set, blade, behind
}

// swapped exchanges two ends of a part, where that makes a difference.
func swapped(s *netlist.Set, p *netlist.Part) []variant {
	ends := terminalsOf(p)
	var all []variant
	for _, pair := range swappable(p, ends) {
		i, j := pair[0], pair[1]
		if ends[i].node == ends[j].node {
			continue
		}
		now := rewired(p, func(k int, _, node string) string {
			switch k {
			case i:
				return ends[j].node
			case j:
				return ends[i].node
			}
			return node
		})
		all = append(all, variant{Explanation{Kind: EndsSwapped, Part: p.Name, Terminals: []string{ends[i].name, ends[j].name}}, withPart(s, p, now, "")})
	}
	return all
}

// swappable lists the pairs of terminals whose exchange makes a difference.
func swappable(p *netlist.Part, ends []terminal) [][2]int {
	all := func(which []int) [][2]int {
		var pairs [][2]int
		for i := range which {
			for j := i + 1; j < len(which); j++ {
				pairs = append(pairs, [2]int{which[i], which[j]})
			}
		}
		return pairs
	}
	span := func(from, to int) []int {
		var which []int
		for k := from; k < to; k++ {
			which = append(which, k)
		}
		return which
	}
	switch d := p.Detail.(type) {
	case *netlist.Rectifier, *netlist.Battery:
		return [][2]int{{0, 1}}
	case *netlist.Potentiometer:
		if d.Wiper != "" {
			return [][2]int{{0, 2}, {1, 2}}
		}
	case *netlist.Switch:
		var pairs [][2]int
		for k := 1; k < len(d.Poles); k++ {
			pairs = append(pairs, [2]int{2*k - 1, 2*k + 1}, [2]int{2*k - 1, 2 * k})
		}
		return pairs
	case *netlist.Selector:
		if len(d.Decks) == 1 {
			return all(span(0, len(ends)))
		}
	case *netlist.Transformer:
		var pairs [][2]int
		for k := range d.Windings {
			if d.Coupled {
				pairs = append(pairs, [2]int{2 * k, 2*k + 1})
			}
		}
		return pairs
	case *netlist.Tube:
		return all(workingPins(d))
	}
	return nil
}

// workingPins are the pins, by their place, through which a tube carries current from the line:
// heater, tap, the anodes and cathodes of rectifying sections.
func workingPins(d *netlist.Tube) []int {
	var numbers []int
	if h := d.Type.Heater; h != nil {
		numbers = append(numbers, h.Pins[0], h.Pins[1])
		if h.Tap != nil {
			numbers = append(numbers, h.Tap.Pin)
		}
	}
	for _, s := range d.Type.Rectifiers {
		numbers = append(numbers, s.Anode, s.Cathode)
	}
	var places []int
	k := 0
	for _, pin := range d.Pins {
		if pin.Node == "" {
			continue
		}
		if slices.Contains(numbers, pin.Number) {
			places = append(places, k)
		}
		k++
	}
	return places
}

// loose takes one connection of a part off, where no fault does the same.
func loose(s *netlist.Set, p *netlist.Part) []variant {
	var all []variant
	off := func(k int, name string) {
		at := terminalsOf(p)[k].node
		e := Explanation{Kind: ConnectionOff, Part: p.Name, Nodes: [2]string{at}}
		if name != "" {
			e.Terminals = []string{name}
		}
		all = append(all, variant{e, endOff(s, p, k)})
	}
	ends := terminalsOf(p)
	switch d := p.Detail.(type) {
	case *netlist.Plug:
		for _, node := range []string{d.Hot, d.Neutral} {
			set, _, _ := splitBlade(s, node)
			all = append(all, variant{Explanation{Kind: ConnectionOff, Part: p.Name, Terminals: []string{plugSide(d, node)}, Nodes: [2]string{node}}, set})
		}
		if d.Earth != "" {
			off(2, "earth")
		}
	case *netlist.Wire:
		if d.Ends[0] != netlist.BuildingEarth && d.Ends[1] != netlist.BuildingEarth {
			off(0, "")
		}
	case *netlist.Capacitor, *netlist.Rectifier, *netlist.Battery:
		off(0, "")
	case *netlist.Switch:
		for k := range d.Poles {
			name := ""
			if len(d.Poles) > 1 {
				name = ends[2*k].name
			}
			off(2*k, name)
		}
	case *netlist.Transformer:
		for k := range d.Windings {
			off(2*k, ends[2*k].name)
		}
	case *netlist.Selector, *netlist.Potentiometer:
		for k := range ends {
			off(k, ends[k].name)
		}
	case *netlist.Tube:
		for _, k := range workingPins(d) {
			off(k, ends[k].name)
		}
	}
	return all
}

// endOff is a set with one end of a part joined to nothing.
func endOff(s *netlist.Set, p *netlist.Part, k int) *netlist.Set {
	fresh := freshNode(s, terminalsOf(p)[k].node)
	now := rewired(p, func(i int, _, node string) string {
		if i == k {
			return fresh
		}
		return node
	})
	return withPart(s, p, now, fresh)
}

func plugSide(d *netlist.Plug, node string) string {
	if node == d.Hot {
		return "hot"
	}
	return "neutral"
}

// sound takes back what the file states of a part's insulation.
func sound(s *netlist.Set, p *netlist.Part) []variant {
	now := *p
	changed := false
	if p.Condition == netlist.Failed {
		now.Condition, changed = netlist.Good, true
	}
	if c, ok := p.Detail.(*netlist.Capacitor); ok && c.LeakOhms > 0 {
		whole := *c
		whole.LeakOhms = 0
		now.Detail, changed = &whole, true
	}
	if !changed {
		return nil
	}
	return []variant{{Explanation{Kind: StatedAbsent, Part: p.Name}, withPart(s, p, &now, "")}}
}
