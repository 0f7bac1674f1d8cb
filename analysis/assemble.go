package analysis

import "coldcheck/netlist"

// mode is which of a state's three sets of equations is meant.
type mode int

const (
	acBlocking mode = iota // AC, every rectifier blocking
	acHeld                 // AC, reservoirs holding their voltage, for a rectifier that conducts
	dc
)

// baseKey says what is fixed in a base: everything but the plug's way (which is a matter of the
// source alone on the mains) and the faults.
type baseKey struct {
	combo   int
	mode    mode
	side    int  // the hot side, where it bears on the equations: an isolated supply at AC
	without bool // the shorts of failed parts left out
}

// base is the nodal equations of one switch combination, factored (modified nodal analysis: node
// voltages, and the currents of the branches that may open and of transformer windings).
type base struct {
	c       *Circuit
	mode    mode
	n       int
	row     []int // the unknown of each node
	isoNode int   // the unknown of an isolated supply's own terminal, -1 for earth
	offset  int   // branch k is unknown offset+k
	void    []bool
	follow  []int // the port that goes with a port, -1 for none
	joint   []joint
	lu      *lu
	places  [][2]int32     // by port: the unknowns whose difference it shows, n for one that is always 0
	columns [][]complex128 // by port: what one unit into it gives at every port
	unit    []complex128   // room for column
	alone   map[int]complex128
	battery []complex128 // what the batteries give at every port; nil for none
}

func (c *Circuit) key(combo int, m mode, way Way, without bool) baseKey {
	key := baseKey{combo: combo, mode: m, without: without && c.hasShort}
	if c.Bench.Isolated && m != dc {
		key.side = hotSide(way)
	}
	return key
}

func (c *Circuit) base(combo int, m mode, way Way, without bool) *base {
	key := c.key(combo, m, way, without)
	c.guard.Lock()
	b := c.bases[key]
	c.guard.Unlock()
	if b != nil {
		return b
	}
	b = c.assemble(key, nil)
	if c.keepsColumns {
		b.everyColumn()
	}
	c.guard.Lock()
	defer c.guard.Unlock()
	if other := c.bases[key]; other != nil {
		return other
	}
	c.bases[key] = b
	return b
}

// keepColumns makes every base with all its columns, where the search is one that reads them all or
// they are few, so that from then on the bases are only read. It reports whether it did.
func (c *Circuit) keepColumns(limit int) bool {
	if limit < 2 && c.columnBytes() > fewColumns {
		return false
	}
	c.keepsColumns = true
	for _, b := range c.bases { // those that are there already
		b.everyColumn()
	}
	modes := []mode{acBlocking}
	if c.sources {
		modes = append(modes, dc)
	}
	if len(c.sections) > 0 {
		modes = append(modes, acHeld)
	}
	SideBySide(len(c.combos)*len(modes), func(i int) {
		for _, way := range ways {
			c.base(i/len(modes), modes[i%len(modes)], way, false)
		}
	})
	return true
}

// dropColumns lets go of the columns where they are many: after the search few are read.
func (c *Circuit) dropColumns() {
	if !c.keepsColumns || c.columnBytes() <= fewColumns {
		return
	}
	c.keepsColumns = false
	for _, b := range c.bases {
		clear(b.columns)
	}
}

// Forget lets go of the equations and the wirings, which may be large. They are made again when they
// are asked for.
func (c *Circuit) Forget() {
	c.guard.Lock()
	defer c.guard.Unlock()
	c.bases, c.layouts, c.keepsColumns = map[baseKey]*base{}, nil, false
}

// roots joins the nodes that conductors join in a switch combination, and what the ports of stuck
// poles among applied join. A conductance as large as a joint's would drown the earth leaks.
func (c *Circuit) roots(combo int, applied ...int) []int {
	parent := make([]int, len(c.Set.Nodes))
	for i := range parent {
		parent[i] = i
	}
	find := func(i int) int {
		for parent[i] != i {
			parent[i] = parent[parent[i]]
			i = parent[i]
		}
		return i
	}
	for _, e := range c.elements {
		if c.joins(&e, combo) {
			parent[find(e.a)] = find(e.b)
		}
	}
	for _, p := range applied {
		if q := c.ports[p]; q.joins {
			parent[find(q.a)] = find(q.b)
		}
	}
	for i := range parent {
		parent[i] = find(i)
	}
	return parent
}

// joins tells whether an element merges its nodes in a switch combination.
func (c *Circuit) joins(e *element, combo int) bool {
	switch e.sort {
	case join:
		return true
	case pole, throw:
		for i, control := range c.Controls {
			if control.part == e.part {
				at := c.combos[combo][i].At
				if e.sort == pole {
					return at == "on"
				}
				for k, position := range control.Positions {
					if position == at {
						return control.throws[k] == e.index
					}
				}
			}
		}
	}
	return false
}

