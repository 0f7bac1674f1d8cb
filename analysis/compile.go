package analysis

import (
	"fmt"
	"slices"
	"sync"

	"coldcheck/netlist"
)

// sort is what an element does to the equations.
type sort int

const (
	join      sort = iota // a conductor that never opens: merges its nodes
	link                  // a conductor that may open: a fuse, an earth wire
	pole                  // joins when the switch is on, or stuck
	throw                 // joins when the selector stands there
	load                  // ohms and henrys in series
	capacitor             // farads, with leakage in parallel
	battery               // a is positive
	rectifier             // a is the anode
	shorted               // the short of a failed part
)

// element is a primitive piece of a part; it goes when that part is open or pulled.
type element struct {
	sort         sort
	part         int // in Set.Parts
	a, b         int // nodes
	ohms, henrys float64
	farads, leak float64 // leak in ohms, 0 for none
	volts        float64
	index        int    // of a pole or a throw
	label        string // of a rectifier
	heater       bool
	opens        bool   // some fault can take it out
	branch       int    // its place among the branch currents, -1 for none
	port         int    // of a rectifier: the port that makes it conduct
	openPort     int    // the port that takes it out, -1 for none
	leaks        [2]int // of a link: the ports of one more earth leak at a and at b
}

// coupled is a transformer with volts.
type coupled struct {
	part     int
	windings []winding
	branch   int // of the first winding's current
}

type winding struct {
	a, b        int
	volts, ohms float64
}

// TouchPoint is a touch point with its guard, if it has one.
type TouchPoint struct {
	*netlist.Node
	GuardFault *Fault // nil where the point is bare
	node       int
	port       int
}

// Bench is what the set is plugged into, and what is clipped to it.
type Bench struct {
	Isolated bool     // an isolating transformer between outlet and plug
	Earthed  []string // nodes tied to earth by an instrument's lead
}

// Circuit is a set made ready for analysis. It may be used by one goroutine at a time.
type Circuit struct {
	Set      *netlist.Set
	Bench    Bench
	Controls []Control
	Points   []TouchPoint
	// Faults are all faults of parts and supply, in the order of the file; guards are with the
	// points.
	Faults []*Fault
	// Rectifiers are the names of those that can be taken as conducting.
	Rectifiers []string

	plug     *netlist.Plug
	plugPart int
	index    map[string]int
	elements []element
	coupled  []coupled
	sections []int // elements that are rectifiers
	combos   [][]Setting
	branches int // how many branch currents
	sides    [2]int
	contact  int // the branch of the plug's earth contact, -1 for none
	ports    []port
	sidePort [2]int // opens, or feeds, a side of the supply: as-marked hot, as-marked neutral
	joints   []int  // ports that join each bare point to the first bare one
	omega    float64
	body     complex128
	hasShort bool
	sources  bool               // rectifiers or batteries: the set has a DC side
	whole    map[string]float64 // by part: see wholeOhms

	known        map[faultKey]*Fault
	faultsOf     map[string][]*Fault // by part
	guard        sync.Mutex          // of bases and layouts
	bases        map[baseKey]*base
	layouts      map[layoutKey]*layout
	keepsColumns bool // every base is made with all its columns
	solvers      sync.Pool
}

// New makes a set ready on a bench. It fails only where the bench names a node that is not there.
func New(set *netlist.Set, bench Bench) (*Circuit, error) {
	c := &Circuit{Set: set, Bench: bench, index: map[string]int{}, contact: -1, omega: omegaOf(set.Hertz), body: BodyImpedance(omegaOf(set.Hertz)), bases: map[baseKey]*base{}, known: map[faultKey]*Fault{}, faultsOf: map[string][]*Fault{}}
	for i, n := range set.Nodes {
		c.index[n.Name] = i
	}
	for _, name := range bench.Earthed {
		if _, ok := c.index[name]; !ok {
			return nil, &UnknownNode{Name: name}
		}
	}
	for i, p := range set.Parts {
		c.addPart(i, p)
	}
	c.addFault(&Fault{Part: SupplyName, Kind: NeutralLost, Cost: 1})
	if c.plug.Earth != "" {
		c.addFault(&Fault{Part: SupplyName, Kind: EarthLost, Cost: 1})
	}
	for _, n := range set.TouchPoints() {
		c.Points = append(c.Points, TouchPoint{Node: n, GuardFault: guardFault(n), node: c.index[n.Name]})
	}
	c.combos = combinations(c.Controls)
	c.sources = c.hasSources()
	c.whole = c.wholeOhms()
	c.layOut()
	return c, nil
}

