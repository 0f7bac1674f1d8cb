package working

import (
	"math"
	"math/cmplx"

	"coldcheck/analysis/internal/circuit"
	"coldcheck/analysis/internal/unionfind"
	"coldcheck/netlist"
)

// What the working set takes parts to be, beside the constants of package circuit. A fuse has some
// resistance here, or its current could not be told from its volts.
const (
	fuseOhms      = 1e-3 // Ω
	tieSiemens    = 1e-9 // S, what floats to the reference
	coldOhms      = 1e12 // Ω, a rectifying section whose heater is not fed
	siliconVolts  = 0.7  // V, ahead of a dry rectifier's resistance
	seleniumVolts = 5.0  // V, a stack's
)

// ground is the reference of the equations; no node of a set has this place.
const ground = -1

// resistance is a branch of ohms: what it is, of which part, and what it stands at.
type resistance struct {
	what what
	part int // in Set.Parts, -1 for none
	name string
	a, b int
	ohms float64
	hot  float64 // of what glows: ohms at its rated volts
	full float64 // of what glows: its rated volts
}

// what tells the branches of a part apart.
type what int

const (
	plain what = iota // told of no one
	resistor
	potentiometer
	thermistor
	leak
	heater
	lamp
	limiter
	motor
	fuse
	winding
	plate
	screen
	body
)

// store is a branch that keeps volts or amps: a capacitor, or a coil with its own ohms.
type store struct {
	part         int
	coil, told   bool
	a, b         int
	farads       float64
	ohms, henrys float64
}

// source makes a positive against b by peak·sin(ωt + phase), behind ohms.
type source struct {
	a, b        int
	peak, phase float64
}

// constant is a battery.
type constant struct {
	part, a, b int
	ohms, emf  float64
}

// rectifier conducts as ohms behind drop volts where a is above b by more.
type rectifier struct {
	name       string
	part       int
	tube       bool
	a, b       int
	ohms, drop float64
	fed        float64 // its ohms while its heater is fed
}

// coil is one winding of an ideal transformer, inside its ohms.
type coil struct {
	a, b  int
	volts float64
}

// branches are a set in one position of its switches and controls, at instantaneous values. Nodes are
// numbered as in the set, those that are no node of it after them; sets joins what conductors join.
type branches struct {
	c         *circuit.Circuit
	o         Options
	nodes     int
	sets      *unionfind.Sets
	resist    []resistance
	store     []store
	source    []source
	constant  []constant
	rectifier []rectifier
	ideal     [][]coil
	reference int
	drawn     int // resist has what tubes draw from here on

	row         []int // by node: its equation
	rows        int
	all, direct *unionfind.Sets // which rows something joins, and something that passes DC; the last is ground
	ties        [][2]int
	coldTube    map[int]bool
	neutral     int     // the blade on the neutral side of the supply
	spent       float64 // multiplications, about
	inner       int     // all nodes, those that are no node of the set among them
}

// build takes a set apart.
func build(c *circuit.Circuit, o Options) *branches {
	n := &branches{c: c, o: o, nodes: len(c.Set.Nodes), coldTube: map[int]bool{}}
	// Nodes of its own: the supply's common, behind the lamp, within the body, one for each winding.
	most := n.nodes + 3
	for _, t := range c.Transformers {
		most += len(t.Windings)
	}
	n.sets = unionfind.New(most)
	n.inner = n.nodes
	for i := range c.Elements {
		if e := &c.Elements[i]; !c.TakenOut(e, o.Faults) {
			n.element(e)
		}
	}
	for k := range c.Transformers {
		n.transformer(&c.Transformers[k])
	}
	n.faults()
	n.supply()
	if o.Body >= 0 {
		within := n.fresh()
		n.ohms(body, -1, "body", o.Body, within, circuit.BodyOhms)
		n.ohms(plain, -1, "", within, ground, circuit.SkinOhms)
		n.store = append(n.store, store{part: -1, a: within, b: ground, farads: circuit.SkinFarads})
	}
	if m := o.Meter; m.Ohms > 0 {
		n.ohms(plain, -1, "", m.A, m.B, m.Ohms)
	}
	n.drawn = len(n.resist)
	n.draws()
	n.reference = o.Reference
	if n.reference < 0 {
		n.reference = n.commonNegative()
	}
	n.number()
	return n
}

// fresh is a node that is none of the set's.
func (n *branches) fresh() int {
	n.inner++
	return n.inner - 1
}

func (n *branches) ohms(w what, part int, name string, a, b int, ohms float64) {
	n.resist = append(n.resist, resistance{what: w, part: part, name: name, a: a, b: b, ohms: ohms, hot: ohms, full: n.full(w, part, ohms)})
}

