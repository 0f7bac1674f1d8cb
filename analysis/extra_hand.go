package analysis

import (
	"math"
	"math/cmplx"

	"coldcheck/netlist"
)

// Hand is a state with a hand at one node: the IEC 60990 body network from it to earth, 2000 Ω at
// DC. It tells which channels bring the hand's current.
type Hand struct {
	s         *Solution
	ac, dc    []complex128 // volts and branch currents once the hand is on
	Amps      complex128   // A rms from the node through the hand
	AmpsDC    float64      // A, signed
	Connected bool         // false for a node that is not there
}

// Hand puts a hand on a node.
func (s *Solution) Hand(node string) *Hand {
	h := &Hand{s: s}
	i, ok := s.c.index[node]
	if !ok {
		return h
	}
	h.Connected = true
	put := func(b *base, x []complex128, body complex128) (with []complex128, amps complex128) {
		k := b.row[i]
		unit := make([]complex128, b.n)
		unit[k] = 1
		b.lu.solve(unit)
		amps = x[k] / (body + unit[k])
		with = make([]complex128, b.n)
		for j := range with {
			with[j] = x[j] - amps*unit[j]
		}
		return with, amps
	}
	h.ac, h.Amps = put(s.base, s.ac, BodyImpedance(s.c.omega))
	var direct complex128
	h.dc, direct = put(s.direct, s.dcx, BodyDCOhms)
	h.AmpsDC = real(direct)
	return h
}

// Severity is the hand's current against the limits of ES2, AC and DC added.
func (h *Hand) Severity() float64 {
	return 1e3*cmplx.Abs(h.Amps)/ES2AmpsAC + 1e3*math.Abs(h.AmpsDC)/ES2AmpsDC
}

// Brought is the current in a channel, from one of its nodes to the other, as far as it is in step
// with the hand's: its AC projected on the hand's, its DC where it flows the same way, against the
// limits of ES2 and added. What passes the hand by on its way to the other side of the line counts
// too, so that what several ways bring can be compared with one another, and not with the hand's
// current. A channel whose current the equations do not have (a conductor, a short) has ok false.
func (h *Hand) Brought(ch Channel, from string) (severity float64, ok bool) {
	if !h.Connected {
		return 0, false
	}
	ac, ok := h.s.current(ch, h.s.base, h.ac)
	if !ok {
		return 0, false
	}
	direct, _ := h.s.current(ch, h.s.direct, h.dc)
	if from != ch.A {
		ac, direct = -ac, -direct
	}
	if size := cmplx.Abs(h.Amps); size > 0 {
		severity += 1e3 * max(0, real(ac*cmplx.Conj(h.Amps))/size) / ES2AmpsAC
	}
	if h.AmpsDC != 0 {
		severity += 1e3 * max(0, real(direct)*math.Copysign(1, h.AmpsDC)) / ES2AmpsDC
	}
	return severity, true
}

// Through is the current in a channel with no hand anywhere: A rms, and A DC unsigned. A conductor
// or a short has ok false.
func (s *Solution) Through(ch Channel) (amps, ampsDC float64, ok bool) {
	ac, ok := s.current(ch, s.base, s.ac)
	if !ok {
		return 0, 0, false
	}
	direct, _ := s.current(ch, s.direct, s.dcx)
	return cmplx.Abs(ac), cmplx.Abs(direct), true
}

// current reads a channel's current, from its A to its B, out of a solution x of the equations b.
func (s *Solution) current(ch Channel, b *base, x []complex128) (complex128, bool) {
	switch ch.Sort {
	case Conductor:
		return 0, false
	case Insulating:
		return 0, true
	}
	total, found := complex(0, 0), false
	add := func(a int, amps complex128) {
		if a != ch.a {
			amps = -amps
		}
		total, found = total+amps, true
	}
	for i := range s.c.elements {
		e := &s.c.elements[i]
		if !(e.a == ch.a && e.b == ch.b || e.a == ch.b && e.b == ch.a) || s.c.Set.Parts[e.part].Name != ch.Part {
			continue
		}
		if amps, ok := s.elementCurrent(e, ch, b, x); ok {
			add(e.a, amps)
		}
	}
	for _, t := range s.c.coupled {
		p := s.c.Set.Parts[t.part]
		if p.Name != ch.Part {
			continue
		}
		for k, w := range p.Detail.(*netlist.Transformer).Windings {
			if w.Name == ch.Piece {
				add(t.windings[k].a, x[b.offset+t.branch+k])
			}
		}
	}
	return total, found
}

// elementCurrent is the current from an element's a to its b, where the element is of the channel's
// sort.
func (s *Solution) elementCurrent(e *element, ch Channel, b *base, x []complex128) (complex128, bool) {
	across := x[b.row[e.a]] - x[b.row[e.b]]
	switch {
	case e.sort == load && (ch.Sort == Load || ch.Sort == Resistive):
		switch {
		case e.branch >= 0:
			return x[b.offset+e.branch], true
		case b.mode == dc:
			return across / complex(e.ohms, 0), true
		}
		return across / complex(e.ohms, s.c.omega*e.henrys), true
	case e.sort == capacitor && ch.Sort == Capacitive:
		y := complex(0, 0)
		if e.leak > 0 {
			y = complex(1/e.leak, 0)
		}
		switch {
		case b.mode == acHeld && e.farads >= ReservoirFarad:
			y = 1 / ShortOhms
		case b.mode != dc:
			y += complex(0, s.c.omega*e.farads)
		}
		return across * y, true
	case e.sort == battery && ch.Sort == Load:
		if b.mode == dc {
			across -= complex(e.volts, 0)
		}
		return across / complex(e.ohms, 0), true
	case e.sort == rectifier && ch.Sort == Rectifying && e.label == ch.Piece:
		switch {
		case b.mode == dc:
			return -x[b.offset+e.branch], true // the branch counts what comes out of the cathode as negative
		case e.label == s.State.Rectifier:
			return across / complex(e.ohms, 0), true
		}
		return 0, true
	}
	return 0, false
}
