package nodal

import (
	"math"

	"coldcheck/analysis/internal/circuit"
	"coldcheck/analysis/internal/unionfind"
)

// Evaluation is one solved state. It is good until the evaluator goes on.
type Evaluation struct {
	Plug      circuit.Polarity
	Rectifier int  // the one taken as conducting, in Circuit.Sections; -1 where all block, their number for the small diodes
	Cleared   bool // either side of the supply carries over ClearedAmps AC, all rectifiers blocking
	Without   bool // the shorts of failed parts are left out

	e         *Evaluator
	hot       int     // the blade on the hot side
	hasDC     bool    // the DC side is worked out
	own, more *Update // at AC, without the last fault and with it
	ownDC     []Update
	currents  *[maxChanged]complex128
	known     uint64 // by watched port: its open volts are in Evaluator.open
}

// Blown reports whether fuses are open that a short has opened.
func (x *Evaluation) Blown() bool { return x.e.blown != nil }

// supplied is what the two sides of the supply show, by what one volt of either does.
func (x *Evaluation) supplied(row []complex128) complex128 {
	v := x.e.emf[0] * row[x.hot]
	if x.e.emf[1] != 0 {
		v += x.e.emf[1] * row[1-x.hot]
	}
	return v
}

// drive works out the currents in the last fault's ports.
func (x *Evaluation) drive(currents *[maxChanged]complex128) {
	for i := range x.more.n {
		currents[i] = x.more.per[i] * x.supplied(x.more.rows[i])
	}
	x.currents = currents
}

// shows is what the supply shows at a watched port, by the place of its figure, in volts; of a branch
// in amperes.
func (x *Evaluation) shows(m int) complex128 {
	return x.more.less(x.supplied(x.own.own[m]), m, x.currents)
}

// clears finds out whether a breaker opens: a side of the supply that is whole carries too much.
func (x *Evaluation) clears() bool {
	lost := [2]bool{}
	if x.e.apartPlugs { // else none is lost
		for _, f := range x.e.about.faults {
			if f.Kind == circuit.NeutralLost {
				lost[x.e.n.Circuit.LostBlade(f, x.Plug)] = true
			}
		}
	}
	const most = circuit.ClearedAmps
	x.Cleared = !lost[0] && square(x.shows(0)) > most*most || !lost[1] && square(x.shows(1)) > most*most
	x.e.by[x.hot].cleared = x.Cleared
	return x.Cleared
}

// blowing are the fuses that carry enough to open, with all rectifiers blocking. Of fuses side by side
// each carries its share; one that a wire bridges carries none.
func (x *Evaluation) blowing() []int {
	var blown []int
	for k, i := range x.e.n.fuses {
		if modulus(x.shows(acPoints+len(x.e.Watched)+len(x.e.puller)+k)) > circuit.ClearedAmps {
			blown = append(blown, i)
		}
	}
	return blown
}

// direct works out the DC volts of the points that are asked for, 0 for all, in each mode at DC:
// rectifiers are sources of the peak of the AC volts across them, as a lightly loaded reservoir
// charges; batteries are what they are.
func (x *Evaluation) direct(points uint64) {
	if !x.hasDC {
		return
	}
	e, room := x.e, &x.e.by[x.hot]
	for r := range e.puller {
		room.emf[r] = 0
		if !e.pulled[r] {
			room.emf[r] = math.Sqrt2 * modulus(x.acrossRectifier(r))
		}
	}
	for d := range e.dc {
		u := &e.dc[d]
		var steady [maxChanged]complex128
		for i := range u.n {
			steady[i] = u.per[i] * x.sources(d, u.rows[i])
		}
		for k := range room.volts[d] {
			if points == 0 || points>>k&1 == 1 {
				room.volts[d][k] = real(u.less(x.sources(d, x.ownDC[d].own[k]), dcPoints+k, &steady))
			}
		}
	}
}

// acrossRectifier is the AC volts across a rectifier with all blocking. An end that floats in another
// group than the other's counts as 0 V.
func (x *Evaluation) acrossRectifier(r int) complex128 {
	e := x.e
	if e.endsApart(r) {
		el := &e.n.Circuit.Elements[e.n.Circuit.Sections[r]]
		groups, earth := x.group(-1), e.n.earth()
		if !groups.Same(el.A, el.B) {
			v := complex(0, 0)
			if groups.Same(el.A, earth) {
				v += x.at(e.n.ends[r][0])
			}
			if groups.Same(el.B, earth) {
				v -= x.at(e.n.ends[r][1])
			}
			return v
		}
	}
	return x.shows(acPoints + len(e.Watched) + r)
}

