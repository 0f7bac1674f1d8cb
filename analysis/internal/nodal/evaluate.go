package nodal

import (
	"math/bits"
	"slices"

	"coldcheck/analysis/internal/circuit"
	"coldcheck/analysis/internal/unionfind"
)

// Evaluator evaluates the states of one position of switches and controls. It is used by one goroutine
// at a time; forks of it, which read the same equations, by others.
type Evaluator struct {
	n        *Network
	position int
	variant
	// Watched are the ports at which states are read, by their place: the touch points, unless other
	// ports were asked for.
	Watched []int

	modes   [2]modeEquations // by plug polarity; the same but for a floating supply
	puller  []*circuit.Fault // by rectifier: the fault that its tube is pulled; nil for none
	diodes  []*circuit.Fault // those that together pull every tube with a small diode
	dcModes []circuit.Mode
	emf     [2]complex128       // the volts behind the hot and the neutral side
	others  []*Evaluator        // its variants that were asked for
	alone   *FaultSet           // of no faults
	whole   *FaultSet           // room for Evaluate
	fresh   *FaultSet           // room for sets that an update cannot solve
	apart   map[openings]uint64 // by what is open: the rectifiers of which an end floats, at AC

	ac, held   Update   // with one fault more
	dc         []Update // likewise, by dcModes
	pulled     []bool   // by rectifier, with it
	by         [2]room  // by plug polarity
	now        Evaluation
	open       []complex128 // by watched port: AC volts, as far as now knows them
	about      groupOf      // what is evaluated
	apartPlugs bool         // the plug polarities differ in their groups
	// The figures that are asked for of the rows at AC, at DC and with a rectifier conducting; nil for all.
	acSome, dcSome, heldSome []int
}

// modeEquations are the equations of a state and how they are watched: at AC the two sides of the
// supply, the points, the rectifiers and the fuses; at DC the points and the branches of the
// rectifiers; with something conducting the sides and the points.
type modeEquations struct {
	ac, held, small   *Equations
	dc                []*Equations // by dcModes
	watchAC           *watch
	watchHeld, watchS *watch
	watchDC           []*watch
}

// The places of figures in a row.
const (
	acPoints = 2 // behind the two sides of the supply
	dcPoints = 1 // behind what the batteries show
)

// room is what is worked out of a state in one plug polarity.
type room struct {
	currents, conducting [maxChanged]complex128 // in the last fault's ports: at AC, with something conducting
	emf                  []float64              // by rectifier: the volts of a source in its place
	volts                [][]float64            // by mode at DC, by watched port: signed
	cleared              bool
	groups               []*unionfind.Sets // see Evaluation.group
}

// Evaluator makes one that reads the touch points.
func (n *Network) Evaluator(position int) *Evaluator { return n.EvaluatorAt(position, n.point) }

// EvaluatorOf makes one that reads some touch points, by their places in Circuit.Points.
func (n *Network) EvaluatorOf(position int, points []int) *Evaluator {
	ports := make([]int, len(points))
	for i, k := range points {
		ports[i] = n.point[k]
	}
	return n.EvaluatorAt(position, ports)
}

// EvaluatorAt makes one that reads other ports.
func (n *Network) EvaluatorAt(position int, watched []int) *Evaluator {
	return n.newEvaluator(position, variant{}, watched)
}

func (n *Network) newEvaluator(position int, v variant, watched []int) *Evaluator {
	c := n.Circuit
	e := &Evaluator{n: n, position: position, variant: v, Watched: watched, dcModes: c.DCModes()}
	e.emf[0], e.emf[1] = c.Supply()
	puller := func(i int) *circuit.Fault { return c.PulledFault(c.PartOf(&c.Elements[i]).Name) }
	for _, i := range c.Sections {
		e.puller = append(e.puller, puller(i))
	}
	for _, i := range c.Diodes {
		if f := puller(i); !slices.Contains(e.diodes, f) {
			e.diodes = append(e.diodes, f)
		}
	}
	for w, plug := range circuit.Polarities {
		if w > 0 && !c.Floating() {
			e.modes[w] = e.modes[0]
			break
		}
		e.modes[w] = e.modeEquations(plug)
	}
	e.makeRoom()
	return e
}

// Fork is another evaluator on the same equations.
func (e *Evaluator) Fork() *Evaluator {
	f := &Evaluator{n: e.n, position: e.position, variant: e.variant, Watched: e.Watched, modes: e.modes, puller: e.puller,
		diodes: e.diodes, dcModes: e.dcModes, emf: e.emf}
	f.makeRoom()
	return f
}

