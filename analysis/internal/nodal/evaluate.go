package nodal

import (
	"math/bits"
	"slices"

	"coldcheck/analysis/internal/circuit"
)

// Evaluator evaluates the states of one combination of switch positions. It is used by one goroutine
// at a time; forks of it, which read the same equations, by others.
type Evaluator struct {
	n        *Network
	position int
	without  bool
	// Watched are the ports at which states are read, by their place: the touch points, unless other
	// ports were asked for.
	Watched []int

	modes  [2]modeEquations // by plug polarity; the same but for an isolated supply
	puller []*circuit.Fault // by rectifier: the fault that its tube is pulled; nil for none
	other  *Evaluator       // the same without the shorts of failed parts, nil until it is asked for
	alone  *FaultSet        // of no faults
	whole  *FaultSet        // room for sets that an update cannot solve

	ac, dc, held Update  // with one fault more
	pulled       []bool  // by rectifier, with it
	by           [2]room // by plug polarity
	now          Evaluation
	// The figures that are asked for of the rows at AC, at DC and with reservoirs held; nil for all.
	acSome, dcSome, heldSome []int
}

// modeEquations are the equations of a state and how they are watched: at AC the two sides of the
// supply, the points and the rectifiers; at DC the points and the branches of the rectifiers; with
// reservoirs held the sides and the points.
type modeEquations struct {
	ac, dc, held                *Equations
	watchAC, watchDC, watchHeld *watch
}

// The places of figures in a row.
const (
	acPoints = 2 // behind the two sides of the supply
	dcPoints = 1 // behind what the batteries show
)

// room is what is worked out of a state in one plug polarity.
type room struct {
	currents, conducting, steady [maxChanged]complex128 // in the last fault's ports: at AC, with a rectifier conducting, at DC
	emf                          []float64              // by rectifier: the volts of a source in its place
	volts                        []float64              // by watched port: at DC, signed
	cleared                      bool
}

// Evaluator makes one that reads the touch points.
func (n *Network) Evaluator(position int) *Evaluator { return n.EvaluatorAt(position, n.point) }

// EvaluatorOf makes one that reads some touch points, which follow each other.
func (n *Network) EvaluatorOf(position, first, count int) *Evaluator {
	return n.EvaluatorAt(position, n.point[first:first+count])
}

// EvaluatorAt makes one that reads other ports.
func (n *Network) EvaluatorAt(position int, watched []int) *Evaluator {
	return n.newEvaluator(position, false, watched)
}

func (n *Network) newEvaluator(position int, without bool, watched []int) *Evaluator {
	e := &Evaluator{n: n, position: position, without: without, Watched: watched}
	for _, i := range n.Circuit.Sections {
		e.puller = append(e.puller, n.Circuit.PulledFault(n.Circuit.PartOf(&n.Circuit.Elements[i]).Name))
	}
	for w, plug := range circuit.Polarities {
		if w > 0 && !n.Circuit.Bench.Isolated {
			e.modes[w] = e.modes[0]
			break
		}
		e.modes[w] = n.modeEquations(position, plug, without, watched)
	}
	e.makeRoom()
	return e
}

// Fork is another evaluator on the same equations.
func (e *Evaluator) Fork() *Evaluator {
	f := &Evaluator{n: e.n, position: e.position, without: e.without, Watched: e.Watched, modes: e.modes, puller: e.puller}
	f.makeRoom()
	return f
}

func (e *Evaluator) makeRoom() {
	for w := range e.by {
		e.by[w] = room{emf: make([]float64, len(e.puller)), volts: make([]float64, len(e.Watched))}
	}
	e.pulled = make([]bool, len(e.puller))
	e.alone, e.whole = &FaultSet{}, &FaultSet{}
	e.Put(e.alone, nil, false)
}

