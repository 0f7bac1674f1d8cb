package nodal

import (
	"math"
	"math/cmplx"
	"slices"

	"coldcheck/analysis/internal/circuit"
	"coldcheck/analysis/internal/unionfind"
)

// Solution is one state solved whole: every node's volts, every branch's current. Rules that look at
// stresses and currents read it. Many goroutines may.
type Solution struct {
	State   circuit.State
	Cleared bool // either side of the supply carries over ClearedAmps AC, all rectifiers blocking

	c *circuit.Circuit
	n *Network
	// before is the solution without the node of that place earthed, nil where none is.
	before *Solution
	earth  int

	ac *solved
	dc []*solved // by Circuit.DCModes
	// blocking is AC with all rectifiers blocking, which is what those at DC charge to.
	blocking *solved
}

// solved is an update with its full solution and its groups.
type solved struct {
	*Update
	x      []complex128
	groups *unionfind.Sets
}

// Solve solves one state.
func (n *Network) Solve(state circuit.State) *Solution {
	s := &Solution{State: state, c: n.Circuit, n: n}
	about := groupOf{position: state.Position, conducting: -1, plug: state.Plug, without: state.Without && n.Circuit.HasFailed, faults: state.Faults}
	var open []int
	ports := n.portsOfAll(state.Faults, state.Plug, state.Position)
	for _, i := range n.fuses {
		if slices.Contains(state.Blown, n.Circuit.PartOf(&n.Circuit.Elements[i]).Name) {
			open, ports = append(open, i), append(ports, n.element[i].opens)
		}
	}
	about.blown = n.blownOf(open)
	s.blocking = n.supplied(about, circuit.Blocking, ports)
	s.ac = s.blocking
	s.Cleared = s.SupplyAmps() > circuit.ClearedAmps
	for _, mode := range n.Circuit.DCModes() {
		d := n.changed(about, mode, ports)
		d.x = s.direct(d)
		s.dc = append(s.dc, d)
	}
	switch state.Rectifier {
	case "":
	case circuit.SmallDiodes:
		s.ac = n.supplied(about, circuit.Small, ports)
	default:
		about.conducting = slices.Index(n.Circuit.Rectifiers, state.Rectifier)
		s.ac = n.supplied(about, circuit.Held, append(ports, n.element[n.Circuit.Sections[about.conducting]].conducts))
	}
	return s
}

// changed is the equations of a state in a mode with ports changed.
func (n *Network) changed(about groupOf, m circuit.Mode, ports []int) *solved {
	u, k := &Update{}, n.keyOf(about.position, m, about.plug, variant{without: about.without})
	about.mode = m
	nothing := n.watchingNothing()
	if !u.put(n.equations(k), nothing, ports, 0) {
		u.stand(n.assemble(k, ports), nothing)
	}
	// Any node may be asked for, not those alone for which whole groups are kept.
	groups := n.newGroups(about)
	groups.Firsts() // from here on it is only read, by many at once
	return &solved{Update: u, groups: groups}
}

// supplied is that with the mains in, at AC.
func (n *Network) supplied(about groupOf, m circuit.Mode, ports []int) *solved {
	s := n.changed(about, m, ports)
	s.x = make([]complex128, s.eq.size)
	hot := about.plug.HotBlade()
	s.x[s.eq.offset+n.sides[hot]], s.x[s.eq.offset+n.sides[1-hot]] = n.Circuit.Supply()
	s.solve(s.x)
	return s
}

// direct is the solution in a mode at DC with each rectifier a source of √2 times the rms volts across it
// while all block, an idle reservoir's, and each battery what it is.
func (s *Solution) direct(d *solved) []complex128 {
	x := make([]complex128, d.eq.size)
	for _, i := range s.c.Sections {
		e := &s.c.Elements[i]
		if _, charges := d.eq.impedance(e); !charges || s.c.TakenOut(e, s.State.Faults) {
			continue
		}
		rms := cmplx.Abs(s.blocking.across(e.A, e.B, s.n.earth()))
		x[d.eq.offset+s.n.element[i].branch] = complex(math.Sqrt2*rms, 0)
	}
	d.eq.solve(x)
	for i, v := range d.eq.battery {
		x[i] += v
	}
	d.correct(x)
	return x
}

// across is the volts from one node to another, by their places. Of two in different groups, what
// floats counts as 0.
func (s *solved) across(a, b, earth int) complex128 {
	if s.groups.Same(a, b) {
		return s.node(a) - s.node(b)
	}
	v := complex(0, 0)
	if s.groups.Same(a, earth) {
		v += s.node(a)
	}
	if s.groups.Same(b, earth) {
		v -= s.node(b)
	}
	return v
}