func (e *Evaluator) makeRoom() {
	for w := range e.by {
		e.by[w] = room{emf: make([]float64, len(e.puller)), volts: make([][]float64, len(e.dcModes)),
			groups: make([]*unionfind.Sets, 2+len(e.puller)+len(e.dcModes))}
		for d := range e.dcModes {
			e.by[w].volts[d] = make([]float64, len(e.Watched))
		}
	}
	e.open = make([]complex128, min(len(e.Watched), 64))
	e.dc, e.pulled = make([]Update, len(e.dcModes)), make([]bool, len(e.puller))
	e.alone, e.whole, e.fresh, e.apart = &FaultSet{}, &FaultSet{}, &FaultSet{}, map[openings]uint64{}
	e.Put(e.alone, nil)
}

// modeEquations lays out the equations of a plug polarity. Those that only a floating supply tells
// apart are shared.
func (e *Evaluator) modeEquations(plug circuit.Polarity) (m modeEquations) {
	n, c := e.n, e.n.Circuit
	of := func(mode circuit.Mode) *Equations { return n.equations(n.keyOf(e.position, mode, plug, e.variant)) }
	ac := append(slices.Clone(n.side[:]), e.Watched...)
	dc, held := slices.Clone(e.Watched), slices.Clone(ac)
	for _, i := range c.Sections {
		ac, dc = append(ac, n.element[i].conducts), append(dc, n.element[i].opens)
	}
	for _, i := range n.fuses {
		ac = append(ac, n.element[i].opens)
	}
	m.ac = of(circuit.Blocking)
	m.watchAC = m.ac.watching(ac)
	for _, mode := range e.dcModes {
		b := of(mode)
		m.dc, m.watchDC = append(m.dc, b), append(m.watchDC, b.watching(dc))
	}
	if len(c.Sections) > 0 {
		m.held = of(circuit.Held)
		m.watchHeld = m.held.watching(held)
	}
	if len(c.Diodes) > 0 {
		m.small = of(circuit.Small)
		m.watchS = m.small.watching(held)
	}
	return m
}

// Ask says what is asked of a state.
type Ask struct {
	Plugs [2]bool // the plug polarities, in their order
	// Points are the watched ports that are read, a bit each, where they are few of many; 0 for all.
	Points uint64
	// ACAlone leaves out what is DC.
	ACAlone bool
	// BlockingAlone leaves out the states in which something conducts.
	BlockingAlone bool
	// Driven leaves out what no current can flow in: the DC side, or the small diodes, where every point
	// that is read floats there.
	Driven bool
	// Uncleared asks for a cleared state once more, with the fuses open that carry the short, or else
	// without the shorts of failed parts.
	Uncleared bool
	// Shunts are put across ports besides, two at most, where BlockingAlone is asked for. They are no
	// faults.
	Shunts []Shunt
}

// Both asks for both plug polarities.
var Both = [2]bool{true, true}

// Only asks for one plug polarity.
func Only(plug circuit.Polarity) (plugs [2]bool) {
	plugs[plug.HotBlade()] = true
	return plugs
}

// Shunt is an admittance put across a port, in S: at AC, at DC, and with the plug out.
type Shunt struct {
	Port     int
	AC       complex128
	DC, Cold float64
}

// Each solves the states of a set of faults and one more, nil for none: of each plug polarity that is
// asked for, all rectifiers blocking, then with each conducting, then with all small diodes. Visit
// reports whether more of that polarity is wanted.
func (e *Evaluator) Each(s *FaultSet, more *circuit.Fault, ask Ask, visit func(*Evaluation) bool) {
	if !s.apart && (more == nil || more.Kind != circuit.NeutralLost) {
		e.solve(s, s.by[0], more, ask, visit)
		return
	}
	plugs := ask.Plugs
	for w, plug := range circuit.Polarities {
		if !plugs[w] {
			continue
		}
		ask.Plugs = Only(plug)
		if s.apart {
			e.solve(s, s.by[w], more, ask, visit)
		} else {
			e.solve(s, s.by[0], more, ask, visit)
		}
	}
}

// Evaluate is Each for a set of faults that is put in for this once.
func (e *Evaluator) Evaluate(faults []*circuit.Fault, ask Ask, visit func(*Evaluation) bool) {
	switch len(faults) {
	case 0:
		e.Each(e.alone, nil, ask, visit)
	case 1:
		e.Each(e.alone, faults[0], ask, visit)
	default:
		e.Put(e.whole, faults)
		e.Each(e.whole, nil, ask, visit)
	}
}

