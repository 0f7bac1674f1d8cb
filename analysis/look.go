package analysis

import (
	"math"
	"math/bits"
	"slices"
)

// searched are the equations that a searcher reads in a plug way, and what it looks at in each: the
// touch points; at AC the two sides of the supply and the rectifiers too, at DC these' branches. They
// are the same in both ways, but for an isolated supply, whose stray capacitance is on its hot side.
type searched struct {
	ac, dc, held   *base
	acSeen, dcSeen *seen
	heldSeen       *seen
}

// The figures of a row that come before those of the watched ports: at AC what the supply shows in
// either plug way, at DC what the batteries show.
const (
	acSources = 2
	dcSources = 1
)

// level is a prefix as put into the equations.
type level struct {
	ready  bool
	apart  bool // each plug way has views of its own; else the first serve both
	views  [2]views
	pulled []bool // by rectifier
}

// views are a prefix at AC with all rectifiers blocking, at DC, and with each conducting.
type views struct {
	ac, dc view
	held   []view
	weak   bool // some of them are
}

// looking is room for a look at one fault more.
type looking struct {
	ac, dc, held added
	emf          [2][]float64 // by plug way, by rectifier
	volts        [2][]float64 // at DC, by plug way, by touch point
	pulled       []bool
	// The figures that are asked for of the rows at AC, at DC and with a rectifier conducting; nil for
	// all.
	acSome, dcSome, heldSome []int
}

// ask notes the figures that tell of some points; where those are most of the points, all figures are
// worked out, which is quicker.
func (l *looking) ask(points uint64, n, sections int) {
	l.acSome, l.dcSome, l.heldSome = l.acSome[:0], l.dcSome[:0], l.heldSome[:0]
	if 2*bits.OnesCount64(points) > n {
		return
	}
	l.acSome = append(l.acSome, 0, 1, acSources+n, acSources+n+1)
	l.dcSome = append(l.dcSome, 0)
	l.heldSome = append(l.heldSome, 0, 1)
	for r := range sections {
		l.acSome, l.dcSome = append(l.acSome, acSources+n+2+r), append(l.dcSome, dcSources+n+r)
	}
	for ; points != 0; points &= points - 1 {
		k := bits.TrailingZeros64(points)
		l.acSome, l.dcSome, l.heldSome = append(l.acSome, acSources+k), append(l.dcSome, dcSources+k), append(l.heldSome, acSources+k)
	}
}

// orAll is nil for none.
func orAll(some []int) []int {
	if len(some) == 0 {
		return nil
	}
	return some
}

// prepare makes the bases and fills in their columns, which the searchers then only read.
func (s *searcher) prepare(among []int) {
	c := s.d.c
	s.solver = newSolver(c)
	for w := range s.looking.emf {
		s.looking.emf[w] = make([]float64, len(c.sections))
		s.looking.volts[w] = make([]float64, len(c.Points))
	}
	s.looking.pulled = make([]bool, len(c.sections))
	for _, i := range c.sections {
		s.puller = append(s.puller, c.pulled(c.Set.Parts[c.elements[i].part].Name))
	}
	for _, p := range c.Points {
		s.points = append(s.points, p.port)
	}
	watchAC := append(slices.Clone(s.points), c.sidePort[0], c.sidePort[1])
	watchDC := slices.Clone(s.points)
	for _, i := range c.sections {
		watchAC = append(watchAC, c.elements[i].port)
		watchDC = append(watchDC, c.elements[i].openPort)
	}
	for w, way := range ways {
		if s.bases[w].ac != nil {
			continue
		}
		if w > 0 && !c.Bench.Isolated {
			s.bases[w] = s.bases[0]
			break
		}
		whole := func(m mode) *base {
			b := c.base(s.combo, m, way, false)
			for _, p := range among {
				b.column(p)
			}
			return b
		}
		supply := func(b *base) [][]complex128 {
			return [][]complex128{b.column(c.sidePort[hotSide(AsMarked)]), b.column(c.sidePort[hotSide(Reversed)])}
		}
		x := &s.bases[w]
		x.ac = whole(acBlocking)
		x.acSeen = x.ac.sees(supply(x.ac), watchAC, among)
		if c.sources {
			x.dc = whole(dc)
			battery := make([]complex128, len(c.ports))
			if x.dc.battery != nil {
				for _, p := range among {
					battery[p] = x.dc.at(x.dc.battery, p)
				}
			}
			x.dcSeen = x.dc.sees([][]complex128{battery}, watchDC, among)
		}
		if len(c.sections) > 0 {
			x.held = whole(acHeld)
			x.heldSeen = x.held.sees(supply(x.held), s.points, among)
		}
	}
}