// UnknownNode is the error of a bench that names a node that the set does not have.
type UnknownNode struct{ Name string }

func (e *UnknownNode) Error() string { return fmt.Sprintf("no node %q in the set", e.Name) }

func guardFault(n *netlist.Node) *Fault {
	if n.Guard == "" {
		return nil
	}
	f := &Fault{Part: n.Name, Kind: GuardOff, Cost: 1, index: -1}
	if n.GuardSuspect {
		f.Cost = 0
	}
	return f
}

// gradeCost is how many layers a grade of insulation stands for (IEC 61140): functional
// insulation was never meant to protect.
func gradeCost(g netlist.Grade) int {
	switch g {
	case netlist.Functional:
		return 0
	case netlist.Double, netlist.Reinforced:
		return 2
	}
	return 1
}

func (c *Circuit) addElement(e element) {
	e.branch, e.port, e.openPort = -1, -1, -1
	c.elements = append(c.elements, e)
}

// faultKey is what tells one fault from another.
type faultKey struct {
	part  string
	kind  FaultKind
	short bool
	pole  int
	a, b  int // nodes, the lesser first
}

// addFault keeps one fault for one part, kind and pair of nodes, at the lower cost.
func (c *Circuit) addFault(f *Fault) {
	key := faultKey{f.Part, f.Kind, f.short, f.pole, min(f.a, f.b), max(f.a, f.b)}
	if g := c.known[key]; g != nil {
		g.Cost = min(g.Cost, f.Cost)
		return
	}
	c.known[key] = f
	f.index = len(c.Faults)
	c.Faults = append(c.Faults, f)
	c.faultsOf[f.Part] = append(c.faultsOf[f.Part], f)
}

// FaultsOf lists the faults of a part, or of the supply by SupplyName, in the order of the file.
func (c *Circuit) FaultsOf(part string) []*Fault { return c.faultsOf[part] }

// breakdown is something between a and b that should not conduct, and may. A failed part conducts
// in every state, but for a frame or a winding, of which no one knows where it conducts.
func (c *Circuit) breakdown(i int, kind FaultKind, a, b string, cost int, named bool) {
	if a == b {
		return
	}
	p := c.Set.Parts[i]
	if p.Condition == netlist.Failed && !(kind == InsulationOut && named) {
		_, tube := p.Detail.(*netlist.Tube)
		c.addElement(element{sort: shorted, part: i, a: c.index[a], b: c.index[b], ohms: ShortOhms, opens: tube})
		c.hasShort = true
		return
	}
	if p.Condition != netlist.Good {
		cost = 0
	}
	f := &Fault{Part: p.Name, Kind: kind, Cost: cost, Nodes: [2]string{a, b}, short: true, a: c.index[a], b: c.index[b]}
	if named {
		f.Between = []string{a, b}
	}
	c.addFault(f)
}

