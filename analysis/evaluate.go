package analysis

import (
	"fmt"
	"math"
	"math/cmplx"
)

// solver holds what a state's solution needs, so that solving many states makes no garbage.
type solver struct {
	c     *Circuit
	ac    change
	held  change
	dc    change
	ports []int
	work  []complex128
	emf   []float64
	at    []thevenin
	shown shown
}

// shown keeps what ports show, for probes have their ports in common.
type shown struct {
	volts []complex128
	turn  []int // by port: the turn of asking in which its volts were kept
	now   int
}

// afresh forgets what was kept.
func (s *shown) afresh(ports int) {
	if len(s.turn) < ports {
		s.volts, s.turn, s.now = make([]complex128, ports), make([]int, ports), 0
	}
	s.now++
}

// of is what a probe shows, where at is what a port does.
func (s *shown) of(p probe, at func(port int) complex128) complex128 {
	v := s.port(p.a, at)
	if p.b >= 0 {
		v -= s.port(p.b, at)
	}
	return v
}

func (s *shown) port(p int, at func(port int) complex128) complex128 {
	if s.turn[p] != s.now {
		s.volts[p], s.turn[p] = at(p), s.now
	}
	return s.volts[p]
}

// run solves one plug way and switch combination with a set of faults, all rectifiers blocking
// first, then each that can conduct, and hands visit what probe ports show: one Thevenin source a
// probe. Probes are touch points, or pairs of them. It stops where visit returns false.
func (s *solver) run(way Way, combo int, faults []*Fault, without bool, extra []int, probes []probe, want wanted,
	visit func(rectifier string, cleared bool, at []thevenin) bool) {
	c := s.c
	s.ports = append(s.ports[:0], extra...)
	pulled := ""
	for _, f := range faults {
		if f.Kind == NeutralLost {
			s.ports = append(s.ports, c.sidePort[1-hotSide(way)])
			continue
		}
		s.ports = append(s.ports, f.ports...)
		if f.Kind == Pulled {
			pulled += f.Part + "\x00"
		}
	}
	if !s.ac.set(c.base(combo, acBlocking, way, without), s.ports) {
		s.ac.set(s.merged(combo, acBlocking, way, without), nil)
	}
	lost := false
	for _, f := range faults {
		lost = lost || f.Kind == NeutralLost
	}
	source := c.sidePort[hotSide(way)]
	volts := complex(c.Set.Volts, 0)
	drive := s.drive(&s.ac, source)
	across := func(ch *change, p int) complex128 { return volts * (ch.base.column(source)[p] - ch.less(p, drive)) }

	cleared := cmplx.Abs(across(&s.ac, source)) > ClearedAmps
	if !lost {
		cleared = cleared || cmplx.Abs(across(&s.ac, c.sidePort[1-hotSide(way)])) > ClearedAmps
	}
	s.at = resize(s.at, len(probes))
	at := s.at
	clear(at)
	s.read(&s.ac, probes, at, across, want.lazy)
	if want.dc && c.sources {
		for k, i := range c.sections {
			s.emf[k] = math.Sqrt2 * cmplx.Abs(across(&s.ac, c.elements[i].port))
		}
		s.direct(combo, way, without, probes, at, want.lazy)
	}
	if !visit("", cleared, at) || !want.held {
		return
	}
	for k, i := range c.sections {
		e := &c.elements[i]
		if pulled != "" && c.isPulled(pulled, e.part) {
			continue
		}
		base := c.base(combo, acHeld, way, without)
		s.ports = append(s.ports, e.port)
		if !s.held.set(base, s.ports) {
			s.held.set(s.merged(combo, acHeld, way, without), nil)
		}
		s.ports = s.ports[:len(s.ports)-1]
		drive = s.drive(&s.held, source)
		s.read(&s.held, probes, at, across, want.lazy)
		if !visit(c.Rectifiers[k], cleared, at) {
			return
		}
	}
}

// wanted says which of a state's solutions are asked for. With lazy the impedances are left to ohms
// and dcOhms, to be asked for while visit runs.
type wanted struct{ dc, held, lazy bool }

var everything = wanted{dc: true, held: true}

// probe is a port at which a state is read, or the pair of two ports to earth.
type probe struct{ a, b int } // b is -1 for a single port

func hotSide(way Way) int {
	if way == Reversed {
		return 1
	}
	return 0
}

func (c *Circuit) hasSources() bool {
	if len(c.sections) > 0 {
		return true
	}
	for _, e := range c.elements {
		if e.sort == battery {
			return true
		}
	}
	return false
}

