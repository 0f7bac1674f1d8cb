package nodal

import (
	"math"
	"math/cmplx"

	"coldcheck/analysis/internal/circuit"
	"coldcheck/analysis/internal/topology"
	"coldcheck/netlist"
)

// Touch is a state with a body on one node: the IEC 60990 network from it to earth, 2000 Ω at DC. It
// tells which channels bring the body's current.
type Touch struct {
	s         *Solution
	ac, dc    *solved    // once the body is on
	Amps      complex128 // A rms from the node through the body
	AmpsDC    float64    // A, signed
	Connected bool       // false for a node that is not there
}

// Touch puts a body on a node.
func (s *Solution) Touch(node string) *Touch {
	h := &Touch{s: s}
	i, ok := s.c.Node(node)
	if !ok {
		return h
	}
	h.Connected = true
	h.ac, h.Amps = s.ac.loaded(i, s.n.earth(), circuit.BodyImpedance(s.c.Omega))
	for _, d := range s.dc {
		with, direct := d.loaded(i, s.n.earth(), circuit.BodyDCOhms)
		if h.dc == nil || math.Abs(real(direct)) > math.Abs(h.AmpsDC) {
			h.dc, h.AmpsDC = with, real(direct)
		}
	}
	return h
}

// loaded is the solution with a load from a node to earth, and the current in it.
func (s *solved) loaded(node, earth int, load complex128) (with *solved, amps complex128) {
	if !s.groups.Same(node, earth) {
		return s, 0
	}
	k := s.eq.row[node]
	unit := make([]complex128, s.eq.size)
	unit[k] = 1
	s.solve(unit)
	amps = s.x[k] / (load + unit[k])
	x := make([]complex128, s.eq.size)
	for j := range x {
		x[j] = s.x[j] - amps*unit[j]
	}
	return &solved{s.Update, x, s.groups}, amps
}

// Severity is the body's current against the limits of ES2, AC and DC added.
func (h *Touch) Severity() float64 {
	return 1e3*cmplx.Abs(h.Amps)/circuit.ES2AmpsAC + 1e3*math.Abs(h.AmpsDC)/circuit.ES2AmpsDC
}

// Brought is the in-phase component of the current in a channel, from one of its nodes to the other:
// its AC projected on the body's, its DC where it flows the same way, against the limits of ES2 and
// added. What passes the body by on its way to the other side of the line counts too, so that what
// several channels bring can be compared with one another, and not with the body's current. A channel
// whose current the equations do not have (a conductor, a short) has ok false.
func (h *Touch) Brought(ch topology.Channel, from string) (severity float64, ok bool) {
	if !h.Connected {
		return 0, false
	}
	ac, ok := h.s.through(ch, h.ac)
	if !ok {
		return 0, false
	}
	direct := complex(0, 0)
	if h.dc != nil {
		direct, _ = h.s.through(ch, h.dc)
	}
	if from != ch.A {
		ac, direct = -ac, -direct
	}
	if size := cmplx.Abs(h.Amps); size > 0 {
		severity += 1e3 * max(0, real(ac*cmplx.Conj(h.Amps))/size) / circuit.ES2AmpsAC
	}
	if h.AmpsDC != 0 {
		severity += 1e3 * max(0, real(direct)*math.Copysign(1, h.AmpsDC)) / circuit.ES2AmpsDC
	}
	return severity, true
}

// Carried is Brought of each of some channels, from its A to its B, signed: what flows at every node
// adds up to nothing but where the supply, an earth or the body takes it or gives it. Channels whose
// current the equations do not have are told apart by NaN.
func (h *Touch) Carried(channels []topology.Channel) []float64 {
	out := make([]float64, len(channels))
	between := map[[2]int][]int{}
	for i := range h.s.c.Elements {
		e := &h.s.c.Elements[i]
		pair := [2]int{min(e.A, e.B), max(e.A, e.B)}
		between[pair] = append(between[pair], i)
	}
	for k, ch := range channels {
		a, b := ch.Places()
		elements := between[[2]int{min(a, b), max(a, b)}]
		ac, ok := complex(0, 0), false
		if h.Connected {
			ac, ok = h.s.throughSome(ch, h.ac, elements)
		}
		if !ok {
			out[k] = math.NaN()
			continue
		}
		if size := cmplx.Abs(h.Amps); size > 0 {
			out[k] += 1e3 * real(ac*cmplx.Conj(h.Amps)) / size / circuit.ES2AmpsAC
		}
		if h.dc != nil && h.AmpsDC != 0 {
			direct, _ := h.s.throughSome(ch, h.dc, elements)
			out[k] += 1e3 * real(direct) * math.Copysign(1, h.AmpsDC) / circuit.ES2AmpsDC
		}
	}
	return out
}

