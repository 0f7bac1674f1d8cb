package analysis

import (
	"fmt"
	"math"
	"math/cmplx"
	"slices"

	"coldcheck/netlist"
)

// gauge works out what a meter shows of one wiring, for a list of measurements. It has a circuit
// of its own, in which every pair of points that is measured, and every branch that may change,
// is a port.
type gauge struct {
	c        *Circuit
	ms       []Measurement
	ports    []int // by measurement
	groups   []*measured
	alike    map[groupKey]*measured
	of       []*measured // by measurement
	solver   *solver
	branches map[[2]int]int // ports by their two nodes
}

// measured is the measurements taken in one state, with that state's equations.
type measured struct {
	way     Way
	combo   int
	cold    bool
	tied    bool
	pulled  []*Fault
	members []int // in gauge.ms

	ac, direct *base
	drive      []complex128 // what one volt of supply gives at every port
	ohms       *coldNet
}

func newGauge(set *netlist.Set, bench Bench, ms []Measurement) (*gauge, error) {
	c, err := New(set, bench)
	if err != nil {
		return nil, err
	}
	g := &gauge{c: c, ms: ms, branches: map[[2]int]int{}, alike: map[groupKey]*measured{}, solver: newSolver(c)}
	for k, m := range ms {
		g.ports = append(g.ports, g.port(c.measuredNode(m.A), c.measuredNode(m.B)))
		x := g.group(m)
		x.members = append(x.members, k)
		g.of = append(g.of, x)
	}
	return g, nil
}

// measuredNode is a node's index, -1 for earth where no part is on it.
func (c *Circuit) measuredNode(name string) int {
	if i, ok := c.index[name]; ok {
		return i
	}
	return -1
}

// port gives the port between two nodes, -1 for earth. All are made before the first solution.
func (g *gauge) port(a, b int) int {
	if p, ok := g.branches[[2]int{a, b}]; ok {
		return p
	}
	p := g.c.addPort(port{branch: -1, a: a, b: b})
	g.branches[[2]int{a, b}] = p
	return p
}

// groupKey tells the states of measurements apart.
type groupKey struct {
	way        Way
	combo      int
	cold, tied bool
	pulled     string
}

func (g *gauge) group(m Measurement) *measured {
	pulled := g.c.pulledFaults(m.Pulled)
	key := groupKey{m.Plug, m.combo, m.Quantity == OhmsRead, m.Tied, fmt.Sprint(pulled)}
	x := g.alike[key]
	if x == nil {
		x = &measured{way: m.Plug, combo: m.combo, cold: key.cold, tied: m.Tied, pulled: pulled}
		g.alike[key] = x
		g.groups = append(g.groups, x)
	}
	return x
}

func (c *Circuit) pulledFaults(names []string) []*Fault {
	var pulled []*Fault
	for _, f := range c.Faults {
		if f.Kind == Pulled && slices.Contains(names, f.Part) {
			pulled = append(pulled, f)
		}
	}
	return pulled
}

// with adds faults to those of a state, but what a pulled tube takes along and what cannot be
// together.
func (x *measured) with(faults []*Fault) []*Fault {
	all := slices.Clone(x.pulled)
	for _, f := range faults {
		if !slices.Contains(all, f) && compatible(all, f) {
			all = append(all, f)
		}
	}
	return all
}

// predict is what the meter shows at each measurement with some faults, the plug as noted or the
// other way round.
func (g *gauge) predict(faults []*Fault, turned bool) []float64 {
	shown := make([]float64, len(g.ms))
	for _, x := range g.groups {
		if x.cold {
			net := g.c.coldNet(x.combo, x.tied, x.with(faults))
			for _, k := range x.members {
				shown[k] = onScale(net.between(g.ports[k]))
			}
			continue
		}
		probes := make([]probe, len(x.members))
		for i, k := range x.members {
			probes[i] = probe{g.ports[k], -1}
		}
		way := x.way
		if turned {
			way = way.Other()
		}
		g.solver.run(way, x.combo, x.with(faults), false, nil, probes, wanted{dc: true}, func(_ string, cleared bool, at []thevenin) bool {
			for i, k := range x.members {
				shown[k] = g.ms[k].shows(at[i], cleared, g.c.omega)
			}
			return false
		})
	}
	return shown
}

// shunt is what is put across one branch: siemens at AC, at DC, and on a cold set.
type shunt struct {
	port     int
	ac       complex128
	dc, cold float64
}