// modeEquations lays out the equations of a plug polarity. Those that only an isolated supply tells
// apart are shared.
func (n *Network) modeEquations(position int, plug circuit.Polarity, without bool, watched []int) (m modeEquations) {
	c := n.Circuit
	ac := append(slices.Clone(n.side[:]), watched...)
	dc := slices.Clone(watched)
	held := slices.Clone(ac)
	for _, i := range c.Sections {
		ac = append(ac, n.element[i].conducts)
		dc = append(dc, n.element[i].opens)
	}
	m.ac = n.equations(n.keyOf(position, circuit.Blocking, plug, without))
	m.watchAC = m.ac.watching(nil, ac)
	if c.HasSources {
		m.dc = n.equations(n.keyOf(position, circuit.Direct, plug, without))
		m.watchDC = m.dc.watching([][]complex128{m.dc.batteryAt()}, dc)
	}
	if len(c.Sections) > 0 {
		m.held = n.equations(n.keyOf(position, circuit.Held, plug, without))
		m.watchHeld = m.held.watching(nil, held)
	}
	return m
}

// batteryAt is what the batteries show at every port.
func (b *Equations) batteryAt() []complex128 {
	shows := make([]complex128, len(b.places))
	if b.battery != nil {
		for p := range shows {
			shows[p] = b.at(b.battery, p)
		}
	}
	return shows
}

// FaultSet is a set of faults put into the equations of an evaluator's states.
type FaultSet struct {
	Faults []*circuit.Fault
	pulled []bool // by rectifier
	lost   bool   // the neutral side is open
	apart  bool   // each plug polarity has updates of its own; else the first serve both
	by     [2]stateUpdates
}

// stateUpdates are a set of faults at AC with all rectifiers blocking, at DC, and with each
// conducting.
type stateUpdates struct {
	ac, dc Update
	held   []Update
}

// Put puts faults into the equations. Exact is for figures that are read to the last digit, also of
// volts that hang on the minimum conductance alone; without it they serve to tell what is live.
func (e *Evaluator) Put(s *FaultSet, faults []*circuit.Fault, exact bool) {
	e.put(s, faults, nil, exact)
}

func (e *Evaluator) put(s *FaultSet, faults []*circuit.Fault, joints []int, exact bool) {
	s.Faults = append(s.Faults[:0], faults...)
	s.pulled = resize(s.pulled, len(e.puller))
	for r, puller := range e.puller {
		s.pulled[r] = puller != nil && slices.Contains(faults, puller)
	}
	s.lost = circuit.HasKind(faults, circuit.NeutralLost)
	s.apart = e.n.Circuit.Bench.Isolated || s.lost
	for w, plug := range circuit.Polarities {
		if w == 0 || s.apart {
			ports := append(e.n.portsOfAll(faults, plug), joints...)
			if !e.updates(&s.by[w], &e.modes[w], s.pulled, ports, exact) {
				e.writeOut(&s.by[w], s.pulled, plug, ports)
			}
		}
	}
}

// updates puts ports into the equations of a plug polarity. It reports false where they cannot be
// solved to the digits needed.
func (e *Evaluator) updates(u *stateUpdates, m *modeEquations, pulled []bool, ports []int, exact bool) bool {
	points := len(e.Watched)
	if !u.ac.put(m.ac, m.watchAC, ports, len(m.watchAC.ports), exact) {
		return false
	}
	if m.dc != nil && !u.dc.put(m.dc, m.watchDC, ports, points, exact) {
		return false
	}
	u.held = resize(u.held, len(pulled))
	for r, i := range e.n.Circuit.Sections {
		if pulled[r] {
			continue
		}
		conducts := append(ports[:len(ports):len(ports)], e.n.element[i].conducts)
		if !u.held[r].put(m.held, m.watchHeld, conducts, acPoints+points, exact) {
			return false
		}
	}
	return true
}

// writeOut writes ports into fresh equations instead.
func (e *Evaluator) writeOut(u *stateUpdates, pulled []bool, plug circuit.Polarity, ports []int) {
	n, points := e.n, len(e.Watched)
	fresh := func(m circuit.Mode, ports []int) *Equations {
		return n.assemble(n.keyOf(e.position, m, plug, e.without), ports)
	}
	m := &e.modes[plug.HotBlade()]
	stand := func(u *Update, b *Equations, sources [][]complex128, like *watch, known int) {
		u.stand(b, b.watching(sources, like.ports))
		u.know(known)
	}
	stand(&u.ac, fresh(circuit.Blocking, ports), nil, m.watchAC, len(m.watchAC.ports))
	if m.dc != nil {
		b := fresh(circuit.Direct, ports)
		stand(&u.dc, b, [][]complex128{b.batteryAt()}, m.watchDC, points)
	}
	u.held = resize(u.held, len(pulled))
	for r, i := range n.Circuit.Sections {
		if !pulled[r] {
			conducts := append(ports[:len(ports):len(ports)], n.element[i].conducts)
			stand(&u.held[r], fresh(circuit.Held, conducts), nil, m.watchHeld, acPoints+points)
		}
	}
}

