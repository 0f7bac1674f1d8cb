package nodal

import (
	"math"
	"math/cmplx"

	"coldcheck/analysis/internal/circuit"
)

// Solution is one state solved whole: every node's volts, every branch's current. Rules that look at
// stresses and currents read it. Many goroutines may.
type Solution struct {
	State   circuit.State
	Cleared bool // either side of the supply carries over ClearedAmps AC, all rectifiers blocking

	c      *circuit.Circuit
	n      *Network
	ac, dc *solved
	// blocking is AC with all rectifiers blocking, which is what those at DC charge to.
	blocking *solved
}

// solved is an update with its full solution.
type solved struct {
	*Update
	x []complex128
}

// Solve solves one state.
func (n *Network) Solve(state circuit.State) *Solution {
	s := &Solution{State: state, c: n.Circuit, n: n}
	ports := n.portsOfAll(state.Faults, state.Plug)
	s.blocking = n.supplied(state, circuit.Blocking, ports)
	s.ac = s.blocking
	s.Cleared = s.SupplyAmps() > circuit.ClearedAmps

	s.dc = &solved{Update: n.changed(state, circuit.Direct, ports)}
	s.dc.x = s.direct(func(string) float64 { return math.Sqrt2 })
	if state.Rectifier != "" {
		for k, i := range n.Circuit.Sections {
			if n.Circuit.Rectifiers[k] == state.Rectifier {
				ports = append(ports, n.element[i].conducts)
			}
		}
		s.ac = n.supplied(state, circuit.Held, ports)
	}
	return s
}

// changed is the equations of a state in a mode with ports changed.
func (n *Network) changed(state circuit.State, m circuit.Mode, ports []int) *Update {
	u, k := &Update{}, n.keyOf(state.Position, m, state.Plug, state.Without)
	b := n.equations(k)
	nothing := n.watchingNothing()
	if !u.put(b, nothing, ports, 0, true) {
		u.stand(n.assemble(k, ports), nothing)
	}
	return u
}

// supplied is that with the mains in, at AC.
func (n *Network) supplied(state circuit.State, m circuit.Mode, ports []int) *solved {
	u := n.changed(state, m, ports)
	x := make([]complex128, u.eq.size)
	x[u.eq.offset+n.sides[state.Plug.HotBlade()]] = complex(n.Circuit.Set.Volts, 0)
	u.solve(x)
	return &solved{u, x}
}

// direct is the solution at DC with each rectifier a source of share times the rms volts across it
// while all block, and each battery what it is.
func (s *Solution) direct(share func(part string) float64) []complex128 {
	x := make([]complex128, s.dc.eq.size)
	for _, i := range s.c.Sections {
		e := &s.c.Elements[i]
		if s.c.TakenOut(e, s.State.Faults) {
			continue
		}
		rms := cmplx.Abs(s.blocking.at(s.n.element[i].conducts))
		x[s.dc.eq.offset+s.n.element[i].branch] = complex(share(s.c.PartOf(e).Name)*rms, 0)
	}
	s.dc.eq.solve(x)
	for i, v := range s.dc.eq.battery {
		x[i] += v
	}
	s.dc.correct(x)
	return x
}

// at reads a port.
func (s *solved) at(p int) complex128 { return s.eq.at(s.x, p) }

// node is a node's volts to earth, by its place.
func (s *solved) node(i int) complex128 { return s.x[s.eq.row[i]] }

// SupplyAmps is the larger AC current in the two sides of the supply, in A rms; the neutral one counts
// while it is whole.
func (s *Solution) SupplyAmps() float64 {
	side := func(k int) float64 { return cmplx.Abs(s.ac.x[s.ac.eq.offset+s.n.sides[k]]) }
	hot := s.State.Plug.HotBlade()
	if s.State.Has(circuit.NeutralLost) {
		return side(hot)
	}
	return max(side(hot), side(1-hot))
}

// SupplyAmpsDC is the larger DC current in the two sides of the supply, in A.
func (s *Solution) SupplyAmpsDC() float64 {
	most := 0.0
	for _, k := range s.n.sides {
		most = math.Max(most, math.Abs(real(s.dc.x[s.dc.eq.offset+k])))
	}
	return most
}

// ContactAmps is the AC current in the plug's earth contact, 0 where there is none.
func (s *Solution) ContactAmps() float64 {
	if s.n.contact < 0 {
		return 0
	}
	return cmplx.Abs(s.ac.x[s.ac.eq.offset+s.n.contact])
}