// full are the rated volts of a branch that glows, of so many ohms hot; 0 for others.
func (n *branches) full(w what, part int, ohms float64) float64 {
	switch w {
	case heater:
		return ohms * n.c.Set.Parts[part].Detail.(*netlist.Tube).Type.Heater.Amps
	case lamp:
		return n.c.Set.Parts[part].Detail.(*netlist.Lamp).Volts
	case limiter:
		return n.o.Lamp.Volts
	}
	return 0
}

func (n *branches) element(e *circuit.Element) {
	c, position := n.c, n.o.Position
	name := c.PartOf(e).Name
	switch e.Sort {
	case circuit.Join, circuit.Pole, circuit.Throw, circuit.Contact:
		if c.Closed(e, position) || e.Sort == circuit.Contact && c.Made(e, position) {
			n.sets.Union(e.A, e.B)
		}
	case circuit.Link:
		if c.PartOf(e).Kind != netlist.KindFuse {
			n.sets.Union(e.A, e.B)
			return
		}
		n.ohms(fuse, e.Part, name, e.A, e.B, fuseOhms)
	case circuit.Load:
		if e.Henrys > 0 {
			n.store = append(n.store, store{part: e.Part, coil: true, told: true, a: e.A, b: e.B, ohms: e.Ohms, henrys: e.Henrys})
			return
		}
		n.ohms(whatOf(c.PartOf(e)), e.Part, name, e.A, e.B, c.OhmsAt(e, position))
	case circuit.Capacitor:
		n.store = append(n.store, store{part: e.Part, told: true, a: e.A, b: e.B, farads: e.Farads})
		if e.LeakOhms > 0 {
			n.ohms(leak, e.Part, name, e.A, e.B, e.LeakOhms)
		}
	case circuit.Battery:
		n.constant = append(n.constant, constant{e.Part, e.A, e.B, e.Ohms, e.Volts})
	case circuit.Shunt:
		if n.o.Sound {
			return
		}
		n.ohms(plain, e.Part, name, e.A, e.B, e.Ohms)
	case circuit.Rectifier:
		n.rectifies(e)
	}
}

// whatOf is what a resistance without an inductance is told as.
func whatOf(p *netlist.Part) what {
	switch p.Kind {
	case netlist.KindResistor:
		return resistor
	case netlist.KindPotentiometer:
		return potentiometer
	case netlist.KindThermistor:
		return thermistor
	case netlist.KindTube:
		return heater
	case netlist.KindLamp:
		return lamp
	case netlist.KindMotor:
		return motor
	case netlist.KindTransformer:
		return winding
	}
	return plain
}

func (n *branches) rectifies(e *circuit.Element) {
	r := rectifier{name: e.Label, part: e.Part, a: e.A, b: e.B, ohms: circuit.DryOhms}
	switch d := n.c.PartOf(e).Detail.(type) {
	case *netlist.Tube:
		r.tube, r.ohms = true, circuit.TubeOhms
		if drop := d.Type.Drop; drop.Amps > 0 {
			r.ohms = drop.Volts / drop.Amps
		}
	case *netlist.Rectifier:
		r.drop = seleniumVolts
		if d.Type == "silicon" {
			r.drop = siliconVolts
		}
	}
	r.fed = r.ohms
	n.rectifier = append(n.rectifier, r)
}

func (n *branches) transformer(t *circuit.Transformer) {
	var windings []coil
	p := n.c.Set.Parts[t.Part]
	names := p.Detail.(*netlist.Transformer).Windings
	for k, w := range t.Windings {
		within := n.fresh()
		n.ohms(winding, t.Part, p.Name+"."+names[k].Name, w.A, within, w.Ohms)
		windings = append(windings, coil{within, w.B, w.Volts})
	}
	first := windings[0]
	n.store = append(n.store, store{part: t.Part, coil: true, a: first.a, b: first.b,
		henrys: first.volts / circuit.MagnetisingAmps / n.c.Omega})
	n.ideal = append(n.ideal, windings)
}

// faults puts in what the faults at hand join.
func (n *branches) faults() {
	for _, f := range n.o.Faults {
		switch {
		case f.Kind == circuit.Stuck:
			n.sets.Union(f.A, f.B)
		case f.Short:
			n.ohms(plain, -1, "", f.A, f.B, circuit.ShortOhms)
		}
	}
}