// Together is Each for the evaluated state with all bare points joined as by one hand.
func (x *Evaluation) Together(ask Ask, visit func(*Evaluation) bool) {
	e := x.e
	s := &FaultSet{joints: e.n.joints}
	e.put(s, e.about.faults)
	e.Each(s, nil, ask, visit)
}

// solve solves the states of plug polarities that have their updates in common.
func (e *Evaluator) solve(s *FaultSet, u *stateUpdates, more *circuit.Fault, ask Ask, visit func(*Evaluation) bool) {
	direct, small := e.mayFlow(s, more, &ask)
	ask.ACAlone = ask.ACAlone || !direct
	ports := e.portsFor(s, more, ask.Plugs)
	e.some(ask.Points)
	if !e.on(u, ports, ask.ACAlone) || !e.shunt(ask) && more != nil {
		e.afresh(s, more, ask, visit)
		return
	}
	e.startGroups(s, more, ask.Shunts)
	plugs := ask.Plugs
	var again [2]bool
	var blown [2][]int
	for w := range circuit.Polarities {
		if plugs[w] {
			x := e.evaluation(w, -1, u, ask.ACAlone)
			x.own, x.more = &u.ac, &e.ac
			x.drive(&e.by[w].currents)
			if again[w] = x.clears() && ask.Uncleared; again[w] {
				blown[w] = x.blowing()
			}
			if !ask.ACAlone {
				x.direct(ask.Points)
			}
			plugs[w] = visit(x)
		}
	}
	if !ask.BlockingAlone && plugs != [2]bool{} {
		conducting := ask
		conducting.Plugs = plugs
		e.conduct(s, u, more, ports, small, conducting, visit)
	}
	for w, plug := range circuit.Polarities {
		if again[w] {
			e.uncleared(s, more, blown[w], plug, ask, visit)
		}
	}
}

// on puts the last fault's ports on the others. It reports false where digits would be lost.
func (e *Evaluator) on(u *stateUpdates, ports []int, acAlone bool) bool {
	if !e.ac.on(&u.ac, ports, e.acSome) {
		return false
	}
	if acAlone {
		return true
	}
	for d := range e.dc {
		if !e.dc[d].on(&u.dc[d], ports, e.dcSome) {
			return false
		}
	}
	return true
}

// evaluation starts that of a state.
func (e *Evaluator) evaluation(w, conducting int, u *stateUpdates, acAlone bool) *Evaluation {
	x := &e.now
	x.Plug, x.Rectifier, x.Without, x.Cleared, x.hot, x.known = circuit.Polarities[w], conducting, e.without, e.by[w].cleared, w, 0
	x.hasDC = len(e.dcModes) > 0 && !acAlone
	if x.e == nil {
		x.e = e // a pointer is written once: each write costs the garbage collector
	}
	if len(u.dc) > 0 {
		x.ownDC = u.dc
	}
	return x
}

// portsFor are the ports of the last fault in plug polarities that share them.
func (e *Evaluator) portsFor(s *FaultSet, more *circuit.Fault, plugs [2]bool) []int {
	for r, puller := range e.puller {
		e.pulled[r] = s.pulled[r] || puller != nil && puller == more
	}
	if more == nil {
		return nil
	}
	plug := circuit.AsMarked
	if !plugs[0] {
		plug = circuit.Reversed
	}
	return e.n.portsOf(more, plug, e.position)
}

// some notes the figures that tell of some points; where those are most of the points, all figures
// are worked out, which is quicker.
func (e *Evaluator) some(points uint64) {
	e.acSome, e.dcSome, e.heldSome = e.acSome[:0], e.dcSome[:0], e.heldSome[:0]
	n := len(e.Watched)
	if points == 0 || 2*bits.OnesCount64(points) > n {
		e.acSome, e.dcSome, e.heldSome = nil, nil, nil
		return
	}
	e.acSome, e.dcSome, e.heldSome = append(e.acSome, 0, 1), append(e.dcSome, 0), append(e.heldSome, 0, 1)
	for r := range e.puller {
		e.acSome, e.dcSome = append(e.acSome, acPoints+n+r), append(e.dcSome, dcPoints+n+r)
	}
	for k := range e.n.fuses {
		e.acSome = append(e.acSome, acPoints+n+len(e.puller)+k)
	}
	for ; points != 0; points &= points - 1 {
		k := bits.TrailingZeros64(points)
		e.acSome, e.dcSome, e.heldSome = append(e.acSome, acPoints+k), append(e.dcSome, dcPoints+k), append(e.heldSome, acPoints+k)
	}
}

