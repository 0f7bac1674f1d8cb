package survey

import (
	"slices"

	"coldcheck/analysis"
	"coldcheck/netlist"
)

// Branch is what stands between two nodes: a part, a piece of one, or several wires side by side.
type Branch struct {
	Parts []string // one, or the wires side by side
	A, B  string   // nodes, as the first path to it came
	Class Class
	Piece string
	Cost  int // safeguards; 0 where current just passes, or nobody vouches for it
	Ohms  float64
	// Reservoir tells a capacitor that holds its voltage while a rectifier conducts, and stands in the way of nothing then.
	Reservoir bool
	First     string // of A and B the part's own first end: a rectifier's anode
	key       branchKey
}

// Class tells channels of one part between the same two nodes apart, whatever state they are in.
type Class int

// The classes.
const (
	Passes Class = iota
	Rectifies
	Capacitance
	Resistance
	Insulates
	Draws // what a tube draws, from plate or screen to cathode
	Hand  // a hand, from an accessible part to earth
)

// Safeguard reports whether the branch is a safeguard, or would be if it were sound.
func (b *Branch) Safeguard() bool {
	return b.Class == Capacitance || b.Class == Resistance || b.Class == Insulates
}

// classOf is the same for a channel and for the short that it becomes.
func classOf(set *netlist.Set, ch analysis.Channel) Class {
	if ch.Piece == analysis.DrawPiece {
		return Draws
	}
	switch ch.Sort {
	case analysis.Rectifying:
		return Rectifies
	case analysis.Capacitive:
		return Capacitance
	case analysis.Resistive:
		return Resistance
	case analysis.Insulating:
		return Insulates
	}
	switch {
	case ch.Kind != "":
		return ClassOfFault(set, ch.Part, ch.Kind)
	case ch.Sort == analysis.Conductor:
		return classOfConductor(set.Part(ch.Part))
	}
	return Passes
}

// classOfConductor tells a part that is meant to conduct from the short of a failed one.
func classOfConductor(p *netlist.Part) Class {
	switch p.Kind {
	case netlist.KindCapacitor:
		return Capacitance
	case netlist.KindResistor, netlist.KindPotentiometer:
		return Resistance
	case netlist.KindRectifier:
		return Rectifies
	case netlist.KindTube, netlist.KindInsulation:
		return Insulates
	}
	return Passes
}

// ClassOfFault is the class of the branch that a failure of a part makes conduct.
func ClassOfFault(set *netlist.Set, part string, kind analysis.FaultKind) Class {
	switch kind {
	case analysis.Stuck:
		return Passes
	case analysis.Shorted:
		switch set.Part(part).Kind {
		case netlist.KindCapacitor:
			return Capacitance
		case netlist.KindResistor, netlist.KindPotentiometer:
			return Resistance
		}
		return Rectifies
	}
	return Insulates
}

// branchKey names a branch. Wires side by side are one.
type branchKey struct {
	part  string
	a, b  string
	class Class
}

// soundChannels are the channels with nothing wrong, in every position of the switches.
func soundChannels(c *analysis.Circuit) map[branchKey]analysis.Channel {
	sound := map[branchKey]analysis.Channel{}
	for _, state := range c.NormalAtRest() {
		if state.Plug != analysis.AsMarked {
			continue
		}
		for _, ch := range slices.Concat(c.Wiring(state).Channels, c.Draws(state)) {
			if key := keyOf(c.Set, ch); sound[key].Part == "" {
				sound[key] = ch
			}
		}
	}
	return sound
}

// keyOf names the branch that a channel is. The tracks of a control are resistances wherever its wiper stands.
func keyOf(set *netlist.Set, ch analysis.Channel) branchKey {
	k := branchKey{ch.Part, ch.A, ch.B, classOf(set, ch)}
	if p := set.Part(ch.Part); p != nil {
		switch p.Kind {
		case netlist.KindWire:
			k.part = ""
		case netlist.KindPotentiometer:
			k.class = Resistance
		}
	}
	if k.a > k.b {
		k.a, k.b = k.b, k.a
	}
	return k
}