// node is a node's volts to earth, by its place.
func (s *solved) node(i int) complex128 { return s.x[s.eq.row[i]] }

// SupplyAmps is the larger AC current in the two sides of the supply, in A rms; one counts while it is
// whole.
func (s *Solution) SupplyAmps() float64 {
	most := 0.0
	for k := range s.n.sides {
		lost := slices.ContainsFunc(s.State.Faults, func(f *circuit.Fault) bool {
			return f.Kind == circuit.NeutralLost && s.c.LostBlade(f, s.State.Plug) == k
		})
		if !lost {
			most = max(most, cmplx.Abs(s.ac.x[s.ac.eq.offset+s.n.sides[k]]))
		}
	}
	return most
}

// SupplyAmpsDC is the larger DC current in the two sides of the supply, in A, in any way of DC.
func (s *Solution) SupplyAmpsDC() float64 {
	most := 0.0
	for _, d := range s.dc {
		for _, k := range s.n.sides {
			most = math.Max(most, math.Abs(real(d.x[d.eq.offset+k])))
		}
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

// Volts is a node's AC volts to earth, rms, as a phasor. Earth, a node that floats and one that is not
// there are at 0 V.
func (s *Solution) Volts(node string) complex128 {
	i, ok := s.c.Node(node)
	if !ok || !s.ac.groups.Same(i, s.n.earth()) {
		return 0
	}
	return s.ac.node(i)
}

// VoltsDC is a node's DC volts to earth, signed, with nothing drawn.
func (s *Solution) VoltsDC(node string) float64 {
	i, ok := s.c.Node(node)
	if !ok || len(s.dc) == 0 || !s.dc[0].groups.Same(i, s.n.earth()) {
		return 0
	}
	return real(s.dc[0].node(i))
}

// Across is the AC rms and the signed DC volts of a over b; at DC the most in any way. Between groups
// of which one floats there is none.
func (s *Solution) Across(a, b string) (ac, dcVolts float64) {
	i, ok := s.c.Node(a)
	j, also := s.c.Node(b)
	if !ok || !also {
		return 0, 0
	}
	if s.ac.groups.Same(i, j) {
		ac = cmplx.Abs(s.ac.node(i) - s.ac.node(j))
	}
	return ac, s.acrossDC(i, j, func(circuit.Mode) bool { return true })
}

// acrossDC is the signed DC volts of one node over another, by their places, the most in any of the modes
// that count.
func (s *Solution) acrossDC(i, j int, counts func(circuit.Mode) bool) (volts float64) {
	for _, d := range s.dc {
		if v := real(d.node(i) - d.node(j)); counts(d.eq.key.mode) && d.groups.Same(i, j) && math.Abs(v) > math.Abs(volts) {
			volts = v
		}
	}
	return volts
}

// AcrossIdle is the signed DC volts of a over b while no tube draws, the most with the rectifiers
// charging or the batteries alone. That the tubes draw is a bound for touch, with heaters hot in any
// position of the switches: it makes volts that a set never has.
func (s *Solution) AcrossIdle(a, b string) float64 {
	i, ok := s.c.Node(a)
	j, also := s.c.Node(b)
	if !ok || !also {
		return 0
	}
	return s.acrossDC(i, j, func(m circuit.Mode) bool { return !m.Draws() })
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
		f := Flow{A: s.c.NodeName(e.A), B: s.c.NodeName(e.B), Ohms: s.c.OhmsAt(e, s.State.Position), Amps: amps, Heater: e.Heater}
		for _, d := range s.dc {
			if direct, _ := s.current(d, i); math.Abs(real(direct)) > math.Abs(f.AmpsDC) {
				f.AmpsDC = real(direct)
			}
		}
		flows = append(flows, f)
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
// equivalent; at DC in the way that drives the most through a body. What floats reads nothing.
func (s *Solution) Source(a, b string) Source {
	var t Source
	t.Volts, t.Ohms = s.ac.between(s.place(a), s.place(b), s.n.earth())
	most := -1.0
	for _, d := range s.dc {
		volts, ohms := d.between(s.place(a), s.place(b), s.n.earth())
		if amps := math.Abs(real(volts)) / (circuit.BodyDCOhms + real(ohms)); amps > most {
			most, t.VoltsDC, t.OhmsDC = amps, real(volts), real(ohms)
		}
	}
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
func (s *solved) between(a, b, earth int) (volts, ohms complex128) {
	of := func(i int) int {
		if i < 0 {
			return earth
		}
		return i
	}
	i, j := s.eq.node(a), s.eq.node(b)
	if i == j || !s.groups.Same(of(a), of(b)) {
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
