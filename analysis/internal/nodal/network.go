package nodal

import (
	"sync"

	"coldcheck/analysis/internal/circuit"
	"coldcheck/netlist"
)

// port is a place where a state differs from its equations: a conductance between two nodes, or a
// branch whose current becomes zero. A touch point is a port from its node to earth that nothing is
// put across.
type port struct {
	branch int // the branch that opens, -1 for a pair of nodes
	a, b   int // nodes, -1 for earth
	ohms   float64
	merges bool // makes one node of two: the port after it takes one minimum conductance away
}

// elementPorts are an element's branch and ports, -1 for none.
type elementPorts struct {
	branch   int // its place among the branch currents
	conducts int // of a rectifier: the port that makes it conduct
	opens    int // the port that takes it out
	least    int // the first of two ports: a minimum conductance at either end, where it joins nodes
}

// Network is a circuit with the places at which its states differ, and its equations as far as they
// have been asked for. Many goroutines may use it once all ports are made.
type Network struct {
	Circuit *circuit.Circuit

	branches    int // how many branch currents
	ports       []port
	element     []elementPorts // by element
	transformer []int          // by transformer: the branch of its first winding
	fault       [][]int        // by fault: its ports
	takes       [][]int        // by fault: the elements that it takes out
	fuses       []int          // the elements that are fuses
	point       []int          // by touch point: its port
	sides       [2]int         // the branches of the two sides of the supply, by blade
	side        [2]int         // the ports that open, or feed, a side
	contact     int            // the branch of the plug's earth contact, -1 for none
	contactOut  int            // the port that opens it
	ends        [][2]int       // by rectifier: the ports of its anode and its cathode to earth
	joints      []int          // ports that join each bare point to the first bare one

	body complex128 // the body network, Ω

	lock  sync.Mutex // of what follows
	kept  map[key]*Equations
	whole map[wholeKey]*whole
	blown []*blown
	// driving are the nodes of sources, by mode.
	driving map[circuit.Mode][]int
	full    bool // equations are made with all their columns
}

// NewNetwork lays a circuit out.
func NewNetwork(c *circuit.Circuit) *Network {
	n := &Network{Circuit: c, contact: -1, body: circuit.BodyImpedance(c.Omega), kept: map[key]*Equations{}, whole: map[wholeKey]*whole{}, driving: map[circuit.Mode][]int{}}
	n.layBranches()
	for k := range c.Points {
		n.point = append(n.point, n.addPort(port{branch: -1, a: c.Points[k].Index, b: -1}))
	}
	for _, i := range c.Sections {
		e := &c.Elements[i]
		n.element[i].conducts = n.addPort(port{branch: -1, a: e.A, b: e.B, ohms: e.Ohms})
		n.ends = append(n.ends, [2]int{n.addPort(port{branch: -1, a: e.A, b: -1}), n.addPort(port{branch: -1, a: e.B, b: -1})})
	}
	bare := c.Bare()
	for i, p := range bare {
		if i > 0 {
			n.joints = append(n.joints, n.addPort(port{branch: -1, a: bare[0].Index, b: p.Index, ohms: circuit.JoinOhms}))
		}
	}
	n.layFaults()
	return n
}

func (n *Network) addPort(p port) int {
	n.ports = append(n.ports, p)
	return len(n.ports) - 1
}

// PortBetween makes a port between two nodes, by their places, -1 for earth. All are made before the
// first solution.
func (n *Network) PortBetween(a, b int) int { return n.addPort(port{branch: -1, a: a, b: b}) }

// layBranches gives every conductor that may open a branch current of its own, so that opening it is
// exact whatever its ohms.
func (n *Network) layBranches() {
	newBranch := func() int { n.branches++; return n.branches - 1 }
	for k := range n.sides {
		n.sides[k] = newBranch()
		n.side[k] = n.addPort(port{branch: n.sides[k]})
	}
	if n.Circuit.Plug.Earth != "" {
		n.contact = newBranch()
		n.contactOut = n.addPort(port{branch: n.contact})
	}
	for i := range n.Circuit.Elements {
		e, p := &n.Circuit.Elements[i], elementPorts{branch: -1, conducts: -1, opens: -1, least: -1}
		if e.Opens {
			p.branch = newBranch()
			p.opens = n.addPort(port{branch: p.branch})
			if joinsNodes(e) {
				p.least = n.addPort(port{branch: -1, a: e.A, b: -1, ohms: 1 / circuit.MinimumSiemens})
				n.addPort(port{branch: -1, a: e.B, b: -1, ohms: 1 / circuit.MinimumSiemens})
			}
			if n.Circuit.PartOf(e).Kind == netlist.KindFuse {
				n.fuses = append(n.fuses, i)
			}
		}
		n.element = append(n.element, p)
	}
	for _, t := range n.Circuit.Transformers {
		n.transformer = append(n.transformer, n.branches)
		n.branches += len(t.Windings)
	}
}