// at is what the supply shows at a port that is not watched, worked out alone.
func (x *Evaluation) at(q int) complex128 {
	var currents, shows [maxChanged]complex128
	figures := make([]complex128, x.own.watch.width())
	x.own.row(q, figures, &currents, nil)
	v := x.supplied(figures)
	for i := range x.more.n {
		shows[i] = x.own.eq.between(q, x.more.ports[i])
		for l := range x.own.n {
			shows[i] -= currents[l] * x.own.pivot[l] * x.more.through[i][l]
		}
	}
	x.more.eliminate(&shows, x.more.n)
	for i := range x.more.n {
		v -= shows[i] * x.currents[i]
	}
	return v
}

// sources is what batteries and rectifiers show at a port in a mode at DC, by its row.
func (x *Evaluation) sources(d int, row []complex128) complex128 {
	sum := row[0]
	if x.e.dcModes[d] == circuit.Alone || x.e.dcModes[d] == circuit.AloneDrawn {
		return sum
	}
	for r, emf := range x.e.by[x.hot].emf {
		sum += complex(emf, 0) * row[dcPoints+len(x.e.Watched)+r]
	}
	return sum
}

// group is the groups of the state: at AC as it is, or in the d-th mode at DC.
func (x *Evaluation) group(d int) *unionfind.Sets {
	e := x.e
	room := &e.by[0] // the groups are the same in both polarities
	if e.apartPlugs {
		room = &e.by[x.hot]
	}
	place := 1 + x.Rectifier
	if d >= 0 {
		place = 2 + len(e.puller) + d
	}
	if room.groups[place] == nil {
		about := e.about
		about.plug, about.conducting, about.mode = x.Plug, -1, circuit.Blocking
		switch {
		case d >= 0:
			about.mode = e.dcModes[d]
		case x.Rectifier == len(e.puller):
			about.mode = circuit.Small
		case x.Rectifier >= 0:
			about.mode, about.conducting = circuit.Held, x.Rectifier
		}
		room.groups[place] = e.n.groups(about)
	}
	return room.groups[place]
}

// startGroups forgets the groups of the state before.
func (e *Evaluator) startGroups(s *FaultSet, more *circuit.Fault, shunts []Shunt) {
	for w := range e.by {
		clear(e.by[w].groups)
	}
	e.about.position, e.about.without, e.about.blown, e.about.joints = e.position, e.without, e.blown, s.joints
	e.about.shunts = shunts
	e.apartPlugs = s.apart || more != nil && more.Kind == circuit.NeutralLost
	e.about.faults = append(e.about.faults[:0], s.Faults...)
	if more != nil {
		e.about.faults = append(e.about.faults, more)
	}
}

// openings are faults that open something, by their places from 1 on, as many as are kept.
type openings [2]int32

// endsApart reports whether an end of a rectifier may float, or stand in another group than the other,
// at AC with all blocking. Shorts join only, so that what is open decides; of that little is kept.
func (e *Evaluator) endsApart(r int) bool {
	var key openings
	n := 0
	for _, f := range e.about.faults {
		if !e.n.mayPart(f) {
			continue
		}
		if n == len(key) || f.Kind == circuit.NeutralLost {
			return true
		}
		key[n] = int32(f.Index + 1)
		n++
	}
	if len(e.about.joints) > 0 {
		return true
	}
	apart, known := e.apart[key]
	if !known {
		about := e.about
		about.mode, about.conducting, about.plug, about.faults = circuit.Blocking, -1, circuit.AsMarked, nil
		for _, k := range key[:n] {
			about.faults = append(about.faults, e.n.Circuit.Faults[k-1])
		}
		groups := e.n.groups(about)
		for k, i := range e.n.Circuit.Sections {
			if el := &e.n.Circuit.Elements[i]; k >= 64 || !groups.Same(el.A, el.B) {
				apart |= 1 << (k % 64)
			}
		}
		e.apart[key] = apart
	}
	return apart>>(r%64)&1 == 1
}

// Joined reports whether conductors join two nodes, by their places, in all of the evaluator's states.
func (e *Evaluator) Joined(a, b int) bool {
	row := e.modes[0].ac.row
	return row[a] == row[b]
}

// Volts is the open AC volts of the k-th watched port, rms, as a phasor. That what floats reads nothing
// is left out of account.
func (x *Evaluation) Volts(k int) complex128 {
	if x.known>>k&1 == 0 { // a point is read once for itself and once for each pair
		return x.readVolts(k)
	}
	return x.e.open[k]
}

func (x *Evaluation) readVolts(k int) complex128 {
	v := x.shows(acPoints + k)
	if k < len(x.e.open) {
		x.e.open[k] = v
		x.known |= 1 << k
	}
	return v
}

