package analysis

import (
	"math"
	"math/cmplx"
	"slices"
	"sync"

	"coldcheck/netlist"
)

// Sort says how a part lets current pass between two of its terminals.
type Sort int

// The sorts of channel.
const (
	Conductor  Sort = iota // wire, whole fuse, closed pole, made throw, anything shorted
	Load                   // resistor under BarrierOhms, heater, lamp, coil, motor, winding, battery
	Rectifying             // a rectifying section, dry or of a tube
	Capacitive             // a capacitor
	Resistive              // a resistor from BarrierOhms up
	Insulating             // insulation: a part, a frame, winding to winding, heater to cathode
)

// Channel is one way through a part, between two of its terminals, in one state. Cost is how many
// safeguards it stands for, which is 0 where current just passes.
type Channel struct {
	Part  string
	A, B  string // nodes
	Sort  Sort
	Kind  FaultKind // of the fault that would open the barrier; "" where current just passes
	Cost  int
	Piece string // which piece of the part: "heater", "primary", "frame"; "" where it is the whole
	// Ohms is the size of its impedance at mains frequency while nothing has failed: 0 for a
	// conductor, +Inf for insulation.
	Ohms float64
	a, b int
}

// Barrier tells whether the channel is a safeguard, or would be if it were sound: current passes
// freely only once it breaks down.
func (ch Channel) Barrier() bool {
	return ch.Sort == Capacitive || ch.Sort == Resistive || ch.Sort == Insulating
}

// Wiring is the set in one state as a graph: a vertex a node, an edge a channel.
type Wiring struct {
	c        *Circuit
	State    State
	Channels []Channel
	*layout
}

// layout is what the wirings share of states that differ in the plug's way alone.
type layout struct {
	channels []Channel
	graph    *channelGraph
	groups   func() []int // by node, the first node that conductors alone join to it
	guard    sync.Mutex   // of weights
	weights  map[string][]float64
}

// layoutKey tells the layouts of states without faults apart.
type layoutKey struct {
	combo   int
	without bool
}

// Wiring lays out the channels of a state. Those of states without faults are kept.
func (c *Circuit) Wiring(state State) *Wiring {
	if len(state.Faults) > 0 {
		l := c.channelsIn(state)
		return &Wiring{c: c, State: state, Channels: l.channels, layout: l}
	}
	key := layoutKey{state.combo, state.Without && c.hasShort}
	c.guard.Lock()
	l := c.layouts[key]
	c.guard.Unlock()
	if l == nil {
		l = c.channelsIn(state)
		c.guard.Lock()
		if c.layouts == nil {
			c.layouts = map[layoutKey]*layout{}
		}
		c.layouts[key] = l
		c.guard.Unlock()
	}
	return &Wiring{c: c, State: state, Channels: l.channels, layout: l}
}

func (c *Circuit) channelsIn(state State) *layout {
	l := &layout{channels: make([]Channel, 0, len(c.elements)+len(c.Faults))}
	gone, pulled := map[string]bool{}, map[string]bool{}
	shorts := map[*Fault]bool{}
	for _, f := range state.Faults {
		switch f.Kind {
		case Open, Pulled, EarthLost:
			gone[f.Part] = true
			pulled[f.Part] = f.Kind == Pulled
		default:
			shorts[f] = true
		}
	}
	add := func(ch Channel) {
		if ch.a == ch.b {
			return
		}
		ch.A, ch.B = c.Set.Nodes[ch.a].Name, c.Set.Nodes[ch.b].Name
		l.channels = append(l.channels, ch)
	}
	for i := range c.elements {
		e := &c.elements[i]
		p := c.Set.Parts[e.part]
		if gone[p.Name] && e.opens {
			continue
		}
		ch := Channel{Part: p.Name, a: e.a, b: e.b, Ohms: c.ohmsOf(e)}
		switch e.sort {
		case join, link:
			ch.Ohms = 0
		case pole, throw:
			if !c.joins(e, state.combo) {
				continue
			}
		case load:
			ch.Sort = Load
			if e.heater {
				ch.Piece = "heater"
			}
			if barrier, cost := c.barrierOf(p); barrier {
				if _, whole := p.Detail.(*netlist.Resistor); whole && p.Condition != netlist.Failed {
					continue // its fault stands for it
				}
				ch.Sort, ch.Kind, ch.Cost = Resistive, Shorted, cost
			}
		case capacitor:
			if p.Condition != netlist.Failed {
				continue
			}
			ch.Sort = Capacitive
		case battery:
			ch.Sort = Load
		case rectifier:
			ch.Sort, ch.Piece = Rectifying, e.label
		case shorted:
			if state.Without {
				continue
			}
		}
		add(ch)
	}
	for _, t := range c.coupled {
		p := c.Set.Parts[t.part]
		for k, x := range t.windings {
			add(Channel{Part: p.Name, a: x.a, b: x.b, Sort: Load, Ohms: x.volts / MagnetisingAmps, Piece: p.Detail.(*netlist.Transformer).Windings[k].Name})
		}
	}
	for _, f := range c.Faults {
		if f.Kind == Stuck && shorts[f] {
			add(Channel{Part: f.Part, a: f.a, b: f.b})
		}
		if !f.short || pulled[f.Part] || gone[f.Part] && f.Kind != InsulationOut {
			continue
		}
		ch := Channel{Part: f.Part, a: f.a, b: f.b, Kind: f.Kind, Cost: f.Cost, Ohms: math.Inf(1)}
		if shorts[f] {
			ch.Cost, ch.Ohms = 0, ShortOhms
			add(ch)
			continue
		}
		switch f.Kind {
		case Shorted:
			ch.Ohms = c.whole[f.Part]
			switch c.Set.Part(f.Part).Kind {
			case netlist.KindCapacitor:
				ch.Sort = Capacitive
			case netlist.KindResistor, netlist.KindPotentiometer:
				ch.Sort = Resistive
			default:
				continue // a rectifier passes as it is
			}
		default:
			ch.Sort = Insulating
			if f.Kind == HeaterCathode {
				ch.Piece = "heater to cathode"
			} else if f.Between != nil {
				ch.Piece = "insulation"
			}
		}
		add(ch)
	}
	l.graph = newChannelGraph(len(c.Set.Nodes), l.channels)
	l.groups = sync.OnceValue(func() []int {
		return components(l.graph, func(k int) bool { return l.channels[k].Sort == Conductor })
	})
	return l
}

