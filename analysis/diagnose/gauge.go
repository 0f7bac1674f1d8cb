package diagnose

import (
	"fmt"
	"slices"

	"coldcheck/analysis"
	"coldcheck/analysis/internal/circuit"
	"coldcheck/analysis/internal/nodal"
	"coldcheck/analysis/internal/working"
	"coldcheck/netlist"
)

// gauge works out what a meter shows of one wiring, for a list of measurements. It has a network of
// its own, in which every pair of points that is measured, and every branch that may change, is a
// port; and one more for each choice of leads that were off.
type gauge struct {
	*hookup
	hookups  []*hookup // the set as it is, then with leads off
	ms       []Measurement
	at       []int // by measurement: its port, in the network of its group
	groups   []*measured
	alike    map[groupKey]*measured
	of       []*measured    // by measurement
	place    []int          // by measurement: its place in the group
	branches map[[2]int]int // ports of the set as it is by their two nodes
	plays    bool           // what a set that plays shows is worked out too
}

// hookup is the set with some leads off, or none, and its network.
type hookup struct {
	c      *circuit.Circuit
	n      *nodal.Network
	lifted []string
	ports  map[int]int       // by those of the set as it is
	faults []*analysis.Fault // its own of each fault of the set as it is, nil for one that it does not have
}

// fault is this hookup's own of a fault of the set as it is. A guard off is in no circuit's list.
func (h *hookup) fault(f *analysis.Fault) *analysis.Fault {
	if f.Index < 0 {
		return f
	}
	return h.faults[f.Index]
}

// faultsLike finds in a circuit each of some faults: the same thing gone wrong with the same part, the first with
// the first and so on where there are several.
func faultsLike(faults []*analysis.Fault, c *circuit.Circuit) []*analysis.Fault {
	type thing struct {
		part  string
		kind  analysis.FaultKind
		times int
	}
	own, seen := map[thing]*analysis.Fault{}, map[thing]int{}
	next := func(f *analysis.Fault) thing {
		key := thing{f.Part, f.Kind, 0}
		key.times, seen[key] = seen[key], seen[key]+1
		return key
	}
	for _, f := range c.Faults {
		own[next(f)] = f
	}
	clear(seen)
	same := make([]*analysis.Fault, len(faults))
	for i, f := range faults {
		same[i] = own[next(f)]
	}
	return same
}

// measured is the measurements taken in one state.
type measured struct {
	*hookup
	plug     analysis.Polarity
	position int
	cold     bool
	tied     bool
	pulled   []*analysis.Fault
	members  []int // in gauge.ms

	evaluator *nodal.Evaluator    // made when it is first asked for
	unplugged *nodal.UnpluggedSet // of the set as described, likewise
	played    *working.Result     // the set as described while it plays, from which others begin
	behind    map[int]float64     // by measurement: Ω behind its two points then, where a meter loads them
}

func newGauge(set *netlist.Set, bench analysis.Bench, ms []Measurement, plays bool) (*gauge, error) {
	own, err := newHookup(set, bench, nil)
	if err != nil {
		return nil, err
	}
	g := &gauge{hookup: own, hookups: []*hookup{own}, ms: ms, branches: map[[2]int]int{}, alike: map[groupKey]*measured{}, plays: plays}
	for _, m := range ms {
		if err := g.lift(m.Lifted); err != nil {
			return nil, err
		}
	}
	for k, m := range ms {
		port := g.port(g.node(m.A), g.node(m.B))
		x := g.group(m)
		g.at = append(g.at, x.ports[port])
		g.place = append(g.place, len(x.members))
		x.members = append(x.members, k)
		g.of = append(g.of, x)
	}
	return g, nil
}

func newHookup(set *netlist.Set, bench analysis.Bench, lifted []string) (*hookup, error) {
	c, err := circuit.New(set, bench)
	if err != nil {
		return nil, err
	}
	return &hookup{c: c, n: nodal.NewNetwork(c), lifted: lifted, ports: map[int]int{}, faults: c.Faults}, nil
}

// lift makes the hookup with one lead of each of some parts off.
func (g *gauge) lift(parts []string) error {
	if len(parts) == 0 || g.hookupOf(parts) != g.hookup {
		return nil
	}
	set := g.c.Set
	for _, name := range parts {
		if p := set.Part(name); p != nil {
			set = endOff(set, p, 0)
		}
	}
	h, err := newHookup(set, g.c.Bench, parts)
	if err != nil {
		return err
	}
	h.faults = faultsLike(g.c.Faults, h.c)
	g.hookups = append(g.hookups, h)
	return nil
}

// hookupOf is the one with some leads off.
func (g *gauge) hookupOf(lifted []string) *hookup {
	for _, h := range g.hookups {
		if slices.Equal(h.lifted, lifted) {
			return h
		}
	}
	return g.hookup
}

// rest lets go of what idle predictions were made with.
func (g *gauge) rest() {
	for _, x := range g.groups {
		x.evaluator, x.unplugged = nil, nil
	}
	for _, h := range g.hookups {
		h.n.Forget()
	}
}

// node is a node's place, -1 for earth where no part is on it.
func (g *gauge) node(name string) int {
	if i, ok := g.c.Node(name); ok {
		return i
	}
	return -1
}

// port gives the port between two nodes, -1 for earth. All are made before the first solution.
func (g *gauge) port(a, b int) int {
	if p, ok := g.branches[[2]int{a, b}]; ok {
		return p
	}
	p := g.n.PortBetween(a, b)
	g.branches[[2]int{a, b}], g.hookup.ports[p] = p, p
	for _, h := range g.hookups[1:] {
		h.ports[p] = h.n.PortBetween(a, b)
	}
	return p
}