func (c *Circuit) isPulled(pulled string, part int) bool {
	name := c.Set.Parts[part].Name + "\x00"
	for len(pulled) >= len(name) {
		if pulled[:len(name)] == name {
			return true
		}
		for k := range len(pulled) {
			if pulled[k] == 0 {
				pulled = pulled[k+1:]
				break
			}
		}
	}
	return false
}

// drive gives the currents in the changed ports for one volt in the supply.
func (s *solver) drive(ch *change, source int) []complex128 {
	col := ch.base.column(source)
	s.work = resize(s.work, len(ch.ports))
	for i, p := range ch.ports {
		s.work[i] = col[p]
	}
	ch.response(s.work)
	return s.work
}

// read fills in the AC side of each probe.
func (s *solver) read(ch *change, probes []probe, at []thevenin, across func(*change, int) complex128, lazy bool) {
	s.shown.afresh(len(s.c.ports))
	volts := func(port int) complex128 { return across(ch, port) }
	for k, p := range probes {
		at[k].volts = s.shown.of(p, volts)
	}
	if lazy {
		return
	}
	var buffer [12]complex128
	for k, p := range probes {
		at[k].ohms = ch.impedance(p, buffer[:])
	}
}

// impedance is what a probe sees with every source dead.
func (ch *change) impedance(p probe, buffer []complex128) complex128 {
	k := len(ch.ports)
	v := buffer
	if len(v) < k {
		v = make([]complex128, k)
	}
	v = v[:k]
	colA := ch.base.column(p.a)
	var colB []complex128
	z := colA[p.a]
	if p.b >= 0 {
		colB = ch.base.column(p.b)
		z += colB[p.b] - colA[p.b] - colB[p.a]
	}
	for i, q := range ch.ports {
		v[i] = colA[q]
		if colB != nil {
			v[i] -= colB[q]
		}
	}
	ch.response(v)
	z -= ch.less(p.a, v)
	if p.b >= 0 {
		z += ch.less(p.b, v)
	}
	return z
}

// direct fills in the DC side of each probe: rectifiers are sources of the peak of the AC volts
// across them, as a lightly loaded reservoir charges; batteries are what they are.
func (s *solver) direct(combo int, way Way, without bool, probes []probe, at []thevenin, lazy bool) {
	c := s.c
	base := c.base(combo, dc, way, without)
	if !s.dc.set(base, s.ports) {
		base = s.merged(combo, dc, way, without)
		s.dc.set(base, nil)
	}
	before := func(p int) complex128 {
		v := complex(0, 0)
		for k, i := range c.sections {
			v += complex(s.emf[k], 0) * base.column(c.elements[i].openPort)[p]
		}
		if base.battery != nil {
			v += base.at(base.battery, p)
		}
		return v
	}
	s.work = resize(s.work, len(s.dc.ports))
	for i, p := range s.dc.ports {
		s.work[i] = before(p)
	}
	s.dc.response(s.work)
	s.shown.afresh(len(c.ports))
	volts := func(port int) complex128 { return before(port) - s.dc.less(port, s.work) }
	for k, p := range probes {
		at[k].dcVolts = real(s.shown.of(p, volts))
	}
	if lazy {
		return
	}
	var buffer [12]complex128
	for k, p := range probes {
		at[k].dcOhms = real(s.dc.impedance(p, buffer[:]))
	}
}

// ohms is the AC impedance at a probe in the state that visit is looking at.
func (s *solver) ohms(held bool, p probe) complex128 {
	var buffer [12]complex128
	if held {
		return s.held.impedance(p, buffer[:])
	}
	return s.ac.impedance(p, buffer[:])
}

// dcOhms is the same at DC, 0 where the set has no source of it.
func (s *solver) dcOhms(p probe) float64 {
	if !s.c.sources {
		return 0
	}
	var buffer [12]complex128
	return real(s.dc.impedance(p, buffer[:]))
}

// merged puts the ports at hand into fresh equations.
func (s *solver) merged(combo int, m mode, way Way, without bool) *base {
	return s.c.assemble(s.c.key(combo, m, way, without), s.ports)
}

func newSolver(c *Circuit) *solver { return &solver{c: c, emf: make([]float64, len(c.sections))} }

// String names a fault for messages of tests.
func (f *Fault) String() string {
	if len(f.Between) > 0 {
		return fmt.Sprintf("%s %s %v", f.Part, f.Kind, f.Between)
	}
	return f.Part + " " + string(f.Kind)
}
