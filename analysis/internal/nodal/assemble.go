package nodal

import (
	"slices"

	"coldcheck/analysis/internal/circuit"
	"coldcheck/analysis/internal/sparse"
	"coldcheck/netlist"
)

// writer writes the equations of one key.
type writer struct {
	b      *Equations
	s      *sparse.Matrix
	opened []bool // by branch
}

// assemble writes the equations and factors them. The ports of applied are put in before, for a set
// of faults that an update cannot solve to the digits needed.
func (n *Network) assemble(k key, applied []int) *Equations {
	b := &Equations{net: n, key: k, own: map[int]complex128{}}
	if k.blown != nil {
		applied = append(slices.Clone(k.blown.ports), applied...)
	}
	nodes := b.number(applied)
	w := &writer{b: b, s: sparse.New(b.size), opened: make([]bool, n.branches)}
	for _, p := range applied {
		if n.ports[p].branch >= 0 {
			w.opened[n.ports[p].branch] = true
		}
	}
	least := complex(circuit.MinimumSiemens, 0)
	if k.mode == circuit.Unplugged {
		least = circuit.UnpluggedSiemens
	}
	has := b.leastOf(nodes)
	for _, p := range applied {
		if q := b.parting[p]; q >= 0 {
			has[b.node(n.ports[q].a)] = true
		}
	}
	for i := range has {
		if has[i] {
			w.s.Add(i, i, least)
		}
	}
	w.put(applied)
	if k.mode == circuit.Unplugged {
		w.unplugged()
	} else {
		w.supply()
	}
	for i := range n.Circuit.Elements {
		w.element(i)
	}
	for i := range n.Circuit.Transformers {
		w.transformer(i)
	}
	b.lu = w.s.Factor()
	if k.mode.DC() {
		if b.battery = b.batteries(); b.battery != nil {
			b.lu.Solve(b.battery)
		}
	}
	b.markInactive()
	b.placePorts()
	return b
}

// number gives every joined node an unknown, a floating supply's own terminal another, and every
// branch current one. It reports how many are nodes.
func (b *Equations) number(applied []int) (nodes int) {
	n := b.net
	joined := n.Circuit.Merged(b.key.position)
	for _, p := range applied {
		if q := n.ports[p]; q.merges { // a conductance as large as a closed pole's would drown the others
			joined.Union(q.a, q.b)
		}
	}
	first := joined.Firsts()
	b.row = make([]int, len(first))
	for i, f := range first {
		if f == i {
			b.row[i] = b.size
			b.size++
		} else {
			b.row[i] = b.row[f]
		}
	}
	b.source = -1
	if n.Circuit.Floating() {
		b.source = b.size
		b.size++
	}
	nodes = b.size
	b.offset = b.size
	b.size += n.branches
	return nodes
}

// leastOf is, by node, whether it has a minimum conductance: of the nodes that whole fuses and contacts
// join it is one, and what parts from it has one of its own. It notes, by the port that opens an
// element, the port that puts it there.
func (b *Equations) leastOf(nodes int) []bool {
	n := b.net
	type end struct{ to, element, port int }
	next := make([][]end, nodes)
	for i := range n.Circuit.Elements {
		e, p := &n.Circuit.Elements[i], n.element[i]
		if _, conducts := b.impedance(e); conducts && joinsNodes(e) {
			x, y := b.node(e.A), b.node(e.B)
			next[x], next[y] = append(next[x], end{y, i, p.least + 1}), append(next[y], end{x, i, p.least})
		}
	}
	b.parting = make([]int32, len(n.ports))
	for p := range b.parting {
		b.parting[p] = -1
	}
	least, joined := make([]bool, nodes), make([]bool, nodes)
	for i := range nodes {
		if joined[i] {
			continue
		}
		least[i], joined[i] = true, true
		for stack := []int{i}; len(stack) > 0; {
			from := stack[len(stack)-1]
			stack = stack[:len(stack)-1]
			for _, e := range next[from] {
				if !joined[e.to] {
					joined[e.to] = true
					stack = append(stack, e.to)
					if opens := n.element[e.element].opens; opens >= 0 {
						b.parting[opens] = int32(e.port)
					}
				}
			}
		}
	}
	return least
}

// put writes the ports that are conductances.
func (w *writer) put(applied []int) {
	for _, p := range applied {
		q := w.b.net.ports[p]
		if q.branch >= 0 {
			continue
		}
		if a, z := w.b.node(q.a), w.b.node(q.b); a != z {
			w.s.Stamp(a, z, complex(1/q.ohms, 0))
		}
	}
}

// branch writes a branch current from a to z: v(a) - v(z) - impedance·i = source.
func (w *writer) branch(k, a, z int, impedance complex128) {
	j := w.b.offset + k
	if w.opened[k] {
		w.s.Add(j, j, 1)
		return
	}
	w.s.Add(j, j, -impedance)
	if a == z {
		return
	}
	w.s.Add(a, j, 1)
	w.s.Add(z, j, -1)
	w.s.Add(j, a, 1)
	w.s.Add(j, z, -1)
}

// noBranch is the equation of a branch that conducts nothing here.
func (w *writer) noBranch(k int) { w.s.Add(w.b.offset+k, w.b.offset+k, 1) }