// groupKey tells the states of measurements apart.
type groupKey struct {
	plug       analysis.Polarity
	position   int
	cold, tied bool
	pulled     string
	hookup     *hookup
}

func (g *gauge) group(m Measurement) *measured {
	h := g.hookupOf(m.Lifted)
	pulled := h.pulledFaults(m.Pulled)
	key := groupKey{m.Plug, m.position, m.Quantity == OhmsRead, m.Tied, fmt.Sprint(pulled), h}
	x := g.alike[key]
	if x == nil {
		x = &measured{hookup: h, plug: m.Plug, position: m.position, cold: key.cold, tied: m.Tied, pulled: pulled}
		g.alike[key] = x
		g.groups = append(g.groups, x)
	}
	return x
}

func (h *hookup) pulledFaults(names []string) []*analysis.Fault {
	var pulled []*analysis.Fault
	for _, f := range h.c.Faults {
		if f.Kind == analysis.Pulled && slices.Contains(names, f.Part) {
			pulled = append(pulled, f)
		}
	}
	return pulled
}

// with adds faults to those of a state, but what a pulled tube takes along and what cannot be
// together.
func (x *measured) with(faults []*analysis.Fault) []*analysis.Fault {
	all := slices.Clone(x.pulled)
	for _, f := range faults {
		f = x.fault(f)
		if f != nil && !slices.Contains(all, f) && circuit.Compatible(all, f) {
			all = append(all, f)
		}
	}
	return all
}

// evaluatorOf reads the ports of a group's measurements.
func (g *gauge) evaluatorOf(x *measured) *nodal.Evaluator {
	if x.evaluator == nil {
		var ports []int
		for _, k := range x.members {
			ports = append(ports, g.at[k])
		}
		x.evaluator = x.n.EvaluatorAt(x.position, ports)
	}
	return x.evaluator
}

// predict is what the meter shows at each measurement with some faults, the plug as noted or
// reversed.
func (g *gauge) predict(faults []*analysis.Fault, reversed bool) *prediction {
	return g.inTime(g.predictIdle(faults, reversed), faults, reversed)
}

// inTime is predict where what is shown with nothing drawn is known. Once the set as described was asked for, many
// goroutines may ask for others.
func (g *gauge) inTime(idle []float64, faults []*analysis.Fault, reversed bool) *prediction {
	p := point(idle)
	if g.plays {
		for _, x := range g.groups {
			g.play(p, x, faults, reversed)
		}
	}
	return p
}

// variant is the gauge of a set that differs in one thing, for the same measurements.
func (g *gauge) variant(set *netlist.Set) (*gauge, error) {
	other, err := newGauge(set, g.c.Bench, g.ms, g.plays)
	if err != nil {
		return nil, err
	}
	for k, x := range other.groups {
		x.played, x.behind = g.groups[k].played, g.groups[k].behind
	}
	return other, nil
}

// predictIdle is predict with nothing drawn by the tubes: DC is the peak then.
func (g *gauge) predictIdle(faults []*analysis.Fault, reversed bool) []float64 {
	shown := make([]float64, len(g.ms))
	for _, x := range g.groups {
		if x.cold {
			set := x.n.Unplugged(x.position, x.tied, x.with(faults)...)
			for _, k := range x.members {
				shown[k] = onScale(set.Port(g.at[k]))
			}
			continue
		}
		plug := x.plug
		if reversed {
			plug = plug.Other()
		}
		ask := nodal.Ask{Plugs: nodal.Only(plug), BlockingAlone: true}
		g.evaluatorOf(x).Evaluate(x.with(faults), ask, func(state *nodal.Evaluation) bool {
			for i, k := range x.members {
				shown[k] = g.ms[k].shows(state.Source(i, -1), state.Cleared, g.c.Omega)
			}
			return false
		})
	}
	return shown
}

// predictShunted is what the meter shows at some measurements, by their indices, with admittances put
// across branches of a part besides. A part that is out, or has a lead off, is not there to have them.
func (g *gauge) predictShunted(which []int, part string, added []nodal.Shunt, into []float64) {
	for i, k := range which {
		x, shunts := g.of[k], added
		switch {
		case g.ms[k].without(part):
			shunts = nil
		case x.hookup != g.hookup:
			shunts = slices.Clone(added)
			for j := range shunts {
				shunts[j].Port = x.hookup.ports[shunts[j].Port]
			}
		}
		if x.cold {
			if x.unplugged == nil {
				x.unplugged = x.n.Unplugged(x.position, x.tied, x.pulled...)
			}
			into[i] = onScale(x.unplugged.Port(g.at[k], shunts...))
			continue
		}
		g.evaluatorOf(x).Evaluate(x.pulled, g.ask(k, shunts), func(state *nodal.Evaluation) bool {
			into[i] = g.ms[k].shows(state.Source(g.place[k], -1), state.Cleared, g.c.Omega)
			return false
		})
	}
}

// ask asks for one measurement.
func (g *gauge) ask(k int, shunts []nodal.Shunt) nodal.Ask {
	ask := nodal.Ask{Plugs: nodal.Only(g.of[k].plug), BlockingAlone: true, ACAlone: g.ms[k].Quantity != VoltsDCRead, Shunts: shunts}
	if place := g.place[k]; place < 64 {
		ask.Points = 1 << place
	}
	return ask
}

// sourceOhms is the impedance of a point as described.
func (g *gauge) sourceOhms(k int) (ohms complex128) {
	x := g.of[k]
	if x.cold {
		return 0
	}
	g.evaluatorOf(x).Evaluate(x.pulled, g.ask(k, nil), func(state *nodal.Evaluation) bool {
		ohms = state.Ohms(g.place[k], -1)
		return false
	})
	return ohms
}