// level is that of the prefix at hand.
func (s *searcher) level() *level {
	for len(s.levels) <= len(s.set) {
		l := level{pulled: make([]bool, len(s.d.c.sections))}
		for w := range l.views {
			l.views[w].held = make([]view, len(s.d.c.sections))
		}
		s.levels = append(s.levels, l)
	}
	return &s.levels[len(s.set)]
}

// fill puts the prefix into the equations.
func (s *searcher) fill(l *level) {
	l.ready = true
	l.apart = s.d.c.Bench.Isolated || s.has(NeutralLost)
	for r, puller := range s.puller {
		l.pulled[r] = puller != nil && slices.Contains(s.set, puller)
	}
	for w := range ways {
		if w == 0 || l.apart {
			l.views[w].weak = !s.put(&l.views[w], l, w)
		}
	}
}

// put puts the prefix into the three sets of equations as they are in a plug way. It returns false
// where it cannot be solved apart.
func (s *searcher) put(v *views, l *level, w int) bool {
	c, x := s.d.c, &s.bases[w]
	s.solver.ports = s.solver.ports[:0]
	for _, f := range s.set {
		s.solver.ports = append(s.solver.ports, s.portsFor(f, w)...)
	}
	ports := s.solver.ports
	v.ac.build(x.ac, x.acSeen, ports, len(x.acSeen.watch))
	if v.ac.weak {
		return false
	}
	if c.sources {
		v.dc.build(x.dc, x.dcSeen, ports, len(s.points))
		if v.dc.weak {
			return false
		}
	}
	for r, i := range c.sections {
		if l.pulled[r] {
			continue
		}
		v.held[r].build(x.held, x.heldSeen, append(slices.Clip(ports), c.elements[i].port), len(s.points))
		if v.held[r].weak {
			return false
		}
	}
	return true
}

// has tells whether a fault of that kind is in the prefix.
func (s *searcher) has(kind FaultKind) bool {
	return slices.ContainsFunc(s.set, func(f *Fault) bool { return f.Kind == kind })
}

// portsFor are the ports of a fault in a plug way.
func (s *searcher) portsFor(f *Fault, w int) []int {
	if f.Kind == NeutralLost {
		k := 1 - hotSide(ways[w])
		return s.d.c.sidePort[k : k+1]
	}
	return f.ports
}

// look reads the points that each plug way needs with one fault more, and gives those that are live.
func (s *searcher) look(g *Fault, need [2]uint64) (live [2]uint64) {
	l := s.level()
	if !l.ready {
		s.fill(l)
	}
	var again [2]bool
	if !l.apart && g.Kind != NeutralLost {
		s.read(&l.views[0], l, g, 0, len(ways), &need, &live, &again)
	} else {
		for w := range ways {
			v := &l.views[0]
			if l.apart {
				v = &l.views[w]
			}
			s.read(v, l, g, w, w+1, &need, &live, &again)
		}
	}
	for w, long := range again {
		if long && need[w] != 0 {
			live[w] = s.slow(g, ways[w])
		}
	}
	return live
}