// shunt puts admittances across ports besides the faults. It reports false where they are too many to
// be put on the last fault.
func (e *Evaluator) shunt(ask Ask) bool {
	if len(ask.Shunts) == 0 {
		return true
	}
	var ac, dc []change
	for _, s := range ask.Shunts {
		if s.AC != 0 {
			ac = append(ac, change{s.Port, 1 / s.AC})
		}
		if s.DC != 0 {
			dc = append(dc, change{s.Port, complex(1/s.DC, 0)})
		}
	}
	if !e.ac.shunt(ac, e.acSome) {
		return false
	}
	for d := range e.dc {
		if !ask.ACAlone && !e.dc[d].shunt(dc, e.dcSome) {
			return false
		}
	}
	return true
}

// conduct solves the states in which a rectifier conducts, or all small diodes where that is asked for.
// At DC they are as before.
func (e *Evaluator) conduct(s *FaultSet, u *stateUpdates, more *circuit.Fault, ports []int, small bool, ask Ask, visit func(*Evaluation) bool) {
	last := len(e.puller)
	if !small {
		last--
	}
	for r := 0; r <= last; r++ {
		own := &u.small
		if r < len(e.puller) {
			own = &u.held[r]
		}
		if !e.conducts(s, more, r) {
			continue
		}
		if !e.held.on(own, ports, e.heldSome) {
			e.afreshConducting(s, more, r, ask, visit)
			return
		}
		for w := range circuit.Polarities {
			if ask.Plugs[w] {
				x := e.evaluation(w, r, u, ask.ACAlone)
				x.own, x.more = own, &e.held
				x.drive(&e.by[w].conducting)
				ask.Plugs[w] = visit(x)
			}
		}
		if ask.Plugs == [2]bool{} {
			return
		}
	}
}

// conducts reports whether a rectifier can conduct: its tube is not pulled; of the small diodes, behind
// the rectifiers, any is left.
func (e *Evaluator) conducts(s *FaultSet, more *circuit.Fault, r int) bool {
	if r < len(e.puller) {
		return !e.pulled[r]
	}
	return slices.ContainsFunc(e.diodes, func(f *circuit.Fault) bool { return f != more && !slices.Contains(s.Faults, f) })
}

// together is a set of faults with one more, put in at once, in room that is there.
func (e *Evaluator) together(s *FaultSet, more *circuit.Fault) *FaultSet {
	faults := append(make([]*circuit.Fault, 0, len(s.Faults)+1), s.Faults...)
	if more != nil {
		faults = append(faults, more)
	}
	e.fresh.joints = s.joints
	e.put(e.fresh, faults)
	return e.fresh
}

// afresh solves states whose last fault cannot be put on the others to the digits needed.
func (e *Evaluator) afresh(s *FaultSet, more *circuit.Fault, ask Ask, visit func(*Evaluation) bool) {
	e.Each(e.together(s, more), nil, ask, visit)
}

// afreshConducting does so where that shows first with a rectifier conducting: what was visited is not
// visited again.
func (e *Evaluator) afreshConducting(s *FaultSet, more *circuit.Fault, from int, ask Ask, visit func(*Evaluation) bool) {
	ask.Uncleared = false
	e.Each(e.together(s, more), nil, ask, func(x *Evaluation) bool {
		return x.Rectifier < from || visit(x)
	})
}

// uncleared solves a cleared state once more: with the fuses open that carry the short, for they open
// one leg before any breaker does; else, where a failed part may be what shorts the line, without the
// shorts of failed parts. What is cleared then too stays so.
func (e *Evaluator) uncleared(s *FaultSet, more *circuit.Fault, blown []int, plug circuit.Polarity, ask Ask, visit func(*Evaluation) bool) {
	v := e.variant
	switch {
	case len(blown) > 0:
		v.blown = e.n.blownOf(blown)
	case e.n.Circuit.HasFailed && !e.without:
		v.without = true
	default:
		return
	}
	ask.Plugs, ask.Uncleared = Only(plug), false
	other := e.as(v)
	other.Each(s.in(other), more, ask, func(x *Evaluation) bool { return !x.Cleared && visit(x) })
}

// as is the same evaluator of another variant.
func (e *Evaluator) as(v variant) *Evaluator {
	for _, other := range e.others {
		if other.variant == v {
			return other
		}
	}
	other := e.n.newEvaluator(e.position, v, e.Watched)
	e.others = append(e.others, other)
	return other
}

// Body is the body network, Ω.
func (e *Evaluator) Body() complex128 { return e.n.body }
