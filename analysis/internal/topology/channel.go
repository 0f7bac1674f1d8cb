package topology

import (
	"slices"

	"math"
	"math/cmplx"

	"coldcheck/analysis/internal/circuit"
	"coldcheck/netlist"
)

// Sort says how a part lets current pass between two of its terminals.
type Sort int

// The sorts of channel.
const (
	Conductor  Sort = iota // wire, whole fuse, closed pole, made throw, anything shorted
	Load                   // resistor under SafeguardOhms, heater, lamp, coil, motor, winding, battery
	Rectifying             // a rectifying section, dry or of a tube
	Capacitive             // a capacitor
	Resistive              // a resistor from SafeguardOhms up
	Insulating             // insulation: a part, a frame, winding to winding, heater to cathode
)

// Channel is one way through a part, between two of its terminals, in one state. Cost is how many
// safeguards it stands for, which is 0 where current just passes.
type Channel struct {
	Part  string
	A, B  string // nodes
	Sort  Sort
	Kind  circuit.FaultKind // of the fault that would make it conduct; "" where current just passes
	Cost  int
	Piece string // which piece of the part: "heater", "primary", "frame"; "" where it is the whole
	// Ohms is the size of its impedance at mains frequency while nothing has failed: 0 for a
	// conductor, +Inf for insulation.
	Ohms float64
	a, b int
}

// Barrier reports whether the channel is a safeguard, or would be if it were sound: current passes
// freely only once it breaks down.
func (ch Channel) Barrier() bool {
	return ch.Sort == Capacitive || ch.Sort == Resistive || ch.Sort == Insulating
}

// Conducts reports whether the channel is a conductor.
func (ch Channel) Conducts() bool { return ch.Sort == Conductor }

// Passes reports whether the channel carries any current while nothing has failed: all but insulation do.
func (ch Channel) Passes() bool { return ch.Sort != Insulating }

// Free reports whether current passes freely: the channel is no Barrier.
func (ch Channel) Free() bool { return !ch.Barrier() }

// Joins reports whether the channel lies between two nodes, by their places, in either order.
func (ch Channel) Joins(a, b int) bool { return ch.a == a && ch.b == b || ch.a == b && ch.b == a }

// Places are its two nodes, by their places.
func (ch Channel) Places() (a, b int) { return ch.a, ch.b }

// StartsAt reports whether the channel's A is a node, by its place.
func (ch Channel) StartsAt(node int) bool { return ch.a == node }

// DrawPiece names what a tube draws, as a piece of it.
const DrawPiece = "plate to cathode"

// Draws lists what the tubes draw in a state, from plate or screen to cathode. No path to a hand is looked
// for through them, but direct current comes by them.
func Draws(c *circuit.Circuit, state circuit.State) []Channel {
	x := &compiler{c: c, state: state}
	for i := range c.Elements {
		e := &c.Elements[i]
		name := c.PartOf(e).Name
		gone := slices.ContainsFunc(state.Faults, func(f *circuit.Fault) bool { return f.Part == name && f.Kind == circuit.Pulled })
		if e.Sort == circuit.Draw && !gone {
			x.add(Channel{Part: name, a: e.A, b: e.B, Sort: Load, Ohms: e.Ohms, Piece: DrawPiece})
		}
	}
	return x.channels
}

// compiler lists the channels of a set in one state.
type compiler struct {
	c        *circuit.Circuit
	state    circuit.State
	gone     map[string]bool         // parts that are open, pulled, or an earth that is lost
	pulled   map[string]bool         // tubes
	shorts   map[*circuit.Fault]bool // the state's faults that are no openings
	whole    map[string]float64      // by part, Ω
	channels []Channel
}

// channelsIn lists the channels of a state, in the order of the file: elements, windings, then what
// may break down or has.
func channelsIn(c *circuit.Circuit, state circuit.State) []Channel {
	x := &compiler{c: c, state: state, gone: map[string]bool{}, pulled: map[string]bool{}, shorts: map[*circuit.Fault]bool{},
		whole: wholeOhms(c, state.Position), channels: make([]Channel, 0, len(c.Elements)+len(c.Faults))}
	for _, f := range state.Faults {
		switch f.Kind {
		case circuit.Open, circuit.Pulled, circuit.EarthLost:
			x.gone[f.Part] = true
			x.pulled[f.Part] = f.Kind == circuit.Pulled
		default:
			x.shorts[f] = true
		}
	}
	for _, fuse := range state.Blown {
		x.gone[fuse] = true
	}
	for i := range c.Elements {
		x.element(&c.Elements[i])
	}
	for _, t := range c.Transformers {
		p := c.Set.Parts[t.Part]
		for k, w := range t.Windings {
			x.add(Channel{Part: p.Name, a: w.A, b: w.B, Sort: Load, Ohms: w.Volts / circuit.MagnetisingAmps, Piece: p.Detail.(*netlist.Transformer).Windings[k].Name})
		}
	}
	for _, f := range c.Faults {
		x.fault(f)
	}
	return x.channels
}

func (x *compiler) add(ch Channel) {
	if ch.a == ch.b {
		return
	}
	ch.A, ch.B = x.c.NodeName(ch.a), x.c.NodeName(ch.b)
	x.channels = append(x.channels, ch)
}