// assemble writes the equations and factors them. The ports of applied are put in before, for a
// set of faults that its ports alone cannot solve to the digits needed.
func (c *Circuit) assemble(key baseKey, applied []int) *base {
	b := &base{c: c, mode: key.mode, isoNode: -1}
	root := c.roots(key.combo, applied...)
	b.row = make([]int, len(root))
	for i := range b.row {
		b.row[i] = -1
	}
	for _, r := range root {
		if b.row[r] < 0 {
			b.row[r] = b.n
			b.n++
		}
	}
	for i, r := range root {
		b.row[i] = b.row[r]
	}
	if c.Bench.Isolated {
		b.isoNode = b.n
		b.n++
	}
	nodes := b.n
	b.offset = b.n
	b.n += c.branches

	s := newSparse(b.n)
	opened := make([]bool, c.branches)
	for _, p := range applied {
		if c.ports[p].branch >= 0 {
			opened[c.ports[p].branch] = true
		}
	}
	b.placeLeaks(s, nodes, opened)
	for _, p := range applied {
		if c.ports[p].branch >= 0 {
			continue
		}
		if a, z := b.node(c.ports[p].a), b.node(c.ports[p].b); a != z {
			s.stamp(a, z, complex(1/c.ports[p].ohms, 0))
		}
	}
	// branch writes a branch current from a to z: v(a) - v(z) - impedance·i = source.
	branch := func(k, a, z int, impedance complex128) {
		j := b.offset + k
		if opened[k] {
			s.add(j, j, 1)
			return
		}
		s.add(j, j, -impedance)
		if a == z {
			return
		}
		s.add(a, j, 1)
		s.add(z, j, -1)
		s.add(j, a, 1)
		s.add(j, z, -1)
	}
	idle := func(k int) { s.add(b.offset+k, b.offset+k, 1) }

	blades := [2]int{b.node(c.index[c.plug.Hot]), b.node(c.index[c.plug.Neutral])}
	for k, blade := range blades {
		branch(c.sides[k], blade, b.isoNode, SupplyOhms)
	}
	if c.contact >= 0 {
		branch(c.contact, b.node(c.index[c.plug.Earth]), -1, SupplyOhms)
	}
	if i, ok := c.index[netlist.BuildingEarth]; ok {
		s.stamp(b.node(i), -1, 1/BuildingOhms)
	}
	for _, name := range c.Bench.Earthed {
		s.stamp(b.node(c.index[name]), -1, 1/EarthedOhms)
	}
	if c.Bench.Isolated && key.mode != dc {
		y := complex(0, c.omega*IsolatedFarad)
		s.stamp(blades[key.side], -1, y)
		s.stamp(b.isoNode, -1, y)
	}
	for k := range c.elements {
		c.stampElement(s, b, &c.elements[k], key, branch, idle)
	}
	for _, t := range c.coupled {
		c.stampTransformer(s, b, t)
	}
	if key.mode == dc {
		b.battery = b.batteries()
	}
	b.lu = s.factor()
	if b.battery != nil {
		b.lu.solve(b.battery)
	}
	b.markVoid()
	b.columns = make([][]complex128, len(c.ports))
	b.places = make([][2]int32, len(c.ports))
	for p := range b.places {
		t := b.terminals(p)
		b.places[p] = [2]int32{int32(b.n), int32(b.n)}
		for i := range t.n {
			if t.sign[i] > 0 {
				b.places[p][0] = int32(t.at[i])
			} else {
				b.places[p][1] = int32(t.at[i])
			}
		}
	}
	return b
}

func (b *base) node(i int) int {
	if i < 0 {
		return -1
	}
	return b.row[i]
}

func (c *Circuit) stampElement(s *sparse, b *base, e *element, key baseKey, branch func(k, a, z int, impedance complex128), idle func(int)) {
	a, z := b.node(e.a), b.node(e.b)
	switch e.sort {
	case join, pole, throw:
	case link:
		branch(e.branch, a, z, complex(e.ohms, 0))
	case load:
		impedance := complex(e.ohms, c.omega*e.henrys)
		if key.mode == dc {
			impedance = complex(e.ohms, 0)
		}
		if e.branch >= 0 {
			branch(e.branch, a, z, impedance)
		} else if a != z {
			s.stamp(a, z, 1/impedance)
		}
	case capacitor:
		y := complex(0, 0)
		if e.leak > 0 {
			y = complex(1/e.leak, 0)
		}
		switch {
		case key.mode == acHeld && e.farads >= ReservoirFarad:
			y = 1 / ShortOhms
		case key.mode != dc:
			y += complex(0, c.omega*e.farads)
		}
		if a != z {
			s.stamp(a, z, y)
		}
	case battery:
		if a != z {
			s.stamp(a, z, complex(1/e.ohms, 0))
		}
	case rectifier:
		if key.mode == dc {
			branch(e.branch, z, a, complex(e.ohms, 0)) // out of the cathode
		} else {
			idle(e.branch)
		}
	case shorted:
		switch {
		case e.branch >= 0 && key.without:
			idle(e.branch)
		case e.branch >= 0:
			branch(e.branch, a, z, complex(e.ohms, 0))
		case !key.without && a != z:
			s.stamp(a, z, complex(1/e.ohms, 0))
		}
	}
}