func (c *Circuit) addPart(i int, p *netlist.Part) {
	node := func(name string) int { return c.index[name] }
	resistive := func(a, b string, ohms, henrys float64, opens bool) {
		c.addElement(element{sort: load, part: i, a: node(a), b: node(b), ohms: ohms, henrys: henrys, opens: opens})
	}
	open := func() { c.addFault(&Fault{Part: p.Name, Kind: Open, Cost: 1}) }

	switch d := p.Detail.(type) {
	case *netlist.Plug:
		c.plug, c.plugPart = d, i
	case *netlist.Switch:
		for k, ends := range d.Poles {
			c.addElement(element{sort: pole, part: i, a: node(ends[0]), b: node(ends[1]), index: k})
			if len(d.Poles) > 1 {
				c.addFault(&Fault{Part: p.Name, Kind: Stuck, Cost: 1, Between: []string{ends[0], ends[1]},
					Nodes: ends, a: node(ends[0]), b: node(ends[1]), pole: k})
			}
		}
		c.Controls = append(c.Controls, Control{Name: p.Name, Positions: []string{"on", "off"}, part: i})
	case *netlist.Selector:
		c.addSelector(i, p.Name, d)
	case *netlist.Fuse:
		c.addElement(element{sort: link, part: i, a: node(d.Ends[0]), b: node(d.Ends[1]), ohms: joinOhms, opens: true})
		open()
	case *netlist.Wire:
		if d.Ends[0] == netlist.BuildingEarth || d.Ends[1] == netlist.BuildingEarth {
			c.addElement(element{sort: link, part: i, a: node(d.Ends[0]), b: node(d.Ends[1]), ohms: joinOhms, opens: true})
			c.addFault(&Fault{Part: p.Name, Kind: EarthLost, Cost: 1})
		} else {
			c.addElement(element{sort: join, part: i, a: node(d.Ends[0]), b: node(d.Ends[1])})
		}
	case *netlist.Resistor:
		resistive(d.Ends[0], d.Ends[1], d.InUse(), 0, true)
		open()
		if d.InUse() >= BarrierOhms {
			c.breakdown(i, Shorted, d.Ends[0], d.Ends[1], 1, false)
		}
	case *netlist.Potentiometer:
		if d.Wiper != "" {
			resistive(d.Ends[0], d.Wiper, d.Ohms/2, 0, true)
			resistive(d.Wiper, d.Ends[1], d.Ohms/2, 0, true)
		} else {
			resistive(d.Ends[0], d.Ends[1], d.Ohms, 0, true)
		}
		open()
		if d.Ohms >= BarrierOhms {
			c.breakdown(i, Shorted, d.Ends[0], d.Ends[1], 1, false)
		}
	case *netlist.Capacitor:
		c.addElement(element{sort: capacitor, part: i, a: node(d.Ends[0]), b: node(d.Ends[1]), farads: d.Farads, leak: d.LeakOhms})
		cost := 1
		if SafetyClassY1(d.Class) {
			cost = 2
		}
		c.breakdown(i, Shorted, d.Ends[0], d.Ends[1], cost, false)
	case *netlist.Coil:
		resistive(d.Ends[0], d.Ends[1], d.Ohms, d.Henrys, true)
		open()
	case *netlist.Motor:
		resistive(d.Ends[0], d.Ends[1], d.Volts/d.Amps, 0, true)
		open()
	case *netlist.Lamp:
		resistive(d.Ends[0], d.Ends[1], d.Volts/d.Amps, 0, true)
		open()
	case *netlist.Transformer:
		c.addTransformer(i, d)
	case *netlist.Tube:
		c.addTube(i, p.Name, d)
	case *netlist.Rectifier:
		c.addRectifier(i, p.Name, d.Anode, d.Cathode, DryOhms, false)
	case *netlist.Battery:
		c.addElement(element{sort: battery, part: i, a: node(d.Positive), b: node(d.Negative), ohms: BatteryOhms, volts: d.Volts})
	case *netlist.Insulation:
		c.breakdown(i, InsulationOut, d.Ends[0], d.Ends[1], gradeCost(d.Grade), false)
	default:
		panic(fmt.Sprintf("analysis: part of kind %T", d))
	}
	if p.Frame != "" {
		for _, t := range p.Terminals {
			c.breakdown(i, InsulationOut, t.Node, p.Frame, gradeCost(p.FrameInsulation), true)
		}
	}
}

// SafetyClassY1 tells whether a class mark includes Y1, which counts as reinforced (IEC 60384-14).
func SafetyClassY1(class string) bool {
	return class == "Y1" || len(class) > 3 && class[len(class)-3:] == "/Y1"
}

func (c *Circuit) addSelector(i int, name string, d *netlist.Selector) {
	for _, deck := range d.Decks {
		for k, throwNode := range deck.Throws {
			if throwNode != "" {
				c.addElement(element{sort: throw, part: i, a: c.index[deck.Common], b: c.index[throwNode], index: k})
			}
		}
	}
	control := Control{Name: name, part: i}
	for k, position := range d.Positions {
		if d.Fixed == "" || d.Fixed == position {
			control.Positions = append(control.Positions, position)
			control.throws = append(control.throws, k)
		}
	}
	c.Controls = append(c.Controls, control)
}

