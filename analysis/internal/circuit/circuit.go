package circuit

import (
	"fmt"
	"math"
	"math/cmplx"

	"coldcheck/analysis/internal/unionfind"
	"coldcheck/netlist"
)

// TouchPoint is a touch point with its guard, if it has one.
type TouchPoint struct {
	*netlist.Node
	GuardFault *Fault // nil where the point is bare
	Index      int    // of the node
}

// GuardCost is how many safeguards the guard stands for, 0 where the point is bare.
func (p *TouchPoint) GuardCost() int {
	if p.GuardFault == nil {
		return 0
	}
	return p.GuardFault.Cost
}

// Bench is what the set is plugged into, and what is clipped to it.
type Bench struct {
	Isolated bool     // an isolating transformer between outlet and plug
	Earthed  []string // nodes tied to earth by an instrument's lead
}

// Circuit is a set made ready for analysis. It does not change once it is made, so that many
// goroutines may use it.
type Circuit struct {
	Set      *netlist.Set
	Bench    Bench
	Switches []Switch
	Controls []Control
	Points   []TouchPoint
	// Faults are all faults of parts and supply, in the order of the file; guards are with the
	// points.
	Faults []*Fault
	// Rectifiers are the names of those that can be taken as conducting.
	Rectifiers []string
	// Positions are all combinations of the positions of switches and controls.
	Positions []Position

	Plug         *netlist.Plug
	Elements     []Element
	Transformers []Transformer
	Sections     []int   // the elements that are Rectifiers, in the same order
	Diodes       []int   // the elements that are small diodes
	Omega        float64 // rad/s
	HasFailed    bool    // some part is stated as failed, and shorted for it
	HasSources   bool    // rectifiers or batteries: the set has a DC side

	index    map[string]int
	known    map[faultKey]*Fault
	faultsOf map[string][]*Fault // by part
}

// New makes a set ready on a bench. It fails only where the bench names a node that is not there.
func New(set *netlist.Set, bench Bench) (*Circuit, error) {
	c := &Circuit{Set: set, Bench: bench, Omega: omegaOf(set.Hertz),
		index: map[string]int{}, known: map[faultKey]*Fault{}, faultsOf: map[string][]*Fault{}}
	for i, n := range set.Nodes {
		c.index[n.Name] = i
	}
	for _, name := range bench.Earthed {
		if _, ok := c.index[name]; !ok {
			return nil, &UnknownNode{Name: name}
		}
	}
	for i, p := range set.Parts {
		c.addPart(i, p)
	}
	c.addNeutralLost()
	if c.Plug.Earth != "" {
		c.addFault(&Fault{Part: SupplyName, Kind: EarthLost, Cost: 1})
	}
	for _, n := range set.TouchPoints() {
		c.Points = append(c.Points, TouchPoint{Node: n, GuardFault: guardFault(n), Index: c.index[n.Name]})
	}
	c.Positions = positions(c.Switches, c.Controls)
	return c, nil
}

// UnknownNode is the error of a bench that names a node that the set does not have.
type UnknownNode struct{ Name string }

func (e *UnknownNode) Error() string { return fmt.Sprintf("no node %q in the set", e.Name) }

// Node is a node's place in Set.Nodes; ok is false for a name that is none.
func (c *Circuit) Node(name string) (i int, ok bool) {
	i, ok = c.index[name]
	return i, ok
}

// node is that of a node which the set is known to have.
func (c *Circuit) node(name string) int { return c.index[name] }

// NodeName is the name of a node by its place.
func (c *Circuit) NodeName(i int) string { return c.Set.Nodes[i].Name }

// PartOf is the part of which an element is a piece.
func (c *Circuit) PartOf(e *Element) *netlist.Part { return c.Set.Parts[e.Part] }

// Blades are the nodes of the hot and the neutral side of the supply in a plug polarity.
func (c *Circuit) Blades(plug Polarity) (hot, neutral string) {
	if plug == Reversed {
		return c.Plug.Neutral, c.Plug.Hot
	}
	return c.Plug.Hot, c.Plug.Neutral
}

// Bare lists the touch points that nothing keeps fingers off: no guard, or an unverified one.
func (c *Circuit) Bare() []*TouchPoint {
	var bare []*TouchPoint
	for k := range c.Points {
		if p := &c.Points[k]; p.GuardCost() == 0 {
			bare = append(bare, p)
		}
	}
	return bare
}

// Closed reports whether an element merges its nodes in one of Positions.
func (c *Circuit) Closed(e *Element, position int) bool {
	return e.Sort == Join || (e.Sort == Pole || e.Sort == Throw) && c.standsAt(e, position)
}

// standsAt reports whether the switch of a pole, a throw or a contact stands where that is made.
func (c *Circuit) standsAt(e *Element, position int) bool {
	for i, s := range c.Switches {
		if s.part != e.Part {
			continue
		}
		at := c.Positions[position].Settings[i].At
		if e.Sort == Pole {
			return at == s.Positions[0]
		}
		for k, name := range s.Positions {
			if name == at {
				return s.throws[k] == e.poleOrThrow
			}
		}
	}
	return false
}

// Joined are the nodes that conductors join in one of Positions: wires, closed poles and made
// throws, and whole fuses where fuses is true.
func (c *Circuit) Joined(position int, fuses bool) *unionfind.Sets {
	sets := unionfind.New(len(c.Set.Nodes))
	for i := range c.Elements {
		if e := &c.Elements[i]; c.Closed(e, position) || e.Sort == Contact && c.Made(e, position) || fuses && e.Sort == Link {
			sets.Union(e.A, e.B)
		}
	}
	return sets
}

// Merged are the nodes that conductors make one in one of Positions, whatever fails.
func (c *Circuit) Merged(position int) *unionfind.Sets {
	sets := unionfind.New(len(c.Set.Nodes))
	for i := range c.Elements {
		if e := &c.Elements[i]; c.Closed(e, position) {
			sets.Union(e.A, e.B)
		}
	}
	return sets
}

// Floating reports whether neither side of the supply is earthed: an isolating transformer at the
// bench, or mains of which nothing is.
func (c *Circuit) Floating() bool { return c.Bench.Isolated || c.Earthed() == netlist.EarthedNowhere }

// Earthed is what of the mains is earthed, as the bench has it: an isolating transformer stands in for
// any mains.
func (c *Circuit) Earthed() string {
	if c.Bench.Isolated || c.Set.Earthed == "" {
		return netlist.EarthedNeutral
	}
	return c.Set.Earthed
}

// BothHot reports whether both legs of the line are hot: the mains are earthed at neither.
func (c *Circuit) BothHot() bool { return c.Earthed() != netlist.EarthedNeutral }

// Supply are the volts behind the hot and the neutral side of the supply, rms.
func (c *Circuit) Supply() (hot, neutral complex128) {
	volts := complex(c.Set.Volts, 0)
	switch c.Earthed() {
	case netlist.EarthedMidpoint:
		return volts / 2, -volts / 2
	case netlist.EarthedStar: // two lines of a three-phase network, the hot one leading by 120°
		phase := volts / complex(math.Sqrt(3), 0)
		return phase, phase * cmplx.Exp(-2i*math.Pi/3)
	}
	return volts, 0
}

// TakenOut reports whether one of the faults takes an element out.
func (c *Circuit) TakenOut(e *Element, faults []*Fault) bool {
	if !e.Opens {
		return false
	}
	name := c.PartOf(e).Name
	for _, f := range faults {
		if f.Part == name && (f.Kind == Open || f.Kind == Pulled || f.Kind == EarthLost) {
			return true
		}
	}
	return false
}
