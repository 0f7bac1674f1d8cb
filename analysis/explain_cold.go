package analysis

import (
	"math"
	"slices"
)

// coldNet is the unplugged set as an ohmmeter finds it, factored: capacitors by their leakage
// alone, rectifiers open, heaters at ColdHeater of their hot ohms.
type coldNet struct {
	c       *Circuit
	row     []int
	n       int
	lu      *lu
	columns map[int][]complex128
}

// coldNet factors the unplugged set in one combination of switch positions with some faults; with
// tied the blades are joined.
func (c *Circuit) coldNet(combo int, tied bool, faults []*Fault) *coldNet {
	net := &coldNet{c: c, columns: map[int][]complex128{}}
	net.row = c.roots(combo)
	net.n = len(net.row)
	s := newSparse(net.n)
	for i := range net.row {
		s.add(i, i, coldLeak)
	}
	stamp := func(a, b int, ohms float64) {
		if x, y := net.row[a], net.row[b]; x != y {
			s.stamp(x, y, complex(1/ohms, 0))
		}
	}
	if tied {
		stamp(c.index[c.plug.Hot], c.index[c.plug.Neutral], joinOhms*1e3)
	}
	for i := range c.elements {
		e := &c.elements[i]
		if e.opens && c.takenOut(e, faults) {
			continue
		}
		switch e.sort {
		case link:
			stamp(e.a, e.b, joinOhms*1e3)
		case load:
			ohms := e.ohms
			if e.heater {
				ohms *= ColdHeater
			}
			stamp(e.a, e.b, ohms)
		case capacitor:
			if e.leak > 0 {
				stamp(e.a, e.b, e.leak)
			}
		case battery, shorted:
			stamp(e.a, e.b, e.ohms)
		}
	}
	for _, t := range c.coupled {
		for _, w := range t.windings {
			stamp(w.a, w.b, w.ohms)
		}
	}
	for _, f := range faults {
		if f.short || f.Kind == Stuck {
			stamp(f.a, f.b, ShortOhms)
		}
	}
	net.lu = s.factor()
	return net
}

// column gives, for one ampere into a port, the volts at every port between two nodes; earth is no
// node of an unplugged set.
func (net *coldNet) column(p int) []complex128 {
	if col := net.columns[p]; col != nil {
		return col
	}
	x := make([]complex128, net.n)
	q := net.c.ports[p]
	if q.branch < 0 && q.a >= 0 && q.b >= 0 {
		x[net.row[q.a]]++
		x[net.row[q.b]]--
		if slices.ContainsFunc(x, func(v complex128) bool { return v != 0 }) {
			net.lu.solve(x)
		}
	}
	col := make([]complex128, len(net.c.ports))
	for i, q := range net.c.ports {
		if q.branch < 0 && q.a >= 0 && q.b >= 0 {
			col[i] = x[net.row[q.a]] - x[net.row[q.b]]
		}
	}
	net.columns[p] = col
	return col
}

// between is the ohms that a port sees, +Inf above OpenOhms and to an earth that nothing is on.
func (net *coldNet) between(p int) float64 {
	q := net.c.ports[p]
	if q.a < 0 || q.b < 0 {
		if q.a == q.b {
			return 0
		}
		return math.Inf(1)
	}
	ohms := 0.0
	if a, b := net.row[q.a], net.row[q.b]; a != b {
		var ends portTerminals
		ends.add(a, 1)
		ends.add(b, -1)
		ohms = real(net.lu.inner(ends, ends))
	}
	if ohms >= OpenOhms {
		return math.Inf(1)
	}
	return ohms
}

// ColdOhmsWith is ColdOhms with some faults in the set. settings are as for StateOf.
func (c *Circuit) ColdOhmsWith(settings map[string]string, a, b string, tied bool, faults ...*Fault) float64 {
	i, ok := c.index[a]
	j, also := c.index[b]
	if !ok || !also {
		return math.Inf(1)
	}
	net := c.coldNet(c.StateOf(AsMarked, settings).combo, tied, faults)
	x := make([]complex128, net.n)
	if net.row[i] == net.row[j] {
		return 0
	}
	x[net.row[i]], x[net.row[j]] = 1, -1
	net.lu.solve(x)
	if ohms := real(x[net.row[i]] - x[net.row[j]]); ohms < OpenOhms {
		return ohms
	}
	return math.Inf(1)
}