// Ask says what is asked of a state.
type Ask struct {
	Plugs [2]bool // the plug polarities, in their order
	// Exact is as in Put.
	Exact bool
	// Points are the watched ports that are read, a bit each, where they are few of many; 0 for all.
	Points uint64
	// ACAlone leaves out what is DC.
	ACAlone bool
	// BlockingAlone leaves out the states in which a rectifier conducts.
	BlockingAlone bool
	// Uncleared asks for a state in which a failed part may be what shorts the line once more, with
	// every failed part's short left out.
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
// asked for, all rectifiers blocking, then with each conducting. Visit reports whether more of that
// polarity is wanted.
func (e *Evaluator) Each(s *FaultSet, more *circuit.Fault, ask Ask, visit func(*Evaluation) bool) {
	if !s.apart && (more == nil || more.Kind != circuit.NeutralLost) {
		e.solve(s, &s.by[0], more, ask, visit)
		return
	}
	plugs := ask.Plugs
	for w, plug := range circuit.Polarities {
		if !plugs[w] {
			continue
		}
		ask.Plugs = Only(plug)
		if s.apart {
			e.solve(s, &s.by[w], more, ask, visit)
		} else {
			e.solve(s, &s.by[0], more, ask, visit)
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
		e.Put(e.whole, faults, ask.Exact)
		e.Each(e.whole, nil, ask, visit)
	}
}

// Together is Each for the state without faults with all bare points joined as by one hand.
func (e *Evaluator) Together(ask Ask, visit func(*Evaluation) bool) {
	e.put(e.whole, nil, e.n.joints, ask.Exact)
	e.Each(e.whole, nil, ask, visit)
}

// solve solves the states of plug polarities that have their updates in common.
func (e *Evaluator) solve(s *FaultSet, u *stateUpdates, more *circuit.Fault, ask Ask, visit func(*Evaluation) bool) {
	sources := e.n.Circuit.HasSources && !ask.ACAlone
	ports, lost := e.portsFor(s, more, ask.Plugs)
	e.some(ask.Points)
	if !e.ac.on(&u.ac, ports, ask.Exact, e.acSome) || sources && !e.dc.on(&u.dc, ports, ask.Exact, e.dcSome) || !e.shunt(ask.Shunts, sources) {
		e.afresh(s, more, ask, visit)
		return
	}
	plugs := ask.Plugs
	var cleared [2]bool
	for w, plug := range circuit.Polarities {
		if !plugs[w] {
			continue
		}
		x := &e.now
		*x = Evaluation{Plug: plug, Rectifier: -1, Without: e.without, e: e, hot: plug.HotBlade(), hasDC: sources, own: &u.ac, more: &e.ac, ownDC: &u.dc}
		x.drive(&e.by[x.hot].currents)
		cleared[w] = x.clears(lost)
		if sources {
			x.direct(ask.Points)
		}
		plugs[w] = visit(x)
	}
	if !ask.BlockingAlone && plugs != [2]bool{} {
		conducting := ask
		conducting.Plugs = plugs
		e.conduct(s, u, more, ports, conducting, visit)
	}
	for w, plug := range circuit.Polarities {
		if cleared[w] && ask.Uncleared && e.n.Circuit.HasFailed && !e.without {
			e.uncleared(s, more, plug, ask, visit)
		}
	}
}

// portsFor are the ports of the last fault in plug polarities that share them, and whether the
// neutral side is open.
func (e *Evaluator) portsFor(s *FaultSet, more *circuit.Fault, plugs [2]bool) (ports []int, lost bool) {
	for r, puller := range e.puller {
		e.pulled[r] = s.pulled[r] || puller != nil && puller == more
	}
	if more == nil {
		return nil, s.lost
	}
	plug := circuit.AsMarked
	if !plugs[0] {
		plug = circuit.Reversed
	}
	return e.n.portsOf(more, plug), s.lost || more.Kind == circuit.NeutralLost
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
	for ; points != 0; points &= points - 1 {
		k := bits.TrailingZeros64(points)
		e.acSome, e.dcSome, e.heldSome = append(e.acSome, acPoints+k), append(e.dcSome, dcPoints+k), append(e.heldSome, acPoints+k)
	}
}

// shunt puts admittances across ports besides the faults. It reports false where they are too many to
// be put on the last fault.
func (e *Evaluator) shunt(shunts []Shunt, direct bool) bool {
	var ac, dc []change
	for _, s := range shunts {
		if s.AC != 0 {
			ac = append(ac, change{s.Port, 1 / s.AC})
		}
		if s.DC != 0 {
			dc = append(dc, change{s.Port, complex(1/s.DC, 0)})
		}
	}
	return e.ac.shunt(ac, e.acSome) && (!direct || e.dc.shunt(dc, e.dcSome))
}

// conduct solves the states in which a rectifier conducts. At DC they are as before.
func (e *Evaluator) conduct(s *FaultSet, u *stateUpdates, more *circuit.Fault, ports []int, ask Ask, visit func(*Evaluation) bool) {
	for r := range e.puller {
		if e.pulled[r] {
			continue
		}
		if !e.held.on(&u.held[r], ports, ask.Exact, e.heldSome) {
			e.afreshConducting(s, more, r, ask, visit)
			return
		}
		for w, plug := range circuit.Polarities {
			if !ask.Plugs[w] {
				continue
			}
			x := &e.now
			*x = Evaluation{Plug: plug, Rectifier: r, Without: e.without, Cleared: e.by[plug.HotBlade()].cleared, e: e, hot: plug.HotBlade(), hasDC: e.n.Circuit.HasSources && !ask.ACAlone, own: &u.held[r], more: &e.held, ownDC: &u.dc}
			x.drive(&e.by[x.hot].conducting)
			ask.Plugs[w] = visit(x)
		}
		if ask.Plugs == [2]bool{} {
			return
		}
	}
}

// together is a set of faults with one more, put in at once.
func (e *Evaluator) together(s *FaultSet, more *circuit.Fault, exact bool) *FaultSet {
	faults := slices.Clone(s.Faults)
	if more != nil {
		faults = append(faults, more)
	}
	if e.whole == s {
		e.whole = &FaultSet{}
	}
	e.Put(e.whole, faults, exact)
	return e.whole
}

// afresh solves states whose last fault cannot be put on the others to the digits needed.
func (e *Evaluator) afresh(s *FaultSet, more *circuit.Fault, ask Ask, visit func(*Evaluation) bool) {
	e.Each(e.together(s, more, ask.Exact), nil, ask, visit)
}

// afreshConducting does so where that shows first with a rectifier conducting: what was visited is not
// visited again.
func (e *Evaluator) afreshConducting(s *FaultSet, more *circuit.Fault, from int, ask Ask, visit func(*Evaluation) bool) {
	ask.Uncleared = false
	e.Each(e.together(s, more, ask.Exact), nil, ask, func(x *Evaluation) bool {
		return x.Rectifier < from || visit(x)
	})
}

// uncleared solves a state that a short of a failed part may clear without those shorts.
func (e *Evaluator) uncleared(s *FaultSet, more *circuit.Fault, plug circuit.Polarity, ask Ask, visit func(*Evaluation) bool) {
	if e.other == nil {
		e.other = e.n.newEvaluator(e.position, true, e.Watched)
	}
	faults := slices.Clone(s.Faults)
	if more != nil {
		faults = append(faults, more)
	}
	ask.Plugs, ask.Uncleared = Only(plug), false
	e.other.Evaluate(faults, ask, visit)
}

// Body is the body network, Ω.
func (e *Evaluator) Body() complex128 { return e.n.body }

// Joined reports whether conductors join two nodes, by their places, in all of the evaluator's states.
func (e *Evaluator) Joined(a, b int) bool {
	row := e.modes[0].ac.row
	return row[a] == row[b]
}
