package nodal

import (
	"coldcheck/analysis/internal/circuit"
	"coldcheck/analysis/internal/unionfind"
	"coldcheck/netlist"
)

// mostDriven is how many watched ports are looked at in pairs for whether a current can flow.
const mostDriven = 16

// driven are the groups of a state, and which of them a source is in. No sets: not known yet.
type driven struct {
	groups *unionfind.Sets
	by     []bool // by the node that stands for a group
	// flows is what is found of the points asked for last with no fault more: most faults join nothing anew.
	flows  bool
	known  bool
	points uint64
}

// mayFlow reports whether a current may flow through what is put across a watched port, or from one to
// another, at DC and with the small diodes conducting: both ends are in one group, and a source is in
// it. Capacitors are open there but for their leakage, so that most metal floats and reads nothing
// whatever its volts are: such states need no solution. It never reports false of a port that reads
// something: the last fault may open what it takes for whole.
func (e *Evaluator) mayFlow(s *FaultSet, more *circuit.Fault, ask *Ask) (direct, small bool) {
	if !ask.Driven || s.apart || more != nil && more.Kind == circuit.NeutralLost || len(s.joints)+len(ask.Shunts) > 0 || len(e.Watched) > mostDriven {
		return true, true
	}
	for d, mode := range e.dcModes {
		direct = direct || !ask.ACAlone && e.flows(s.drivenIn(e, d, mode), more, ask.Points)
	}
	if !ask.BlockingAlone && len(e.diodes) > 0 {
		small = e.flows(s.drivenIn(e, len(e.dcModes), circuit.Small), more, ask.Points)
	}
	return direct, small
}

// drivenIn are the groups with the faults of the set in a mode, by its place.
func (s *FaultSet) drivenIn(e *Evaluator, place int, mode circuit.Mode) *driven {
	if len(s.driven) == 0 {
		s.driven = make([]driven, len(e.dcModes)+1)
	}
	d := &s.driven[place]
	if d.groups == nil {
		d.groups = e.n.groups(groupOf{position: e.position, mode: mode, conducting: -1, plug: circuit.AsMarked,
			without: e.without, blown: e.blown, faults: s.Faults})
		d.by = make([]bool, e.n.earth()+2)
		for _, i := range e.n.sources(mode) {
			d.by[d.groups.Find(i)] = true
		}
	}
	return d
}

// sources are nodes that a source drives in a mode: what the mains feed; the windings of a transformer,
// which another winding drives; at DC what rectifiers and batteries do.
func (n *Network) sources(mode circuit.Mode) []int {
	n.lock.Lock()
	defer n.lock.Unlock()
	if kept := n.driving[mode]; kept != nil {
		return kept
	}
	c := n.Circuit
	nodes := []int{n.earth(), n.earth() + 1}
	for _, name := range []string{c.Plug.Hot, c.Plug.Neutral, c.Plug.Earth, netlist.BuildingEarth} {
		if i, ok := c.Node(name); ok {
			nodes = append(nodes, i)
		}
	}
	for i := range c.Elements {
		if e := &c.Elements[i]; mode.DC() && (e.Sort == circuit.Rectifier || e.Sort == circuit.Battery) {
			nodes = append(nodes, e.A, e.B)
		}
	}
	for _, t := range c.Transformers {
		for _, w := range t.Windings {
			if !mode.DC() {
				nodes = append(nodes, w.A, w.B)
			}
		}
	}
	n.driving[mode] = nodes
	return nodes
}

// flows reports whether ends of the points that are asked for, 0 for all, lie in one group that a source
// is in, once the last fault joins what it joins.
func (e *Evaluator) flows(d *driven, more *circuit.Fault, points uint64) bool {
	if more != nil && (more.Short || more.Kind == circuit.Stuck) {
		if from, to := d.groups.Find(more.A), d.groups.Find(more.B); from != to {
			return e.flowsJoined(d, from, to, points)
		}
	}
	if !d.known || d.points != points {
		d.flows, d.known, d.points = e.flowsJoined(d, -1, -1, points), true, points
	}
	return d.flows
}

// flowsJoined is flows with the group from joined to another, -1 for none.
func (e *Evaluator) flowsJoined(d *driven, from, to int, points uint64) bool {
	groupOf := func(i int) int {
		if g := d.groups.Find(e.n.orEarth(i)); g != from {
			return g
		}
		return to
	}
	sourced := func(g int) bool { return d.by[g] || g == to && d.by[from] }
	var ends, rows [mostDriven]int
	for k, port := range e.Watched {
		p := e.n.ports[port]
		ends[k], rows[k] = -1, e.modes[0].ac.node(p.a)
		if points != 0 && points>>k&1 == 0 {
			continue
		}
		ends[k] = groupOf(p.a)
		if !sourced(ends[k]) {
			ends[k] = -1
			continue
		}
		if ends[k] == groupOf(p.b) {
			return true
		}
		for l := range k { // conductors that join two points let nothing pass from one to the other
			if ends[l] == ends[k] && rows[l] != rows[k] {
				return true
			}
		}
	}
	return false
}