// Volts is a node's AC volts to earth, rms, as a phasor. Earth, and a node that is not there, is 0 V.
func (s *Solution) Volts(node string) complex128 {
	i, ok := s.c.Node(node)
	if !ok {
		return 0
	}
	return s.ac.node(i)
}

// VoltsDC is a node's DC volts to earth, signed.
func (s *Solution) VoltsDC(node string) float64 {
	i, ok := s.c.Node(node)
	if !ok {
		return 0
	}
	return real(s.dc.node(i))
}

// Across is the AC rms and the signed DC volts of a over b.
func (s *Solution) Across(a, b string) (ac, dcVolts float64) {
	return cmplx.Abs(s.Volts(a) - s.Volts(b)), s.VoltsDC(a) - s.VoltsDC(b)
}

// DCWith gives every node's DC volts to earth with each rectifier taken as a source of share times
// the rms volts across it, instead of the √2 of an idle reservoir; share is asked with the name of
// the rectifier's part. Batteries are what they are. Nodes that are not there are at 0 V.
func (s *Solution) DCWith(share func(part string) float64) func(node string) float64 {
	x := s.direct(share)
	return func(node string) float64 {
		i, ok := s.c.Node(node)
		if !ok {
			return 0
		}
		return real(x[s.dc.eq.row[i]])
	}
}

// Flow is the current through one piece of a part: a heater section, a half of a potentiometer, a
// resistor.
type Flow struct {
	A, B   string  // from, to
	Ohms   float64 // without its reactance
	Amps   complex128
	AmpsDC float64
	Heater bool
}

// Watts is what the piece turns into heat.
func (f Flow) Watts() float64 {
	ac := cmplx.Abs(f.Amps)
	return f.Ohms * (ac*ac + f.AmpsDC*f.AmpsDC)
}

// Flows gives the currents in a part's resistive pieces, fuses and earth wires.
func (s *Solution) Flows(part string) []Flow {
	var flows []Flow
	for i := range s.c.Elements {
		e := &s.c.Elements[i]
		if e.Sort != circuit.Load && e.Sort != circuit.Link || s.c.PartOf(e).Name != part {
			continue
		}
		amps, _ := s.current(s.ac, i)
		direct, _ := s.current(s.dc, i)
		flows = append(flows, Flow{A: s.c.NodeName(e.A), B: s.c.NodeName(e.B), Ohms: e.Ohms, Amps: amps, AmpsDC: real(direct), Heater: e.Heater})
	}
	return flows
}

// Read is what is found at a node to earth in the state, or between two nodes where b is not "".
// A node that is not there is taken for earth.
func (s *Solution) Read(a, b string) Reading { return s.Source(a, b).Reading(s.c.Omega) }

// HotCheck is the volts across 1.5 kΩ parallel 0.15 µF from a node to earth (service practice).
func (s *Solution) HotCheck(node string) float64 {
	return s.Source(node, "").Into(circuit.HotCheckImpedance(s.c.Omega))
}

// OnMeter is the AC and the unsigned DC volts that a meter of so many ohms shows between two
// nodes; b is "" for earth.
func (s *Solution) OnMeter(a, b string, ohms float64) (ac, dcVolts float64) {
	t := s.Source(a, b)
	return t.Into(complex(ohms, 0)), math.Abs(t.IntoDC(ohms))
}

// Source is a node against another, or against earth where b is "" or not there, as a Thevenin
// equivalent.
func (s *Solution) Source(a, b string) Source {
	var t Source
	t.Volts, t.Ohms = s.ac.between(s.place(a), s.place(b))
	volts, ohms := s.dc.between(s.place(a), s.place(b))
	t.VoltsDC, t.OhmsDC = real(volts), real(ohms)
	return t
}

// place is a node's place, -1 for earth.
func (s *Solution) place(node string) int {
	if i, ok := s.c.Node(node); ok {
		return i
	}
	return -1
}

// between is the open volts and the impedance of two nodes, by their places, -1 for earth.
func (s *solved) between(a, b int) (volts, ohms complex128) {
	i, j := s.eq.node(a), s.eq.node(b)
	if i == j {
		return 0, 0
	}
	y := make([]complex128, s.eq.size)
	if i >= 0 {
		y[i], volts = 1, s.x[i]
	}
	if j >= 0 {
		y[j] = -1
		volts -= s.x[j]
	}
	s.solve(y)
	if i >= 0 {
		ohms = y[i]
	}
	if j >= 0 {
		ohms -= y[j]
	}
	return volts, ohms
}