func (c *Circuit) addTransformer(i int, d *netlist.Transformer) {
	t := coupled{part: i}
	for _, w := range d.Windings {
		if !d.Coupled {
			c.addElement(element{sort: load, part: i, a: c.index[w.Start], b: c.index[w.End], ohms: WindingOhms})
			continue
		}
		ohms := LowWindingOhms
		if w.Volts >= HighWinding {
			ohms = WindingOhms
		}
		t.windings = append(t.windings, winding{c.index[w.Start], c.index[w.End], w.Volts, ohms})
	}
	if d.Coupled {
		c.coupled = append(c.coupled, t)
	}
	group := windingGroups(d.Windings)
	for v := range d.Windings {
		for w := v + 1; w < len(d.Windings); w++ {
			if group[v] != group[w] {
				for _, end := range []string{d.Windings[w].Start, d.Windings[w].End} {
					c.breakdown(i, InsulationOut, d.Windings[v].Start, end, gradeCost(d.Insulation), true)
				}
			}
		}
	}
}

// windingGroups numbers the windings so that those that name a common node, directly or through
// a third winding, have one number: there is no insulation between them.
func windingGroups(windings []netlist.Winding) []int {
	group := make([]int, len(windings))
	for i := range group {
		group[i] = i
	}
	for v := range windings {
		for w := v + 1; w < len(windings); w++ {
			a, b := windings[v], windings[w]
			if a.Start == b.Start || a.Start == b.End || a.End == b.Start || a.End == b.End {
				from, to := group[w], group[v]
				for i := range group {
					if group[i] == from {
						group[i] = to
					}
				}
			}
		}
	}
	return group
}

func (c *Circuit) addTube(i int, name string, d *netlist.Tube) {
	if h := d.Type.Heater; h != nil {
		for _, s := range heaterSections(d, h) {
			c.addElement(element{sort: load, part: i, a: c.index[s.a], b: c.index[s.b], ohms: s.ohms, heater: true, opens: true})
		}
	}
	var wired []netlist.Section
	for _, s := range d.Type.Rectifiers {
		if d.Node(s.Anode) != "" && d.Node(s.Cathode) != "" {
			wired = append(wired, s)
		}
	}
	for _, s := range wired {
		label := name
		if len(wired) > 1 {
			label = fmt.Sprintf("%s:%d", name, s.Anode)
		}
		c.addRectifier(i, label, d.Node(s.Anode), d.Node(s.Cathode), TubeOhms, len(wired) > 1)
	}
	if h := d.Type.Heater; h != nil {
		first := d.Node(h.Pins[0])
		if first == "" {
			first = d.Node(h.Pins[1])
		}
		var cathodes []string
		for _, pin := range d.Type.Cathodes {
			if n := d.Node(pin); n != "" {
				cathodes = append(cathodes, n)
			}
		}
		if first != "" {
			for _, n := range cathodes {
				c.breakdown(i, HeaterCathode, first, n, 1, len(cathodes) > 1)
			}
		}
	}
	c.addFault(&Fault{Part: name, Kind: Pulled, Cost: 1})
}

type heaterSection struct {
	a, b string
	ohms float64
}

// heaterSections are the stretches of the heater between its wired pins and tap, hot ohms split
// in proportion to the volts.
func heaterSections(d *netlist.Tube, h *netlist.Heater) []heaterSection {
	type stop struct {
		share float64
		node  string
	}
	stops := []stop{{0, d.Node(h.Pins[0])}, {1, d.Node(h.Pins[1])}}
	if h.Tap != nil {
		share := h.Tap.Volts / h.Volts
		if h.Tap.From != h.Pins[0] {
			share = 1 - share
		}
		stops = slices.Insert(stops, 1, stop{share, d.Node(h.Tap.Pin)})
	}
	stops = slices.DeleteFunc(stops, func(s stop) bool { return s.node == "" })
	var sections []heaterSection
	for k := 1; k < len(stops); k++ {
		ohms := h.Volts / h.Amps * (stops[k].share - stops[k-1].share)
		sections = append(sections, heaterSection{stops[k-1].node, stops[k].node, ohms})
	}
	return sections
}

func (c *Circuit) addRectifier(i int, label, anode, cathode string, ohms float64, named bool) {
	c.addElement(element{sort: rectifier, part: i, a: c.index[anode], b: c.index[cathode], ohms: ohms, label: label, opens: true})
	c.sections = append(c.sections, len(c.elements)-1)
	c.Rectifiers = append(c.Rectifiers, label)
	c.breakdown(i, Shorted, anode, cathode, 1, named)
}

func (c *Circuit) isRectifier(part string) bool {
	p := c.Set.Part(part)
	return p != nil && (p.Kind == netlist.KindRectifier || p.Kind == netlist.KindTube)
}