func (n *branches) supply() {
	c := n.c
	hot, neutral := c.Blades(n.o.Plug)
	n.neutral, _ = c.Node(neutral)
	blade, _ := c.Node(hot)
	outlet, common := blade, ground
	if l := n.o.Lamp; l != nil {
		outlet = n.fresh()
		n.ohms(limiter, -1, "", outlet, blade, l.Volts*l.Volts/l.Watts)
	}
	if c.Floating() {
		common = n.fresh()
		for _, side := range []int{outlet, common} {
			n.store = append(n.store, store{part: -1, a: side, b: ground, farads: circuit.IsolatedFarad})
		}
	}
	first, second := c.Supply()
	if c.Floating() {
		first, second = complex(c.Set.Volts, 0), 0
	}
	sides := []int{outlet, n.neutral}
	for k, volts := range []complex128{first, second} {
		if k == 1 && circuit.HasKind(n.o.Faults, circuit.NeutralLost) {
			continue
		}
		peak, phase := math.Sqrt2*cmplx.Abs(volts)*n.o.Percent/100, cmplx.Phase(volts)
		n.source = append(n.source, source{sides[k], common, peak, phase})
	}
	if c.Plug.Earth != "" && !circuit.HasKind(n.o.Faults, circuit.EarthLost) {
		contact, _ := c.Node(c.Plug.Earth)
		n.ohms(plain, -1, "", contact, ground, circuit.SupplyOhms)
	}
	if earth, ok := c.Node(netlist.BuildingEarth); ok {
		n.ohms(plain, -1, "", earth, ground, circuit.BuildingOhms)
	}
	for _, name := range c.Bench.Earthed {
		clipped, _ := c.Node(name)
		n.ohms(plain, -1, "", clipped, ground, circuit.EarthedOhms)
	}
}

// draws puts in what the tubes draw whose heaters are fed, and shuts the rectifiers whose are not.
func (n *branches) draws() {
	n.resist = n.resist[:n.drawn]
	for i := range n.c.Elements {
		e := &n.c.Elements[i]
		if e.Sort != circuit.Draw || n.o.Undrawn || n.coldTube[e.Part] || n.c.TakenOut(e, n.o.Faults) {
			continue
		}
		w := plate
		if e.Screen {
			w = screen
		}
		ohms := e.Ohms
		if times := n.o.Drawn[e.Part]; times > 0 {
			ohms /= times
		}
		n.ohms(w, e.Part, n.c.PartOf(e).Name, e.A, e.B, ohms)
	}
	for k := range n.rectifier {
		r := &n.rectifier[k]
		if r.ohms = r.fed; r.tube && n.coldTube[r.part] {
			r.ohms = coldOhms
		}
	}
}

// number gives every joined node an equation, and ties what floats.
func (n *branches) number() {
	n.row = make([]int, n.inner)
	of := map[int]int{}
	n.rows = 0
	for i := range n.inner {
		first := n.sets.Find(i)
		at, ok := of[first]
		if !ok {
			at = n.rows
			of[first] = at
			n.rows++
		}
		n.row[i] = at
	}
	n.group()
	reference, earth := n.at(n.reference), n.rows
	n.ties = n.ties[:0]
	done := map[int]bool{n.all.Find(earth): true}
	for i := range n.rows {
		switch leader := n.all.Find(i); {
		case done[leader]:
		case n.all.Same(i, reference):
			done[leader] = true
			n.ties = append(n.ties, [2]int{reference, ground})
		default:
			done[leader] = true
			n.ties = append(n.ties, [2]int{i, reference})
		}
	}
}

// at is the row of a node, ground for ground.
func (n *branches) at(node int) int {
	if node == ground {
		return ground
	}
	return n.row[node]
}

// group tells which rows something joins, at all and for DC. A winding joins its own two ends alone.
func (n *branches) group() {
	n.all, n.direct = unionfind.New(n.rows+1), unionfind.New(n.rows+1)
	join := func(a, b int, direct bool) {
		n.all.Union(n.place(a), n.place(b))
		if direct {
			n.direct.Union(n.place(a), n.place(b))
		}
	}
	n.eachBranch(join)
	for _, windings := range n.ideal {
		for _, w := range windings {
			join(w.a, w.b, true)
		}
	}
	n.all.Firsts()
	n.direct.Firsts() // from here on they are only read, by many at once
}

// eachBranch visits the two ends of every branch but the windings inside their ohms, and tells whether it passes
// DC.
func (n *branches) eachBranch(visit func(a, b int, direct bool)) {
	for _, r := range n.resist {
		visit(r.a, r.b, true)
	}
	for _, s := range n.store {
		visit(s.a, s.b, s.coil)
	}
	for _, s := range n.source {
		visit(s.a, s.b, true)
	}
	for _, b := range n.constant {
		visit(b.a, b.b, true)
	}
	for _, r := range n.rectifier {
		visit(r.a, r.b, true)
	}
}

// spend counts work: period looks whether some is left.
func (n *branches) spend(work int) { n.spent += float64(work) }

// joined reports whether something joins two nodes.
func (n *branches) joined(a, b int, sets *unionfind.Sets) bool {
	return sets.Same(n.place(a), n.place(b))
}

// place is the row of a node among all and direct, where ground has one too.
func (n *branches) place(node int) int {
	if node == ground {
		return n.rows
	}
	return n.row[node]
}
