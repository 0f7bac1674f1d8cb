package nodal

import (
	"math"

	"coldcheck/analysis/internal/circuit"
)

// Evaluation is one solved state. It is good until the evaluator goes on.
type Evaluation struct {
	Plug      circuit.Polarity
	Rectifier int  // the one taken as conducting, in Circuit.Sections; -1 where all block
	Cleared   bool // either side of the supply carries over ClearedAmps AC, all rectifiers blocking
	Without   bool // the shorts of failed parts are left out

	e         *Evaluator
	hot       int     // the blade on the hot side
	hasDC     bool    // the DC side is worked out
	own, more *Update // at AC, without the last fault and with it
	ownDC     *Update
	currents  *[maxChanged]complex128 // for one volt of supply
}

// Evaluator is the one that evaluated the state.
func (x *Evaluation) Evaluator() *Evaluator { return x.e }

// drive works out the currents in the last fault's ports for one volt of supply.
func (x *Evaluation) drive(currents *[maxChanged]complex128) {
	var shows [maxChanged]complex128
	for i := range x.more.n {
		shows[i] = x.more.rows[i][x.hot]
	}
	x.more.currents(&shows, currents)
	x.currents = currents
}

// shows is what the supply shows at a watched port, by the place of its figure, in volts (of a side:
// amperes) of one volt of supply.
func (x *Evaluation) shows(m int) complex128 {
	return x.more.less(x.own.own[m][x.hot], m, x.currents)
}

// clears finds out whether a breaker opens: either side of the supply carries too much, the neutral one
// only where it is whole.
func (x *Evaluation) clears(lost bool) bool {
	most := circuit.ClearedAmps / x.e.n.Circuit.Set.Volts
	cleared := square(x.shows(x.hot)) > most*most || !lost && square(x.shows(1-x.hot)) > most*most
	x.Cleared, x.e.by[x.hot].cleared = cleared, cleared
	return cleared
}

// direct works out the DC volts of the points that are asked for, 0 for all: rectifiers are sources of
// the peak of the AC volts across them, as a lightly loaded reservoir charges; batteries are what they
// are.
func (x *Evaluation) direct(points uint64) {
	e, room := x.e, &x.e.by[x.hot]
	n := len(e.Watched)
	for r := range e.puller {
		room.emf[r] = 0
		if !e.pulled[r] {
			room.emf[r] = math.Sqrt2 * e.n.Circuit.Set.Volts * modulus(x.shows(acPoints+n+r))
		}
	}
	var shows [maxChanged]complex128
	for i := range e.dc.n {
		shows[i] = x.sources(e.dc.rows[i])
	}
	e.dc.currents(&shows, &room.steady)
	for k := range room.volts {
		if points == 0 || points>>k&1 == 1 {
			room.volts[k] = real(e.dc.less(x.sources(x.ownDC.own[k]), dcPoints+k, &room.steady))
		}
	}
}

// sources is what batteries and rectifiers show at a port at DC, by its row.
func (x *Evaluation) sources(row []complex128) complex128 {
	sum := row[0]
	for r, emf := range x.e.by[x.hot].emf {
		sum += complex(emf, 0) * row[dcPoints+len(x.e.Watched)+r]
	}
	return sum
}

// Volts is the open AC volts of the k-th watched port, rms, as a phasor.
func (x *Evaluation) Volts(k int) complex128 {
	return complex(x.e.n.Circuit.Set.Volts, 0) * x.shows(acPoints+k)
}

// VoltsDC is its open DC volts, signed; 0 where the set has no source of it or it was not asked for.
func (x *Evaluation) VoltsDC(k int) float64 {
	if !x.hasDC {
		return 0
	}
	return x.e.by[x.hot].volts[k]
}

// Ohms is the AC impedance of the k-th watched port with every source dead, in Ω; of the k-th against
// the l-th, both to ground, where l is not -1.
func (x *Evaluation) Ohms(k, l int) complex128 {
	if l >= 0 {
		l += acPoints
	}
	return x.more.impedance(x.own, acPoints+k, l)
}

// OhmsDC is the same at DC, 0 where the set has no source of it or it was not asked for.
func (x *Evaluation) OhmsDC(k, l int) float64 {
	if !x.hasDC {
		return 0
	}
	return real(x.e.dc.impedance(x.ownDC, k, l))
}

// Source is the k-th watched port as a Thevenin equivalent; the k-th against the l-th, both to ground,
// where l is not -1.
func (x *Evaluation) Source(k, l int) Source {
	s := Source{Volts: x.Volts(k), Ohms: x.Ohms(k, l), VoltsDC: x.VoltsDC(k), OhmsDC: x.OhmsDC(k, l)}
	if l >= 0 {
		s.Volts -= x.Volts(l)
		s.VoltsDC -= x.VoltsDC(l)
	}
	return s
}

// State is the evaluated state of a set of faults.
func (x *Evaluation) State(faults []*circuit.Fault) circuit.State {
	c := x.e.n.Circuit
	s := c.StateAt(x.Plug, x.e.position).WithFaults(faults...)
	s.Without = x.Without
	if x.Rectifier >= 0 {
		s.Rectifier = c.Rectifiers[x.Rectifier]
	}
	return s
}
