package analysis

// port is a place where a state differs from its base: a conductance between two nodes (dinv is
// its ohms), or a branch whose current becomes zero. A touch point is a port from its node to
// earth that nothing is put across.
type port struct {
	branch int // the branch that opens, -1 for a pair of nodes
	a, b   int // nodes, -1 for earth
	ohms   float64
	joins  bool // makes one node of two: the port after it takes one earth leak away
}

func (c *Circuit) addPort(p port) int {
	c.ports = append(c.ports, p)
	return len(c.ports) - 1
}

// layOut gives every conductor that may open a branch current of its own, so that opening it is
// exact whatever its ohms, and every fault its ports.
func (c *Circuit) layOut() {
	newBranch := func() int { c.branches++; return c.branches - 1 }
	for k := range c.sides {
		c.sides[k] = newBranch()
		c.sidePort[k] = c.addPort(port{branch: c.sides[k]})
	}
	contactPort := -1
	if c.plug.Earth != "" {
		c.contact = newBranch()
		contactPort = c.addPort(port{branch: c.contact})
	}
	for k := range c.elements {
		if e := &c.elements[k]; e.opens {
			e.branch = newBranch()
			e.openPort = c.addPort(port{branch: e.branch})
			if e.sort == link {
				e.leaks[0] = c.addPort(port{branch: -1, a: e.a, b: -1, ohms: 1 / LeakSiemens})
				e.leaks[1] = c.addPort(port{branch: -1, a: e.b, b: -1, ohms: 1 / LeakSiemens})
			}
		}
	}
	for k := range c.coupled {
		c.coupled[k].branch = c.branches
		c.branches += len(c.coupled[k].windings)
	}
	for k := range c.Points {
		c.Points[k].port = c.addPort(port{branch: -1, a: c.Points[k].node, b: -1})
	}
	for _, k := range c.sections {
		e := &c.elements[k]
		e.port = c.addPort(port{branch: -1, a: e.a, b: e.b, ohms: e.ohms})
	}
	first := -1
	for _, p := range c.Points {
		if p.GuardFault != nil && p.GuardFault.Cost > 0 {
			continue
		}
		if first < 0 {
			first = p.node
		} else {
			c.joints = append(c.joints, c.addPort(port{branch: -1, a: first, b: p.node, ohms: joinOhms}))
		}
	}
	opens := map[string][]int{}
	for _, e := range c.elements {
		if e.openPort >= 0 {
			name := c.Set.Parts[e.part].Name
			opens[name] = append(opens[name], e.openPort)
		}
	}
	for _, f := range c.Faults {
		switch {
		case f.Kind == NeutralLost: // the port depends on the plug's way
		case f.Part == SupplyName:
			f.ports = []int{contactPort}
		case f.Kind == Stuck:
			f.ports = []int{c.addPort(port{branch: -1, a: f.a, b: f.b, ohms: joinOhms, joins: true})}
			c.addPort(port{branch: -1, a: f.b, b: -1, ohms: -1 / LeakSiemens}) // one leak less: see follow
		case f.short:
			f.ports = []int{c.addPort(port{branch: -1, a: f.a, b: f.b, ohms: ShortOhms})}
		default:
			f.ports = opens[f.Part]
		}
	}
}
