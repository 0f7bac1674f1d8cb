package circuit

import (
	"fmt"

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
	Controls []Control
	Points   []TouchPoint
	// Faults are all faults of parts and supply, in the order of the file; guards are with the
	// points.
	Faults []*Fault
	// Rectifiers are the names of those that can be taken as conducting.
	Rectifiers []string
	// Positions are all combinations of the controls' positions.
	Positions [][]Setting

	Plug         *netlist.Plug
	Elements     []Element
	Transformers []Transformer
	Sections     []int   // the elements that are Rectifiers, in the same order
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
	c.addFault(&Fault{Part: SupplyName, Kind: NeutralLost, Cost: 1})
	if c.Plug.Earth != "" {
		c.addFault(&Fault{Part: SupplyName, Kind: EarthLost, Cost: 1})
	}
	for _, n := range set.TouchPoints() {
		c.Points = append(c.Points, TouchPoint{Node: n, GuardFault: guardFault(n), Index: c.index[n.Name]})
	}
	c.Positions = combinations(c.Controls)
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
	switch e.Sort {
	case Join:
		return true
	case Pole, Throw:
		for i, control := range c.Controls {
			if control.part == e.Part {
				at := c.Positions[position][i].At
				if e.Sort == Pole {
					return at == "on"
				}
				for k, name := range control.Positions {
					if name == at {
						return control.throws[k] == e.poleOrThrow
					}
				}
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
		if e := &c.Elements[i]; c.Closed(e, position) || fuses && e.Sort == Link {
			sets.Union(e.A, e.B)
		}
	}
	return sets
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
