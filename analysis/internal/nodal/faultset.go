package nodal

import (
	"slices"

	"coldcheck/analysis/internal/circuit"
)

// FaultSet is a set of faults put into the equations of an evaluator's states.
type FaultSet struct {
	Faults []*circuit.Fault
	joints []int            // ports that join points as by one hand
	pulled []bool           // by rectifier
	apart  bool             // each plug polarity has updates of its own; else the first serve both
	by     [2]*stateUpdates // the second nil where it never served
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
		if s.by[w] == nil {
			s.by[w] = &stateUpdates{}
		}
		e.putInto(s.by[w], s.pulled, plug, append(e.n.portsOfAll(faults, plug, e.position), s.joints...))
	}
}

// putInto puts ports into the equations of a plug polarity.
func (e *Evaluator) putInto(u *stateUpdates, pulled []bool, plug circuit.Polarity, ports []int) {
	m, points := &e.modes[plug.HotBlade()], len(e.Watched)
	u.dc, u.held = resize(u.dc, len(e.dcModes)), resize(u.held, len(pulled))
	e.putMode(&u.ac, m.ac, m.watchAC, ports, len(m.watchAC.ports))
	for d := range u.dc {
		e.putMode(&u.dc[d], m.dc[d], m.watchDC[d], ports, points)
	}
	for r, i := range e.n.Circuit.Sections {
		if !pulled[r] {
			e.putMode(&u.held[r], m.held, m.watchHeld, append(ports[:len(ports):len(ports)], e.n.element[i].conducts), acPoints+points)
		}
	}
	if m.small != nil {
		e.putMode(&u.small, m.small, m.watchS, ports, acPoints+points)
	}
}

// putMode puts ports into the equations of one mode, of which the first few watched ports are to be known.
// Where that cannot be solved to the digits needed it writes them into fresh equations instead.
func (e *Evaluator) putMode(u *Update, b *Equations, w *watch, ports []int, known int) {
	if u.put(b, w, ports, known) {
		return
	}
	fresh := e.n.assemble(b.key, ports)
	u.stand(fresh, fresh.watching(w.ports))
	u.know(known)
}
