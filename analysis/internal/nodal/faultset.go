package nodal

import (
	"slices"

	"coldcheck/analysis/internal/circuit"
)

// FaultSet is a set of faults put into the equations of an evaluator's states.
type FaultSet struct {
	Faults []*circuit.Fault
	joints []int  // ports that join points as by one hand
	pulled []bool // by rectifier
	apart  bool   // each plug polarity has updates of its own; else the first serve both
	by     [2]stateUpdates
	copies []faultSetCopy
	driven []driven // by mode at DC, then of the small diodes: the groups with these faults
}

// faultSetCopy is a set of faults in the equations of a variant of its evaluator.
type faultSetCopy struct {
	e   *Evaluator
	set *FaultSet
	is  bool // it is the same set; else it is room
}

// in is the set in a variant's equations. It is kept for the larger sets that begin with it.
func (s *FaultSet) in(e *Evaluator) *FaultSet {
	k := slices.IndexFunc(s.copies, func(c faultSetCopy) bool { return c.e == e })
	if k < 0 {
		k = len(s.copies)
		s.copies = append(s.copies, faultSetCopy{e: e, set: &FaultSet{}})
	}
	if c := &s.copies[k]; !c.is {
		c.set.joints, c.is = s.joints, true
		e.put(c.set, s.Faults)
	}
	return s.copies[k].set
}

// stateUpdates are a set of faults at AC with all rectifiers blocking, at DC, with each conducting, and
// with all small diodes.
type stateUpdates struct {
	ac, small Update
	dc        []Update
	held      []Update
}

// Put puts faults into the equations.
func (e *Evaluator) Put(s *FaultSet, faults []*circuit.Fault) {
	s.joints = nil
	e.put(s, faults)
}

// put puts faults and joints into the equations.
func (e *Evaluator) put(s *FaultSet, faults []*circuit.Fault) {
	for k := range s.copies {
		s.copies[k].is = false
	}
	clear(s.driven)
	s.Faults = append(s.Faults[:0], faults...)
	s.pulled = resize(s.pulled, len(e.puller))
	for r, puller := range e.puller {
		s.pulled[r] = puller != nil && slices.Contains(faults, puller)
	}
	s.apart = e.n.Circuit.Floating() || circuit.HasKind(faults, circuit.NeutralLost)
	for w, plug := range circuit.Polarities {
		if w > 0 && !s.apart {
			break
		}
		ports := append(e.n.portsOfAll(faults, plug, e.position), s.joints...)
		if !e.updates(&s.by[w], &e.modes[w], s.pulled, ports) {
			e.writeOut(&s.by[w], s.pulled, plug, ports)
		}
	}
}

// updates puts ports into the equations of a plug polarity. It reports false where they cannot be
// solved to the digits needed.
func (e *Evaluator) updates(u *stateUpdates, m *modeEquations, pulled []bool, ports []int) bool {
	points := len(e.Watched)
	u.dc, u.held = resize(u.dc, len(e.dcModes)), resize(u.held, len(pulled))
	if !u.ac.put(m.ac, m.watchAC, ports, len(m.watchAC.ports)) {
		return false
	}
	for d := range u.dc {
		if !u.dc[d].put(m.dc[d], m.watchDC[d], ports, points) {
			return false
		}
	}
	for r, i := range e.n.Circuit.Sections {
		if pulled[r] {
			continue
		}
		conducts := append(ports[:len(ports):len(ports)], e.n.element[i].conducts)
		if !u.held[r].put(m.held, m.watchHeld, conducts, acPoints+points) {
			return false
		}
	}
	return m.small == nil || u.small.put(m.small, m.watchS, ports, acPoints+points)
}

// writeOut writes ports into fresh equations instead.
func (e *Evaluator) writeOut(u *stateUpdates, pulled []bool, plug circuit.Polarity, ports []int) {
	n, points, m := e.n, len(e.Watched), &e.modes[plug.HotBlade()]
	stand := func(u *Update, mode circuit.Mode, ports []int, like *watch, known int) {
		b := n.assemble(n.keyOf(e.position, mode, plug, e.variant), ports)
		var sources [][]complex128
		if like.sources > 0 {
			sources = [][]complex128{b.batteryAt()}
		}
		u.stand(b, b.watching(sources, like.ports))
		u.know(known)
	}
	stand(&u.ac, circuit.Blocking, ports, m.watchAC, len(m.watchAC.ports))
	for d, mode := range e.dcModes {
		stand(&u.dc[d], mode, ports, m.watchDC[d], points)
	}
	for r, i := range n.Circuit.Sections {
		if !pulled[r] {
			stand(&u.held[r], circuit.Held, append(ports[:len(ports):len(ports)], n.element[i].conducts), m.watchHeld, acPoints+points)
		}
	}
	if m.small != nil {
		stand(&u.small, circuit.Small, ports, m.watchS, acPoints+points)
	}
}