// read looks in the plug ways from … to-1, which have their views in common. Again says where it has
// to be looked at the long way.
func (s *searcher) read(v *views, l *level, g *Fault, from, to int, need, live *[2]uint64, again *[2]bool) {
	c, n := s.d.c, len(s.points)
	giveUp := func() {
		for w := from; w < to; w++ {
			again[w] = true
		}
	}
	a, direct, held := &s.looking.ac, &s.looking.dc, &s.looking.held
	ports := s.portsFor(g, from)
	s.looking.ask(need[0]|need[1], n, len(c.sections))
	if v.weak || !v.ac.add(ports, a, orAll(s.looking.acSome)) {
		giveUp()
		return
	}
	lost := g.Kind == NeutralLost || s.has(NeutralLost)
	volts := c.Set.Volts
	most := ClearedAmps / volts
	var shows, amps [maxAdded]complex128
	var steady [2][maxAdded]complex128 // the currents at DC
	var acAmps [2][maxAdded]complex128
	open := *need // the points still to be judged
	for w := from; w < to; w++ {
		if open[w] == 0 {
			continue
		}
		for i := range a.n {
			shows[i] = a.rows[i][w]
		}
		a.amps(&shows, &acAmps[w])
		clears := func(side int) bool {
			return square(a.less(v.ac.own[n+side][w], acSources+n+side, &acAmps[w])) > most*most
		}
		if hot := hotSide(ways[w]); clears(hot) || !lost && clears(1-hot) {
			open[w], again[w] = 0, c.hasShort // what a failed part hides is looked at the long way
		}
	}
	if open[0]|open[1] == 0 {
		return
	}
	if c.sources {
		for r, puller := range s.puller {
			s.looking.pulled[r] = l.pulled[r] || puller != nil && puller == g
		}
		if !v.dc.add(ports, direct, orAll(s.looking.dcSome)) {
			giveUp()
			return
		}
		for w := from; w < to; w++ {
			if open[w] == 0 {
				continue
			}
			for r, pulled := range s.looking.pulled {
				s.looking.emf[w][r] = 0
				if !pulled {
					s.looking.emf[w][r] = math.Sqrt2 * volts * modulus(a.less(v.ac.own[n+2+r][w], acSources+n+2+r, &acAmps[w]))
				}
			}
			for i := range direct.n {
				shows[i] = s.direct(direct.rows[i], w)
			}
			direct.amps(&shows, &steady[w])
			for k := range s.points {
				if open[w]>>k&1 == 1 {
					s.looking.volts[w][k] = math.Abs(real(direct.less(s.direct(v.dc.own[k], w), dcSources+k, &steady[w])))
				}
			}
		}
	}
	for w := from; w < to; w++ {
		s.judgeAll(&v.ac, &v.dc, a, w, &open, live, &acAmps[w])
	}
	for r := range c.sections {
		if open[0]|open[1] == 0 {
			break
		}
		if s.looking.pulled[r] {
			continue
		}
		if !v.held[r].add(ports, held, orAll(s.looking.heldSome)) {
			giveUp()
			return
		}
		for w := from; w < to; w++ {
			if open[w] == 0 {
				continue
			}
			for i := range held.n {
				shows[i] = held.rows[i][w]
			}
			held.amps(&shows, &amps)
			s.judgeAll(&v.held[r], &v.dc, held, w, &open, live, &amps)
		}
	}
}

// judgeAll judges the points that are open in a plug way, and moves those that are live. Their volts
// at DC are known.
func (s *searcher) judgeAll(ac, dc *view, a *added, w int, open, live *[2]uint64, amps *[maxAdded]complex128) {
	if open[w] == 0 {
		return
	}
	for k := range s.points {
		if open[w]>>k&1 == 1 && s.judge(ac, dc, a, k, w, amps) {
			live[w] |= 1 << k
			open[w] &^= 1 << k
		}
	}
}

// judge tells whether the k-th touch point is live by what a view at AC shows there and its volts at
// DC.
func (s *searcher) judge(ac, dc *view, a *added, k, w int, amps *[maxAdded]complex128) bool {
	c, dcVolts := s.d.c, s.looking.volts[w][k]
	left := (1 - dcVolts/ES2VoltsDC) * ES2VoltsAC / c.Set.Volts // what the limit leaves to AC, of the mains
	shows := square(a.less(ac.own[k][w], acSources+k, amps))
	if left >= 0 && shows <= left*left {
		return false
	}
	severity := 1e3 * c.Set.Volts * math.Sqrt(shows) / modulus(c.body+a.impedance(ac.own[k][acSources+k], acSources+k)) / ES2AmpsAC
	if dcVolts > 0 {
		direct := &s.looking.dc
		severity += 1e3 * dcVolts / (BodyDCOhms + real(direct.impedance(dc.own[k][dcSources+k], dcSources+k))) / ES2AmpsDC
	}
	return severity > 1
}

// direct is what batteries and rectifiers show at a port at DC, by its row.
func (s *searcher) direct(row []complex128, w int) complex128 {
	x := row[0]
	for r, emf := range s.looking.emf[w] {
		x += complex(emf, 0) * row[dcSources+len(s.points)+r]
	}
	return x
}

// slow looks at the prefix with one fault more the long way, which needs the circuit to itself
// where not all columns are there.
func (s *searcher) slow(g *Fault, way Way) (live uint64) {
	if !s.d.c.keepsColumns {
		s.d.slow.Lock()
		defer s.d.slow.Unlock()
	}
	set := append(slices.Clone(s.set), g)
	var run func(without bool)
	run = func(without bool) {
		again := false
		s.solver.run(way, s.combo, set, without, nil, s.d.touches, everything, func(_ string, cleared bool, at []thevenin) bool {
			if cleared {
				again = s.d.c.hasShort && !without
				return false
			}
			for k, t := range at {
				if t.reading(s.d.c.omega).Band() == Live {
					live |= 1 << k
				}
			}
			return true
		})
		if again {
			run(true)
		}
	}
	run(false)
	return live
}