// Through is the current in a channel with no body anywhere: A rms, and A DC unsigned. A conductor or
// a short has ok false.
func (s *Solution) Through(ch topology.Channel) (amps, ampsDC float64, ok bool) {
	ac, ok := s.through(ch, s.ac)
	if !ok {
		return 0, 0, false
	}
	for _, d := range s.dc {
		direct, _ := s.through(ch, d)
		ampsDC = max(ampsDC, cmplx.Abs(direct))
	}
	return cmplx.Abs(ac), ampsDC, true
}

// through reads a channel's current, from its A to its B, out of a solution.
func (s *Solution) through(ch topology.Channel, in *solved) (complex128, bool) {
	all := make([]int, len(s.c.Elements))
	for i := range all {
		all[i] = i
	}
	return s.throughSome(ch, in, all)
}

// throughSome is through, of which only some elements can be pieces.
func (s *Solution) throughSome(ch topology.Channel, in *solved, elements []int) (complex128, bool) {
	switch ch.Sort {
	case topology.Conductor:
		return 0, false
	case topology.Insulating:
		return 0, true
	}
	total, found := complex(0, 0), false
	for _, i := range elements {
		e := &s.c.Elements[i]
		if !ch.Joins(e.A, e.B) || s.c.PartOf(e).Name != ch.Part || !isOf(e, ch) {
			continue
		}
		amps, ok := s.current(in, i)
		if !ok {
			continue
		}
		if !ch.StartsAt(e.A) {
			amps = -amps
		}
		total, found = total+amps, true
	}
	for i, t := range s.c.Transformers {
		p := s.c.Set.Parts[t.Part]
		if p.Name != ch.Part {
			continue
		}
		for k, w := range p.Detail.(*netlist.Transformer).Windings {
			if w.Name != ch.Piece {
				continue
			}
			amps := in.x[in.eq.offset+s.n.transformer[i]+k]
			if !ch.StartsAt(t.Windings[k].A) {
				amps = -amps
			}
			total, found = total+amps, true
		}
	}
	return total, found
}

// isOf reports whether an element is what a channel of its part is made of.
func isOf(e *circuit.Element, ch topology.Channel) bool {
	switch e.Sort {
	case circuit.Load:
		return (ch.Sort == topology.Load || ch.Sort == topology.Resistive) && ch.Piece != topology.DrawPiece
	case circuit.Draw:
		return ch.Sort == topology.Load && ch.Piece == topology.DrawPiece
	case circuit.Capacitor:
		return ch.Sort == topology.Capacitive
	case circuit.Battery:
		return ch.Sort == topology.Load
	case circuit.Rectifier:
		return ch.Sort == topology.Rectifying && e.Label == ch.Piece
	case circuit.Diode:
		return ch.Sort == topology.Rectifying && ch.Piece == circuit.SmallDiodes
	}
	return false
}

// current is the current from an element's A to its B in a solution. It is unknown (ok false) of what
// merges nodes.
func (s *Solution) current(in *solved, i int) (amps complex128, ok bool) {
	e, b := &s.c.Elements[i], in.eq
	switch e.Sort {
	case circuit.Join, circuit.Pole, circuit.Throw:
		return 0, false
	case circuit.Rectifier:
		return s.rectified(in, i), true
	}
	if k := s.n.element[i].branch; k >= 0 {
		return in.x[b.offset+k], true
	}
	impedance, conducts := b.impedance(e)
	if !conducts {
		return 0, true
	}
	across := in.node(e.A) - in.node(e.B)
	if e.Sort == circuit.Battery && b.key.mode.DC() {
		across -= complex(e.Volts, 0)
	}
	return across / impedance, true
}

// rectified is the current of a rectifier: at DC its branch's, at AC that of the conducting one.
func (s *Solution) rectified(in *solved, i int) complex128 {
	e := &s.c.Elements[i]
	switch {
	case in.eq.key.mode.DC():
		return -in.x[in.eq.offset+s.n.element[i].branch] // it counts what comes out of the cathode as negative
	case e.Label == s.State.Rectifier:
		return (in.node(e.A) - in.node(e.B)) / complex(e.Ohms, 0)
	}
	return 0
}
