package lineside

import (
	"coldcheck/analysis"
	"coldcheck/netlist"
)

// HangingAhead lists the parts that draw current from a conductor ahead of every switch.
func (s *Side) HangingAhead(l *Conductor) []string { return s.hanging(l, l.ahead) }

// HangingUnfused lists the parts that draw current from a conductor ahead of every switch and every fuse.
func (s *Side) HangingUnfused(l *Conductor) []string { return s.hanging(l, s.aheadOfFuses(l)) }

// aheadOfFuses are the nodes that the blade reaches through wires and voltage plugs, before any switch and
// any fuse.
func (s *Side) aheadOfFuses(l *Conductor) map[string]bool {
	return setOf(s.rest[0].Reached(l.Blade, nil, func(ch analysis.Channel) bool { return s.beforeSwitch(ch) && !s.isFuse(ch.Part) }))
}

// beforeSwitch reports whether a channel is a conductor that no one switches in use: a wire, a fuse,
// the throw of a voltage plug, anything shorted.
func (s *Side) beforeSwitch(ch analysis.Channel) bool {
	if !ch.Conducts() {
		return false
	}
	switch d := s.circuit.Set.Part(ch.Part).Detail.(type) {
	case *netlist.Switch:
		return false
	case *netlist.Selector:
		return d.Fixed != "" || len(d.Positions) == 1
	}
	return true
}

// hanging lists the parts that draw current from some nodes joined to the conductor's blade: loads,
// rectifiers, capacitors, by which current can go on to the other blade, to an earth or to a hand.
func (s *Side) hanging(l *Conductor, nodes map[string]bool) []string {
	if nodes[l.Other.Blade] {
		return nil
	}
	set := s.circuit.Set
	var avoid []string
	for _, n := range set.Nodes {
		if nodes[n.Name] {
			avoid = append(avoid, n.Name)
		}
	}
	found := map[string]bool{}
	for _, w := range s.rest {
		goal := setOf(w.ReachedFrom(s.ends(l.Other), avoid, analysis.Channel.Passes))
		for _, ch := range w.Channels {
			draws := ch.Sort == analysis.Load || ch.Sort == analysis.Rectifying || ch.Sort == analysis.Capacitive
			if draws && nodes[ch.A] != nodes[ch.B] && (goal[ch.A] || goal[ch.B]) {
				found[ch.Part] = true
			}
		}
	}
	return inOrder(set, found)
}

// ends are the nodes where current from the other conductor may go: this one's blade, every earth,
// every hand.
func (s *Side) ends(l *Conductor) []string {
	set := s.circuit.Set
	_, plug := set.Plug()
	ends := []string{l.Blade}
	if plug.Earth != "" {
		ends = append(ends, plug.Earth)
	}
	if set.Node(netlist.BuildingEarth) != nil {
		ends = append(ends, netlist.BuildingEarth)
	}
	for _, n := range set.TouchPoints() {
		ends = append(ends, n.Name)
	}
	return ends
}

// inOrder gives names of parts in the order of the file.
func inOrder(set *netlist.Set, names map[string]bool) []string {
	var parts []string
	for _, p := range set.Parts {
		if names[p.Name] {
			parts = append(parts, p.Name)
		}
	}
	return parts
}
