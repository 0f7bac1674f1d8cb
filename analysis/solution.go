package analysis

import (
	"math"
	"math/cmplx"
)

// Solution is one state solved whole: every node's volts, every branch's current. Rules that look
// at stresses and working currents read it.
type Solution struct {
	State   State
	Cleared bool // either side of the supply carries over ClearedAmps AC, all rectifiers blocking

	c      *Circuit
	base   *base
	ac     []complex128
	direct *base
	dcx    []complex128
}

// Solve solves one state.
func (c *Circuit) Solve(state State) *Solution {
	ports := c.statePorts(state)
	blocking := c.with(state, acBlocking, ports)
	ac := c.supplyInto(blocking, state)
	blocking.lu.solve(ac)
	s := &Solution{State: state, c: c, base: blocking, ac: ac}
	s.Cleared = s.sideAmps() > ClearedAmps

	s.direct = c.with(state, dc, ports)
	s.dcx = make([]complex128, s.direct.n)
	if s.direct.battery != nil {
		copy(s.dcx, s.direct.battery)
	}
	rhs := make([]complex128, s.direct.n)
	for _, i := range c.sections {
		e := &c.elements[i]
		if c.takenOut(e, state.Faults) {
			continue
		}
		rhs[s.direct.offset+e.branch] = complex(math.Sqrt2*cmplx.Abs(blocking.at(ac, e.port)), 0)
	}
	s.direct.lu.solve(rhs)
	for i, v := range rhs {
		s.dcx[i] += v
	}
	if state.Rectifier != "" {
		for k, i := range c.sections {
			if c.Rectifiers[k] == state.Rectifier {
				ports = append(ports, c.elements[i].port)
			}
		}
		s.base = c.with(state, acHeld, ports)
		s.ac = c.supplyInto(s.base, state)
		s.base.lu.solve(s.ac)
	}
	return s
}

func (c *Circuit) statePorts(state State) []int {
	var ports []int
	for _, f := range state.Faults {
		if f.Kind == NeutralLost {
			ports = append(ports, c.sidePort[1-hotSide(state.Plug)])
		} else {
			ports = append(ports, f.ports...)
		}
	}
	return ports
}

func (c *Circuit) with(state State, m mode, ports []int) *base {
	if len(ports) == 0 {
		return c.base(state.combo, m, state.Plug, state.Without)
	}
	return c.assemble(c.key(state.combo, m, state.Plug, state.Without), ports)
}

func (c *Circuit) supplyInto(b *base, state State) []complex128 {
	rhs := make([]complex128, b.n)
	rhs[b.offset+c.sides[hotSide(state.Plug)]] = complex(c.Set.Volts, 0)
	return rhs
}

func (c *Circuit) takenOut(e *element, faults []*Fault) bool {
	name := c.Set.Parts[e.part].Name
	for _, f := range faults {
		if f.Part == name && (f.Kind == Open || f.Kind == Pulled || f.Kind == EarthLost) {
			return true
		}
	}
	return false
}

func (s *Solution) sideAmps() float64 {
	hot := cmplx.Abs(s.ac[s.base.offset+s.c.sides[hotSide(s.State.Plug)]])
	if s.State.Has(NeutralLost) {
		return hot
	}
	return max(hot, cmplx.Abs(s.ac[s.base.offset+s.c.sides[1-hotSide(s.State.Plug)]]))
}

// SupplyAmps is the larger AC current in the two sides of the supply, in A rms.
func (s *Solution) SupplyAmps() float64 { return s.sideAmps() }

// Volts is a node's AC volts to earth, rms, as a phasor. Earth is 0 V.
func (s *Solution) Volts(node string) complex128 {
	i, ok := s.c.index[node]
	if !ok {
		return 0
	}
	return s.ac[s.base.row[i]]
}

// VoltsDC is a node's DC volts to earth, signed.
func (s *Solution) VoltsDC(node string) float64 {
	i, ok := s.c.index[node]
	if !ok {
		return 0
	}
	return real(s.dcx[s.direct.row[i]])
}

// Across is the AC rms and the signed DC volts of a over b.
func (s *Solution) Across(a, b string) (ac, dcVolts float64) {
	return cmplx.Abs(s.Volts(a) - s.Volts(b)), s.VoltsDC(a) - s.VoltsDC(b)
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
	for i := range s.c.elements {
		e := &s.c.elements[i]
		if e.sort != load && e.sort != link || s.c.Set.Parts[e.part].Name != part {
			continue
		}
		f := Flow{A: s.c.Set.Nodes[e.a].Name, B: s.c.Set.Nodes[e.b].Name, Ohms: e.ohms, Heater: e.heater}
		if e.branch >= 0 {
			f.Amps = s.ac[s.base.offset+e.branch]
			f.AmpsDC = real(s.dcx[s.direct.offset+e.branch])
		} else {
			ac, dcVolts := s.Volts(f.A)-s.Volts(f.B), s.VoltsDC(f.A)-s.VoltsDC(f.B)
			f.Amps = ac / complex(e.ohms, s.c.omega*e.henrys)
			f.AmpsDC = dcVolts / e.ohms
		}
		flows = append(flows, f)
	}
	return flows
}

// ContactAmps is the AC current in the plug's earth contact, 0 where there is none.
func (s *Solution) ContactAmps() float64 {
	if s.c.contact < 0 {
		return 0
	}
	return cmplx.Abs(s.ac[s.base.offset+s.c.contact])
}

// Read is what is found at a node to earth in the state, or between two nodes where b is not "".
// It fails only for a node that is not there, with a zero Reading.
func (s *Solution) Read(a, b string) Reading {
	return s.source(a, b).reading(s.c.omega)
}

// HotCheck is the volts across 1.5 kΩ parallel 0.15 µF from a node to earth (service practice).
func (s *Solution) HotCheck(node string) float64 {
	t := s.source(node, "")
	z := HotCheckImpedance(s.c.omega)
	return cmplx.Abs(t.volts * z / (z + t.ohms))
}

// OnMeter is the AC and the unsigned DC volts that a meter of so many ohms shows between two
// nodes; b is "" for earth.
func (s *Solution) OnMeter(a, b string, ohms float64) (ac, dcVolts float64) {
	t := s.source(a, b)
	return cmplx.Abs(t.volts * complex(ohms, 0) / (complex(ohms, 0) + t.ohms)), math.Abs(t.dcVolts) * ohms / (ohms + t.dcOhms)
}

func (s *Solution) source(a, b string) thevenin {
	place := func(base *base, node string) int {
		if i, ok := s.c.index[node]; ok {
			return base.row[i]
		}
		return -1
	}
	look := func(base *base, x []complex128) (volts, ohms complex128) {
		i, j := place(base, a), place(base, b)
		if i == j {
			return 0, 0
		}
		y := make([]complex128, base.n)
		if i >= 0 {
			y[i], volts = 1, x[i]
		}
		if j >= 0 {
			y[j] = -1
			volts -= x[j]
		}
		base.lu.solve(y)
		if i >= 0 {
			ohms = y[i]
		}
		if j >= 0 {
			ohms -= y[j]
		}
		return volts, ohms
	}
	var t thevenin
	t.volts, t.ohms = look(s.base, s.ac)
	volts, ohms := look(s.direct, s.dcx)
	t.dcVolts, t.dcOhms = real(volts), real(ohms)
	return t
}