// stampTransformer writes an ideal transformer at AC. Unknowns: the current i into the first end
// of each winding. Inside its ohms a winding has E = v(start) - v(end) - R·i; all E are in the
// ratio of the volts; and Σ volts·i = volts₁·Y·E₁, with Y the magnetising branch, a pure reactance
// across the ideal first winding. At DC the windings are their ohms.
func (c *Circuit) stampTransformer(s *sparse, b *base, t coupled) {
	first := t.windings[0]
	j0 := b.offset + t.branch
	for k, w := range t.windings {
		j := j0 + k
		a, z := b.node(w.a), b.node(w.b)
		s.add(a, j, 1)
		s.add(z, j, -1)
		if b.mode == dc {
			s.add(j, a, 1)
			s.add(j, z, -1)
			s.add(j, j, complex(-w.ohms, 0))
			continue
		}
		emf := func(row int, w winding, current int, scale complex128) {
			s.add(row, b.node(w.a), scale)
			s.add(row, b.node(w.b), -scale)
			s.add(row, current, complex(-w.ohms, 0)*scale)
		}
		s.add(j0, j, complex(w.volts/first.volts, 0))
		if k > 0 {
			emf(j, w, j, complex(first.volts/w.volts, 0))
			emf(j, first, j0, -1)
		}
	}
	if b.mode != dc {
		y := complex(MagnetisingAmps/first.volts, 0) / 1i
		s.add(j0, b.node(first.a), -y)
		s.add(j0, b.node(first.b), y)
		s.add(j0, j0, y*complex(first.ohms, 0))
	}
}

// batteries is the right-hand side of the batteries at DC, nil where there is none.
func (b *base) batteries() []complex128 {
	var rhs []complex128
	for _, e := range b.c.elements {
		if e.sort != battery || b.node(e.a) == b.node(e.b) {
			continue
		}
		if rhs == nil {
			rhs = make([]complex128, b.n)
		}
		amps := complex(e.volts/e.ohms, 0)
		rhs[b.node(e.a)] += amps
		rhs[b.node(e.b)] -= amps
	}
	return rhs
}

// markVoid finds the ports that change nothing here: both ends on one node, or a branch that is
// not in these equations.
func (b *base) markVoid() {
	b.void = make([]bool, len(b.c.ports))
	for i, p := range b.c.ports {
		if p.branch < 0 {
			b.void[i] = b.node(p.a) == b.node(p.b)
		}
	}
	if b.mode != dc {
		for _, k := range b.c.sections {
			b.void[b.c.elements[k].openPort] = true
		}
	}
}

// at reads a full solution at a port: volts across it, or the current of its branch.
func (b *base) at(x []complex128, p int) complex128 {
	q := &b.c.ports[p]
	if q.branch >= 0 {
		return x[b.offset+q.branch]
	}
	v := complex(0, 0)
	if q.a >= 0 {
		v = x[b.row[q.a]]
	}
	if q.b >= 0 {
		v -= x[b.row[q.b]]
	}
	return v
}

// into puts one unit into a port on a right-hand side: an ampere from b to a, or a volt in series
// with the branch.
func (b *base) into(p int, rhs []complex128) {
	t := b.terminals(p)
	for i := range t.n {
		rhs[t.at[i]] += complex(t.sign[i], 0)
	}
}

// column gives, for one unit into port p, what every port shows. It is kept.
func (b *base) column(p int) []complex128 {
	if b.columns[p] == nil {
		b.unit = resize(b.unit, b.n+1)
		clear(b.unit)
		b.into(p, b.unit)
		b.lu.solve(b.unit[:b.n])
		column := make([]complex128, len(b.c.ports))
		for q, place := range b.places {
			column[q] = b.unit[place[0]] - b.unit[place[1]]
		}
		b.columns[p] = column
	}
	return b.columns[p]
}

func (b *base) everyColumn() {
	for p := range b.columns {
		b.column(p)
	}
}

// between is what one unit into port p shows at port q. Where neither column is kept it is worked
// out alone, by the rows of the factored equations that the two ports reach.
func (b *base) between(p, q int) complex128 {
	switch {
	case b.columns[p] != nil:
		return b.columns[p][q]
	case b.columns[q] != nil:
		return b.columns[q][p]
	case p != q:
		return b.lu.inner(b.terminals(p), b.terminals(q))
	}
	if b.alone == nil {
		b.alone = map[int]complex128{}
	}
	own, known := b.alone[p]
	if !known {
		own = b.lu.inner(b.terminals(p), b.terminals(p))
		b.alone[p] = own
	}
	return own
}

// terminals are the unknowns at which a port stands, with the sign of a unit into it.
func (b *base) terminals(p int) (t portTerminals) {
	q := &b.c.ports[p]
	if q.branch >= 0 {
		t.add(b.offset+q.branch, 1)
		return t
	}
	if q.a >= 0 {
		t.add(b.row[q.a], 1)
	}
	if q.b >= 0 {
		t.add(b.row[q.b], -1)
	}
	return t
}