// ohmsOf is the size of an element's impedance at mains frequency.
func (c *Circuit) ohmsOf(e *element) float64 {
	switch e.sort {
	case capacitor:
		y := complex(0, c.omega*e.farads)
		if e.leak > 0 {
			y += complex(1/e.leak, 0)
		}
		return 1 / cmplx.Abs(y)
	case load:
		return cmplx.Abs(complex(e.ohms, c.omega*e.henrys))
	}
	return e.ohms
}

// wholeOhms is the same for each part, its elements taken in series.
func (c *Circuit) wholeOhms() map[string]float64 {
	ohms := map[string]float64{}
	for i := range c.elements {
		if e := &c.elements[i]; e.sort == capacitor || e.sort == load {
			ohms[c.Set.Parts[e.part].Name] += c.ohmsOf(e)
		}
	}
	return ohms
}

// barrierOf tells whether a resistor or a potentiometer is a safeguard, and of what cost.
func (c *Circuit) barrierOf(p *netlist.Part) (bool, int) {
	ohms := 0.0
	switch d := p.Detail.(type) {
	case *netlist.Resistor:
		ohms = d.InUse()
	case *netlist.Potentiometer:
		ohms = d.Ohms
	}
	if ohms < BarrierOhms {
		return false, 0
	}
	return true, flag(p.Condition == netlist.Good)
}

// Blades are the nodes of the hot and the neutral side of the supply in a plug way.
func (c *Circuit) Blades(way Way) (hot, neutral string) {
	if way == Reversed {
		return c.plug.Neutral, c.plug.Hot
	}
	return c.plug.Hot, c.plug.Neutral
}

// Joined tells whether conductors alone join two nodes in the state.
func (w *Wiring) Joined(a, b string) bool {
	i, ok := w.c.index[a]
	j, also := w.c.index[b]
	return ok && also && w.groups()[i] == w.groups()[j]
}

// Group lists the nodes that conductors alone join to a node, itself among them, in the order of
// the file.
func (w *Wiring) Group(node string) []string {
	i, ok := w.c.index[node]
	if !ok {
		return nil
	}
	var names []string
	groups := w.groups()
	for j, g := range groups {
		if g == groups[i] {
			names = append(names, w.c.Set.Nodes[j].Name)
		}
	}
	return names
}

// Groups gives each node a number, the same for those that conductors alone join: that of the first
// of them in the order of the file.
func (w *Wiring) Groups() map[string]int {
	groups := make(map[string]int, len(w.c.Set.Nodes))
	for i, g := range w.groups() {
		groups[w.c.Set.Nodes[i].Name] = g
	}
	return groups
}

// Reached lists, in the order of the file, the nodes that channels let through by pass reach from
// a node, itself among them, without entering the nodes to avoid.
func (w *Wiring) Reached(from string, avoid []string, pass func(Channel) bool) []string {
	return w.ReachedFrom([]string{from}, avoid, pass)
}

// ReachedFrom is Reached from any of several nodes.
func (w *Wiring) ReachedFrom(from []string, avoid []string, pass func(Channel) bool) []string {
	var starts []int
	for _, name := range from {
		if start, ok := w.c.index[name]; ok {
			starts = append(starts, start)
		}
	}
	reached := w.graph.reach(starts, w.blocked(avoid), func(k int) bool { return pass(w.Channels[k]) })
	var names []string
	for i, yes := range reached {
		if yes {
			names = append(names, w.c.Set.Nodes[i].Name)
		}
	}
	return names
}

func (w *Wiring) blocked(avoid []string) []bool {
	blocked := make([]bool, len(w.c.Set.Nodes))
	for _, name := range avoid {
		if i, ok := w.c.index[name]; ok {
			blocked[i] = true
		}
	}
	return blocked
}

// Ends lists the nodes at which a path from the hot side ends without going on: the other blade
// and what conductors join to it, unless the neutral is lost, and every earth.
func (w *Wiring) Ends() []string {
	_, neutral := w.c.Blades(w.State.Plug)
	var ends []string
	if !w.State.Has(NeutralLost) {
		ends = w.Group(neutral)
	}
	if w.c.plug.Earth != "" && !slices.ContainsFunc(w.State.Faults, func(f *Fault) bool { return f.Part == SupplyName && f.Kind == EarthLost }) {
		ends = append(ends, w.Group(w.c.plug.Earth)...)
	}
	ends = append(ends, w.Group(netlist.BuildingEarth)...)
	return ends
}