// VoltsDC is an upper bound on its open DC volts in any mode, the k-th against the l-th where l is not
// -1, unsigned.
func (x *Evaluation) VoltsDC(k, l int) (most float64) {
	if !x.hasDC {
		return 0
	}
	for _, volts := range x.e.by[x.hot].volts {
		v := volts[k]
		if l >= 0 {
			v -= volts[l]
		}
		most = max(most, math.Abs(v))
	}
	return most
}

// MayBeLive reports whether the k-th watched port, or the k-th against the l-th where l is not -1, may
// exceed ES2, in volts and in amperes, if what floats read something.
func (x *Evaluation) MayBeLive(k, l int) bool {
	v := x.Volts(k)
	if l >= 0 {
		v -= x.Volts(l)
	}
	volts := square(v)
	if !x.hasDC { // the same in squares, without a root or a division
		const most, limit = circuit.ES2VoltsAC * circuit.ES2VoltsAC, circuit.ES2AmpsAC * circuit.ES2AmpsAC / 1e6
		return volts > most && volts > limit*square(x.e.n.body+x.Ohms(k, l))
	}
	return math.Sqrt(volts)/circuit.ES2VoltsAC+x.VoltsDC(k, l)/circuit.ES2VoltsDC > 1 && x.bound(v, k, l) > 1
}

// bound is an upper bound on the current through a body against the limits of ES2, for the open AC
// volts v.
func (x *Evaluation) bound(v complex128, k, l int) float64 {
	severity := 1e3 * modulus(v) / modulus(x.e.n.body+x.Ohms(k, l)) / circuit.ES2AmpsAC
	most := 0.0
	for d, volts := range x.e.by[x.hot].volts {
		v := volts[k]
		if l >= 0 {
			v -= volts[l]
		}
		if math.Abs(v) > most*circuit.BodyDCOhms {
			most = max(most, math.Abs(v)/(circuit.BodyDCOhms+real(x.e.dc[d].impedance(&x.ownDC[d], k, l))))
		}
	}
	return severity + 1e3*most/circuit.ES2AmpsDC
}

// Source is the k-th watched port as a Thevenin equivalent; the k-th against the l-th, both to ground,
// where l is not -1. At DC it is that of the mode that drives the most through a body. What floats
// reads nothing.
func (x *Evaluation) Source(k, l int) Source {
	var s Source
	lAC := l
	if l >= 0 {
		lAC += acPoints
	}
	if x.closed(-1, k, l) {
		s.Volts, s.Ohms = x.Volts(k), x.more.impedance(x.own, acPoints+k, lAC)
		if l >= 0 {
			s.Volts -= x.Volts(l)
		}
	}
	if !x.hasDC {
		return s
	}
	most := -1.0
	for d, volts := range x.e.by[x.hot].volts {
		if !x.closed(d, k, l) {
			continue
		}
		v, ohms := volts[k], real(x.e.dc[d].impedance(&x.ownDC[d], k, l))
		if l >= 0 {
			v -= volts[l]
		}
		if amps := math.Abs(v / (circuit.BodyDCOhms + ohms)); amps > most {
			most, s.VoltsDC, s.OhmsDC = amps, v, ohms
		}
	}
	return s
}

// Ohms is the AC impedance of the k-th watched port with every source dead, in Ω; of the k-th against
// the l-th, both to ground, where l is not -1.
func (x *Evaluation) Ohms(k, l int) complex128 {
	if l >= 0 {
		l += acPoints
	}
	return x.more.impedance(x.own, acPoints+k, l)
}

// closed reports whether a current can return through what is put across the k-th watched port, or
// from the k-th to the l-th: both ends are in one group.
func (x *Evaluation) closed(d, k, l int) bool {
	groups, earth := x.group(d), x.e.n.earth()
	of := func(i int) int {
		if i < 0 {
			return earth
		}
		return i
	}
	p := x.e.n.ports[x.e.Watched[k]]
	if l >= 0 {
		return groups.Same(of(p.a), of(x.e.n.ports[x.e.Watched[l]].a))
	}
	return groups.Same(of(p.a), of(p.b))
}

// State is the evaluated state of a set of faults.
func (x *Evaluation) State(faults []*circuit.Fault) circuit.State {
	c := x.e.n.Circuit
	s := c.StateAt(x.Plug, x.e.position).WithFaults(faults...)
	s.Without = x.Without
	for _, i := range x.e.blown.out() {
		s.Blown = append(s.Blown, c.PartOf(&c.Elements[i]).Name)
	}
	switch r := x.Rectifier; {
	case r == len(c.Rectifiers):
		s.Rectifier = circuit.SmallDiodes
	case r >= 0:
		s.Rectifier = c.Rectifiers[r]
	}
	return s
}