// blades are the unknowns of the plug's two blades.
func (b *Equations) blades() [2]int {
	c := b.net.Circuit
	hot, _ := c.Node(c.Plug.Hot)
	neutral, _ := c.Node(c.Plug.Neutral)
	return [2]int{b.node(hot), b.node(neutral)}
}

// supply writes the two sides of the supply, the earth contact, the building's earth and what is
// clipped to earth.
func (w *writer) supply() {
	b, n, c := w.b, w.b.net, w.b.net.Circuit
	blades := b.blades()
	for k, blade := range blades {
		w.branch(n.sides[k], blade, b.source, circuit.SupplyOhms)
	}
	if n.contact >= 0 {
		earth, _ := c.Node(c.Plug.Earth)
		w.branch(n.contact, b.node(earth), -1, circuit.SupplyOhms)
	}
	if i, ok := c.Node(netlist.BuildingEarth); ok {
		w.s.Stamp(b.node(i), -1, 1/circuit.BuildingOhms)
	}
	for _, name := range c.Bench.Earthed {
		i, _ := c.Node(name)
		w.s.Stamp(b.node(i), -1, 1/circuit.EarthedOhms)
	}
	if c.Floating() && !b.key.mode.DC() {
		y := complex(0, c.Omega*circuit.IsolatedFarad)
		w.s.Stamp(blades[b.key.side], -1, y)
		w.s.Stamp(b.source, -1, y)
	}
}

// unplugged writes what is left of the supply when the plug is out: the blades, tied together or not.
func (w *writer) unplugged() {
	b, n := w.b, w.b.net
	for _, k := range n.sides {
		w.noBranch(k)
	}
	if n.contact >= 0 {
		w.noBranch(n.contact)
	}
	if blades := b.blades(); b.key.tied && blades[0] != blades[1] {
		w.s.Stamp(blades[0], blades[1], 1/circuit.UnpluggedJoinOhms)
	}
}

// element writes an element, as a branch current where it may open.
func (w *writer) element(i int) {
	c := w.b.net.Circuit
	e, k := &c.Elements[i], w.b.net.element[i].branch
	if e.Sort == circuit.Join || e.Sort == circuit.Pole || e.Sort == circuit.Throw {
		return // they merge nodes
	}
	a, z := w.b.node(e.A), w.b.node(e.B)
	impedance, conducts := w.b.impedance(e)
	switch {
	case k < 0 && conducts && a != z:
		w.s.Stamp(a, z, 1/impedance)
	case k < 0:
	case !conducts:
		w.noBranch(k)
	case e.Sort == circuit.Rectifier:
		w.branch(k, z, a, impedance) // out of the cathode
	default:
		w.branch(k, a, z, impedance)
	}
}

// impedance is what an element is in these equations; ok is false where it conducts nothing.
func (b *Equations) impedance(e *circuit.Element) (ohms complex128, ok bool) {
	if e.Sort == circuit.Shunt && b.key.without {
		return 0, false
	}
	return b.net.Circuit.Impedance(e, b.key.mode, b.key.position)
}

// transformer writes an ideal transformer at AC. Unknowns: the current i into the first end of each
// winding. Inside its ohms a winding has E = v(start) - v(end) - R·i; all E are in the ratio of the
// volts; and Σ volts·i = volts₁·Y·E₁, with Y the magnetising branch, a pure reactance across the
// ideal first winding. At DC the windings are their ohms.
func (w *writer) transformer(i int) {
	b, s := w.b, w.s
	t := b.net.Circuit.Transformers[i]
	direct := b.key.mode.DC() || b.key.mode == circuit.Unplugged
	first := t.Windings[0]
	j0 := b.offset + b.net.transformer[i]
	// emf writes scale times a winding's E into an equation.
	emf := func(row int, x circuit.Winding, current int, scale complex128) {
		s.Add(row, b.node(x.A), scale)
		s.Add(row, b.node(x.B), -scale)
		s.Add(row, current, complex(-x.Ohms, 0)*scale)
	}
	for k, x := range t.Windings {
		j := j0 + k
		s.Add(b.node(x.A), j, 1)
		s.Add(b.node(x.B), j, -1)
		if direct {
			emf(j, x, j, 1)
			continue
		}
		s.Add(j0, j, complex(x.Volts/first.Volts, 0))
		if k > 0 {
			emf(j, x, j, complex(first.Volts/x.Volts, 0))
			emf(j, first, j0, -1)
		}
	}
	if !direct {
		emf(j0, first, j0, -complex(circuit.MagnetisingAmps/first.Volts, 0)/1i)
	}
}

// batteries is the right-hand side of the batteries at DC, nil where there is none.
func (b *Equations) batteries() []complex128 {
	var rhs []complex128
	for i := range b.net.Circuit.Elements {
		e := &b.net.Circuit.Elements[i]
		if e.Sort != circuit.Battery || b.node(e.A) == b.node(e.B) {
			continue
		}
		if rhs == nil {
			rhs = make([]complex128, b.size)
		}
		amps := complex(e.Volts/e.Ohms, 0)
		rhs[b.node(e.A)] += amps
		rhs[b.node(e.B)] -= amps
	}
	return rhs
}