// element adds what current just passes.
func (x *compiler) element(e *circuit.Element) {
	p := x.c.PartOf(e)
	if x.gone[p.Name] && e.Opens {
		return
	}
	ch := Channel{Part: p.Name, a: e.A, b: e.B, Ohms: ohmsOf(x.c, e, x.state.Position)}
	switch e.Sort {
	case circuit.Join, circuit.Link:
		ch.Ohms = 0
	case circuit.Contact:
		if ch.Ohms = 0; !x.c.Made(e, x.state.Position) || x.stuck(e) {
			return
		}
	case circuit.Pole, circuit.Throw:
		if !x.c.Closed(e, x.state.Position) {
			return
		}
	case circuit.Load:
		if !x.load(e, p, &ch) {
			return // its fault stands for it
		}
	case circuit.Capacitor:
		if p.Condition != netlist.Failed {
			return // its fault stands for it
		}
		ch.Sort = Capacitive
	case circuit.Battery:
		ch.Sort = Load
	case circuit.Rectifier:
		ch.Sort, ch.Piece = Rectifying, e.Label
	case circuit.Diode:
		if x.state.Rectifier != circuit.SmallDiodes {
			return
		}
		ch.Sort, ch.Piece = Rectifying, circuit.SmallDiodes
	case circuit.Shunt:
		if x.state.Without {
			return
		}
	case circuit.Draw:
		return // it passes DC alone
	}
	x.add(ch)
}

// load is what a resistance is: something that draws current, or a resistor large enough to be a safeguard. Of such a
// one that is neither a control nor failed its fault is what stands in the graph: then it is false.
func (x *compiler) load(e *circuit.Element, p *netlist.Part, ch *Channel) bool {
	ch.Sort = Load
	if e.Heater {
		ch.Piece = "heater"
	}
	barrier, cost := barrierOf(p)
	if !barrier || x.c.OhmsAt(e, x.state.Position) == circuit.TurnedOhms {
		return true
	}
	if _, control := p.Detail.(*netlist.Potentiometer); !control && p.Condition != netlist.Failed {
		return false
	}
	ch.Sort, ch.Kind, ch.Cost = Resistive, circuit.Shorted, cost
	return true
}

// stuck reports whether a contact's deck stays on another throw.
func (x *compiler) stuck(e *circuit.Element) bool {
	for f := range x.shorts {
		if f.Throw >= 0 && x.c.Elements[f.Throw].SameDeck(e) {
			return true
		}
	}
	return false
}

// fault adds what a fault has made conduct, or the safeguard that it would take.
func (x *compiler) fault(f *circuit.Fault) {
	if f.Kind == circuit.Stuck && x.shorts[f] {
		x.add(Channel{Part: f.Part, a: f.A, b: f.B})
	}
	if !f.Short || x.pulled[f.Part] || x.gone[f.Part] && f.Kind != circuit.InsulationOut {
		return
	}
	ch := Channel{Part: f.Part, a: f.A, b: f.B, Kind: f.Kind, Cost: f.Cost, Ohms: math.Inf(1)}
	if x.shorts[f] {
		ch.Cost, ch.Ohms = 0, circuit.ShortOhms
		x.add(ch)
		return
	}
	if f.Kind == circuit.Shorted {
		ch.Ohms = x.whole[f.Part]
		switch x.c.Set.Part(f.Part).Kind {
		case netlist.KindCapacitor:
			ch.Sort = Capacitive
		case netlist.KindResistor, netlist.KindPotentiometer, netlist.KindThermistor:
			ch.Sort = Resistive
		default:
			return // a rectifier passes as it is
		}
		x.add(ch)
		return
	}
	ch.Sort = Insulating
	if f.Kind == circuit.HeaterCathode {
		ch.Piece = "heater to cathode"
	} else if f.Between != nil {
		ch.Piece = "insulation"
	}
	x.add(ch)
}

// ohmsOf is the size of an element's impedance at mains frequency, its own ohms where it conducts
// nothing then.
func ohmsOf(c *circuit.Circuit, e *circuit.Element, position int) float64 {
	switch e.Sort {
	case circuit.Capacitor, circuit.Load:
		if z, ok := c.Impedance(e, circuit.Blocking, position); ok {
			return cmplx.Abs(z)
		}
	}
	return e.Ohms
}

// wholeOhms is the same for each part, its elements taken in series.
func wholeOhms(c *circuit.Circuit, position int) map[string]float64 {
	ohms := map[string]float64{}
	for i := range c.Elements {
		if e := &c.Elements[i]; e.Sort == circuit.Capacitor || e.Sort == circuit.Load {
			ohms[c.PartOf(e).Name] += ohmsOf(c, e, position)
		}
	}
	return ohms
}

// barrierOf reports whether a resistor, a control or a thermistor is a safeguard, and of what cost.
func barrierOf(p *netlist.Part) (bool, int) {
	ohms := 0.0
	switch d := p.Detail.(type) {
	case *netlist.Resistor:
		ohms = d.InUse()
	case *netlist.Potentiometer:
		ohms = d.Ohms
	case *netlist.Thermistor:
		ohms = d.Hot
	}
	if ohms < circuit.SafeguardOhms {
		return false, 0
	}
	if p.Condition == netlist.Good {
		return true, 1
	}
	return true, 0
}