// prepare solves the state that shunts are put into.
func (g *gauge) prepare(x *measured) {
	if x.ac != nil || x.ohms != nil {
		return
	}
	if x.cold {
		x.ohms = g.c.coldNet(x.combo, x.tied, x.pulled)
		return
	}
	state := State{Plug: x.way, combo: x.combo, Settings: g.c.combos[x.combo], Faults: x.pulled}
	ports := g.c.statePorts(state)
	x.ac = g.c.with(state, acBlocking, ports)
	x.direct = g.c.with(state, dc, ports)
	x.drive = x.ac.column(g.c.sidePort[hotSide(x.way)])
}

// predictShunted is what the meter shows at some measurements, by their indices, with admittances
// put across at most two branches. It is exact: in a linear network every figure is a quotient of
// two first powers of an admittance (the compensation theorem).
func (g *gauge) predictShunted(which []int, add []shunt, into []float64) {
	for i, k := range which {
		x := g.of[k]
		g.prepare(x)
		if x.cold {
			into[i] = g.coldShunted(x, k, add)
			continue
		}
		into[i] = g.hotShunted(x, k, add)
	}
}

func (g *gauge) coldShunted(x *measured, k int, add []shunt) float64 {
	p := g.ports[k]
	if q := g.c.ports[p]; q.a < 0 || q.b < 0 {
		return onScale(x.ohms.between(p))
	}
	return onScale(real(patch{x.ohms.column, add, func(a shunt) complex128 { return complex(a.cold, 0) }}.impedance(p)))
}

func (g *gauge) hotShunted(x *measured, k int, add []shunt) float64 {
	c, p := g.c, g.ports[k]
	ac := patch{x.ac.column, add, func(a shunt) complex128 { return a.ac }}
	volts := complex(c.Set.Volts, 0)
	amps := ac.currents(func(q int) complex128 { return volts * x.drive[q] })
	at := func(p int) complex128 { return volts*x.drive[p] - ac.less(p, amps) }
	for _, side := range c.sidePort {
		if cmplx.Abs(at(side)) > ClearedAmps {
			return 0
		}
	}
	t := thevenin{volts: at(p), ohms: ac.impedance(p)}
	if g.ms[k].Quantity == VoltsDCRead {
		direct := patch{x.direct.column, add, func(a shunt) complex128 { return complex(a.dc, 0) }}
		before := func(p int) complex128 {
			v := complex(0, 0)
			for _, i := range c.sections {
				e := &c.elements[i]
				v += complex(math.Sqrt2*cmplx.Abs(at(e.port)), 0) * x.direct.column(e.openPort)[p]
			}
			if x.direct.battery != nil {
				v += x.direct.at(x.direct.battery, p)
			}
			return v
		}
		amps := direct.currents(before)
		t.dcVolts = real(before(p) - direct.less(p, amps))
		t.dcOhms = real(direct.impedance(p))
	}
	return g.ms[k].shows(t, false, c.omega)
}

// patch is a solved network with admittances put across at most two of its ports.
type patch struct {
	column func(int) []complex128
	add    []shunt
	of     func(shunt) complex128
}

// currents are those in the added admittances, from what the ports show before.
func (h patch) currents(before func(int) complex128) [2]complex128 {
	var y, v [2]complex128
	var z [2][2]complex128
	for i, a := range h.add {
		y[i], v[i] = h.of(a), before(a.port)
		for j, b := range h.add {
			z[i][j] = h.column(b.port)[a.port]
		}
	}
	a, b := 1+z[0][0]*y[0], z[0][1]*y[1]
	c, d := z[1][0]*y[0], 1+z[1][1]*y[1]
	det := a*d - b*c
	return [2]complex128{y[0] * (d*v[0] - b*v[1]) / det, y[1] * (a*v[1] - c*v[0]) / det}
}

func (h patch) less(p int, amps [2]complex128) complex128 {
	sum := complex(0, 0)
	for i, a := range h.add {
		sum += h.column(a.port)[p] * amps[i]
	}
	return sum
}

func (h patch) impedance(p int) complex128 {
	column := h.column(p)
	amps := h.currents(func(q int) complex128 { return column[q] })
	return column[p] - h.less(p, amps)
}

// sourceOhms is the impedance of a point as described.
func (g *gauge) sourceOhms(k int) complex128 {
	x := g.of[k]
	g.prepare(x)
	if x.cold {
		return 0
	}
	return x.ac.column(g.ports[k])[g.ports[k]]
}