// joinsNodes reports whether an element that can open makes one node of its two while it is whole.
func joinsNodes(e *circuit.Element) bool { return e.Sort == circuit.Link || e.Sort == circuit.Contact }

// layFaults gives every fault its ports. A lost side of the supply has none of its own, and what a
// stuck deck takes out depends on where the selector stands: see portsOf.
func (n *Network) layFaults() {
	c := n.Circuit
	opens, elements := map[string][]int{}, map[string][]int{}
	for i, p := range n.element {
		if p.opens >= 0 {
			name := c.PartOf(&c.Elements[i]).Name
			opens[name], elements[name] = append(opens[name], p.opens), append(elements[name], i)
		}
	}
	for _, f := range c.Faults {
		var ports, takes []int
		switch {
		case f.Kind == circuit.NeutralLost:
		case f.Part == circuit.SupplyName:
			ports = []int{n.contactOut}
		case f.Kind == circuit.Stuck:
			ports = []int{n.addPort(port{branch: -1, a: f.A, b: f.B, ohms: circuit.JoinOhms, merges: true})}
			n.addPort(port{branch: -1, a: f.B, b: -1, ohms: -1 / circuit.MinimumSiemens})
		case f.Short:
			ports = []int{n.addPort(port{branch: -1, a: f.A, b: f.B, ohms: circuit.ShortOhms})}
		default:
			ports, takes = opens[f.Part], elements[f.Part]
		}
		n.fault, n.takes = append(n.fault, ports), append(n.takes, takes)
	}
}

// portsOf are the ports of a fault in a plug polarity and one of Positions.
func (n *Network) portsOf(f *circuit.Fault, plug circuit.Polarity, position int) []int {
	switch {
	case f.Kind == circuit.NeutralLost:
		k := n.Circuit.LostBlade(f, plug)
		return n.side[k : k+1]
	case f.Throw >= 0:
		made := n.ownContact(f, position)
		switch {
		case made == f.Throw:
			return nil // the deck stands where it is stuck
		case made >= 0:
			return []int{n.fault[f.Index][0], n.element[made].opens} // one contact opens and another closes
		}
	}
	return n.fault[f.Index]
}

// ownContact is the element of a stuck deck's contact that is made in one of Positions, -1 for an open
// throw.
func (n *Network) ownContact(f *circuit.Fault, position int) int {
	stuck := &n.Circuit.Elements[f.Throw]
	for i := range n.Circuit.Elements {
		if e := &n.Circuit.Elements[i]; e.SameDeck(stuck) && n.Circuit.Made(e, position) {
			return i
		}
	}
	return -1
}

// portsOfAll are those of several faults.
func (n *Network) portsOfAll(faults []*circuit.Fault, plug circuit.Polarity, position int) []int {
	var ports []int
	for _, f := range faults {
		ports = append(ports, n.portsOf(f, plug, position)...)
	}
	return ports
}

// Unknowns is how many unknowns the equations have at most.
func (n *Network) Unknowns() int { return len(n.Circuit.Set.Nodes) + n.branches }

// CountPorts is how many ports there are.
func (n *Network) CountPorts() int { return len(n.ports) }

// Bytes estimates what the equations of all switch positions take. An unknown takes some 380 bytes
// once factored; a port 42 bytes, and 16 more for each port that is watched.
func (n *Network) Bytes() float64 {
	c := n.Circuit
	watched := float64(len(c.Points) + len(n.sides) + 2*len(c.Sections) + len(n.joints))
	return float64(len(c.Positions)*n.CountModes()) * (float64(n.Unknowns())*380 + float64(len(n.ports))*(42+16*watched))
}
