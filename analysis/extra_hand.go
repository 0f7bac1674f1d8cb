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
	unit      []complex128 // AC volts and branch currents for one ampere into the node
	unitDC    []complex128
	ac, dc    []complex128 // those of the state once the hand is on
	Amps      complex128   // A rms through the hand
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
	put := func(b *base, x []complex128, body complex128) (unit, with []complex128, amps complex128) {
		k := b.row[i]
		unit = make([]complex128, b.n)
		unit[k] = 1
		b.lu.solve(unit)
		amps = x[k] / (body + unit[k])
		with = make([]complex128, b.n)
		for j := range with {
			with[j] = x[j] - amps*unit[j]
		}
		return unit, with, amps
	}
	h.unit, h.ac, h.Amps = put(s.base, s.ac, BodyImpedance(s.c.omega))
	var direct complex128
	h.unitDC, h.dc, direct = put(s.direct, s.dcx, BodyDCOhms)
	h.AmpsDC = real(direct)
	return h
}

// Severity is the hand's current against the limits of ES2, AC and DC added.
func (h *Hand) Severity() float64 {
	return 1e3*cmplx.Abs(h.Amps)/ES2AmpsAC + 1e3*math.Abs(h.AmpsDC)/ES2AmpsDC
}

// Brought is how much of the hand's current a channel brings, against the limits of ES2, AC and DC
// added: what touching changes in the channel, and no more than it then carries. A channel whose
// current the equations do not have (a conductor, a short) has ok false.
func (h *Hand) Brought(ch Channel) (severity float64, ok bool) {
	if !h.Connected {
		return 0, false
	}
	change, ok := h.s.current(ch, h.s.base, h.unit, false)
	if !ok {
		return 0, false
	}
	whole, _ := h.s.current(ch, h.s.base, h.ac, true)
	changeDC, _ := h.s.current(ch, h.s.direct, h.unitDC, false)
	wholeDC, _ := h.s.current(ch, h.s.direct, h.dc, true)
	ac := min(cmplx.Abs(change*h.Amps), cmplx.Abs(whole))
	direct := min(cmplx.Abs(changeDC)*math.Abs(h.AmpsDC), cmplx.Abs(wholeDC))
	return 1e3*ac/ES2AmpsAC + 1e3*direct/ES2AmpsDC, true
}

// Through is the current in a channel with no hand anywhere: A rms, and A DC unsigned. A conductor
// or a short has ok false.
func (s *Solution) Through(ch Channel) (amps, ampsDC float64, ok bool) {
	ac, ok := s.current(ch, s.base, s.ac, true)
	if !ok {
		return 0, 0, false
	}
	direct, _ := s.current(ch, s.direct, s.dcx, true)
	return cmplx.Abs(ac), cmplx.Abs(direct), true
}

// current reads a channel's current out of a solution x of the equations b. sources tells that x
// is a state, in which rectifiers and batteries drive; else it is the answer to one ampere.
func (s *Solution) current(ch Channel, b *base, x []complex128, sources bool) (complex128, bool) {
	switch ch.Sort {
	case Conductor:
		return 0, false
	case Insulating:
		return 0, true
	}
	across := x[b.row[ch.a]] - x[b.row[ch.b]]
	total, found := complex(0, 0), false
	for i := range s.c.elements {
		e := &s.c.elements[i]
		if s.c.Set.Parts[e.part].Name != ch.Part || !(e.a == ch.a && e.b == ch.b || e.a == ch.b && e.b == ch.a) {
			continue
		}
		amps, ok := s.elementCurrent(e, ch, b, x, across, sources)
		if ok {
			total, found = total+amps, true
		}
	}
	for _, t := range s.c.coupled {
		p := s.c.Set.Parts[t.part]
		if p.Name != ch.Part {
			continue
		}
		for k, w := range p.Detail.(*netlist.Transformer).Windings {
			if w.Name == ch.Piece {
				total, found = total+x[b.offset+t.branch+k], true
			}
		}
	}
	return total, found
}

func (s *Solution) elementCurrent(e *element, ch Channel, b *base, x []complex128, across complex128, sources bool) (complex128, bool) {
	switch {
	case e.sort == load && (ch.Sort == Load || ch.Sort == Resistive):
		if e.branch >= 0 {
			return x[b.offset+e.branch], true
		}
		impedance := complex(e.ohms, 0)
		if b.mode != dc {
			impedance = complex(e.ohms, s.c.omega*e.henrys)
		}
		return across / impedance, true
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
		if sources && b.mode == dc {
			emf := complex(e.volts, 0)
			if e.a != ch.a {
				emf = -emf
			}
			across -= emf
		}
		return across / complex(e.ohms, 0), true
	case e.sort == rectifier && ch.Sort == Rectifying && e.label == ch.Piece:
		switch {
		case b.mode == dc:
			return x[b.offset+e.branch], true
		case e.label == s.State.Rectifier:
			return across / complex(e.ohms, 0), true
		}
		return 0, true
	}
	return 0, false
}
