package analysis

import (
	"cmp"
	"math"
	"slices"
)

// hit is a set of faults that makes points live in one plug way; a bit a point.
type hit struct {
	set    []*Fault
	live   uint64
	marked bool // in the plug's marked way
}

// searchers look at the states of the set side by side: states are independent, and what they
// find is put together in an order that does not depend on which was first.
type searcher struct {
	d      *depthSearch
	way    Way
	combo  int
	solver *solver
	order  []*Fault // free ones first
	ac, dc *base
	held   *base
	sees   struct{ ac, dc, held *seen } // watched: touch points; at AC the two sides of the supply and the rectifiers too, at DC these' branches
	points []int
	views  []levelViews
	puller []*Fault // by rectifier: the fault that its tube is pulled; nil for none
	emf    []float64
	hits   []hit
	set    []*Fault
	pulled []bool // by rectifier
	more   struct{ ac, dc, held added }
}

// levelViews are the views of a set: at AC with all blocking, at DC, and with each rectifier
// conducting.
type levelViews struct {
	ac, dc view
	held   []view
	pulled []bool // by rectifier
}

// larger searches the sets of one size of two and more, but for those that were looked at for the
// worst states.
func (d *depthSearch) larger(size int) {
	if d.searchers == nil {
		d.makeSearchers()
	}
	sideBySide(len(d.searchers), func(i int) {
		s := d.searchers[i]
		s.hits = s.hits[:0]
		s.prefixes(size, 0, 0)
	})
	d.gather()
}

// gather puts together what the searchers found.
func (d *depthSearch) gather() {
	var all []hit
	for _, s := range d.searchers {
		all = append(all, s.hits...)
	}
	slices.SortStableFunc(all, func(a, b hit) int { return compareByIndex(a.set, b.set) })
	for i := 0; i < len(all); {
		live := uint64(0)
		j := i
		for ; j < len(all) && compareByIndex(all[i].set, all[j].set) == 0; j++ {
			live |= all[j].live
			if all[j].marked {
				d.mark(all[j].live, costOf(all[j].set))
			}
		}
		cost := costOf(all[i].set)
		for k := range d.c.Points {
			if live>>k&1 == 1 && cost+d.guard[k] <= d.limit && !d.found[k].holdsSubset(all[i].set) {
				d.found[k].add(all[i].set)
			}
		}
		i = j
	}
}

func (d *depthSearch) mark(live uint64, cost int) {
	for k := range d.c.Points {
		if live>>k&1 == 1 && cost+d.guard[k] <= d.limit && (d.marked[k] == None || cost < d.marked[k]) {
			d.marked[k] = cost
		}
	}
}

func compareByIndex(a, b []*Fault) int {
	return slices.CompareFunc(a, b, func(f, g *Fault) int { return cmp.Compare(f.index, g.index) })
}

func (d *depthSearch) makeSearchers() {
	order := slices.Clone(d.free)
	if d.limit >= 2 {
		order = append(order, d.costly...)
	}
	among := d.c.portsOf(order)
	for combo := range d.c.combos {
		for _, way := range ways {
			s := &searcher{d: d, way: way, combo: combo, order: order}
			s.prepare(among)
			d.searchers = append(d.searchers, s)
		}
	}
}

// portsOf lists the ports that faults use in either plug way, with those that follow them, and
// those that are watched.
func (c *Circuit) portsOf(faults []*Fault) []int {
	used := make([]bool, len(c.ports))
	for _, f := range faults {
		for _, p := range f.ports {
			used[p] = true
			if c.ports[p].joins {
				used[p+1] = true
			}
		}
	}
	for i := range c.elements {
		if e := &c.elements[i]; e.sort == link {
			used[e.leaks[0]], used[e.leaks[1]] = true, true
		}
	}
	used[c.sidePort[0]], used[c.sidePort[1]] = true, true
	for _, p := range c.Points {
		used[p.port] = true
	}
	for _, i := range c.sections {
		used[c.elements[i].port], used[c.elements[i].openPort] = true, true
	}
	var list []int
	for p, yes := range used {
		if yes {
			list = append(list, p)
		}
	}
	return list
}

// prepare makes the bases and fills in their columns, which the searchers then only read.
func (s *searcher) prepare(among []int) {
	c := s.d.c
	s.solver = newSolver(c)
	s.emf = make([]float64, len(c.sections))
	s.pulled = make([]bool, len(c.sections))
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
	base := func(m mode) *base {
		b := c.base(s.combo, m, s.way, false)
		for _, p := range among {
			b.column(p)
		}
		return b
	}
	source := c.sidePort[hotSide(s.way)]
	s.ac = base(acBlocking)
	s.sees.ac = s.ac.sees(s.ac.column(source), watchAC, among)
	if c.sources {
		s.dc = base(dc)
		battery := make([]complex128, len(c.ports))
		if s.dc.battery != nil {
			for _, p := range among {
				battery[p] = s.dc.at(s.dc.battery, p)
			}
		}
		s.sees.dc = s.dc.sees(battery, watchDC, among)
	}
	if len(c.sections) > 0 {
		s.held = base(acHeld)
		s.sees.held = s.held.sees(s.held.column(source), s.points, among)
	}
}

// pulled is the fault that a part is pulled, nil where it cannot be.
func (c *Circuit) pulled(part string) *Fault {
	for _, f := range c.faultsOf[part] {
		if f.Kind == Pulled {
			return f
		}
	}
	return nil
}

// prefixes goes through the sets of one fault less, and from each to its larger ones.
func (s *searcher) prefixes(size, from, cost int) {
	if len(s.set) == size-1 {
		s.extend(size, from, cost)
		return
	}
	for k := from; k < len(s.order); k++ {
		f := s.order[k]
		if !s.fits(size, cost+f.Cost) || !compatible(s.set, f) || f.Cost == 0 && len(s.set) >= s.d.suspects {
			continue
		}
		s.set = append(s.set, f)
		s.prefixes(size, k+1, cost+f.Cost)
		s.set = s.set[:len(s.set)-1]
	}
}

// fits tells whether a set of that size may cost so much.
func (s *searcher) fits(size, cost int) bool {
	return cost <= s.d.limit && (size <= s.d.limit+1 || cost == 0)
}

// extend looks at every set of one fault more than the prefix.
func (s *searcher) extend(size, from, cost int) {
	covered := s.d.coverAll
	for _, f := range s.set {
		covered |= s.d.cover[f.index]
	}
	ready, weak := false, false
	for k := from; k < len(s.order); k++ {
		g := s.order[k]
		total := cost + g.Cost
		if !s.fits(size, total) {
			if g.Cost > 0 && !s.fits(size, cost+1) {
				break // the costly ones come last
			}
			continue
		}
		if size == 2 && total <= 1 || g.Cost == 0 && len(s.set) >= s.d.suspects || !compatible(s.set, g) || s.changesNothing(g) {
			continue
		}
		need := s.d.within[total] &^ (covered | s.d.cover[g.index])
		if s.way == AsMarked {
			need |= s.d.within[total] & s.d.openMarks(total)
		}
		if need == 0 {
			continue
		}
		if !ready {
			ready, weak = true, !s.buildViews()
		}
		var live uint64
		ok := false
		if !weak {
			live, ok = s.look(g, need)
		}
		if !ok {
			live = s.slow(g)
		}
		if live != 0 {
			set := append(slices.Clone(s.set), g)
			s.hits = append(s.hits, hit{inOrder(set), live, s.way == AsMarked})
		}
	}
}

// changesNothing tells whether a short lies between nodes that are joined in this state, or that the
// prefix shorts already: the larger set is then live where the smaller is.
func (s *searcher) changesNothing(g *Fault) bool {
	if !g.short && g.Kind != Stuck {
		return false
	}
	row := s.ac.row
	a, b := row[g.a], row[g.b]
	if a == b {
		return true
	}
	for _, f := range s.set {
		if f.short {
			if x, y := row[f.a], row[f.b]; x == a && y == b || x == b && y == a {
				return true
			}
		}
	}
	return false
}

// buildViews puts the prefix into the three sets of equations.
func (s *searcher) buildViews() bool {
	c := s.d.c
	level := len(s.set)
	for len(s.views) <= level {
		s.views = append(s.views, levelViews{held: make([]view, len(c.sections)), pulled: make([]bool, len(c.sections))})
	}
	v := &s.views[level]
	s.solver.ports = s.solver.ports[:0]
	for _, f := range s.set {
		s.solver.ports = append(s.solver.ports, s.portsFor(f)...)
	}
	ports := s.solver.ports
	v.ac.build(s.ac, s.sees.ac, ports, len(s.sees.ac.watch))
	if v.ac.weak {
		return false
	}
	if s.dc != nil {
		v.dc.build(s.dc, s.sees.dc, ports, len(s.points))
		if v.dc.weak {
			return false
		}
	}
	for r, i := range c.sections {
		v.pulled[r] = s.puller[r] != nil && slices.Contains(s.set, s.puller[r])
		if v.pulled[r] {
			continue
		}
		with := append(slices.Clip(ports), c.elements[i].port)
		v.held[r].build(s.held, s.sees.held, with, len(s.points))
		if v.held[r].weak {
			return false
		}
	}
	return true
}

func (s *searcher) portsFor(f *Fault) []int {
	if f.Kind == NeutralLost {
		k := 1 - hotSide(s.way)
		return s.d.c.sidePort[k : k+1]
	}
	return f.ports
}

// look reads the needed points with one fault more, and gives those that are live.
func (s *searcher) look(g *Fault, need uint64) (live uint64, ok bool) {
	c := s.d.c
	v := &s.views[len(s.set)]
	a := &s.more.ac
	ports := s.portsFor(g)
	if !v.ac.add(ports, a) {
		return 0, false
	}
	volts := c.Set.Volts
	var shows, amps [maxAdded]complex128
	for i := range a.n {
		shows[i] = a.rows[i][0]
	}
	a.amps(&shows, &amps)
	n := len(s.points)
	// at is what the m-th watched port shows at AC.
	at := func(m int) float64 { return volts * modulus(a.less(v.ac.own[m][0], 1+m, &amps)) }
	lost := g.Kind == NeutralLost
	for _, f := range s.set {
		lost = lost || f.Kind == NeutralLost
	}
	hot := hotSide(s.way)
	if at(n+hot) > ClearedAmps || !lost && at(n+1-hot) > ClearedAmps {
		return 0, !c.hasShort // what a failed part hides is looked at the long way
	}
	var dcAmps [maxAdded]complex128
	if s.dc != nil {
		for r, puller := range s.puller {
			s.emf[r] = 0
			if s.pulled[r] = v.pulled[r] || puller != nil && puller == g; !s.pulled[r] {
				s.emf[r] = math.Sqrt2 * at(n+2+r)
			}
		}
		direct := &s.more.dc
		if !v.dc.add(ports, direct) {
			return 0, false
		}
		for i := range direct.n {
			shows[i] = s.direct(direct.rows[i])
		}
		direct.amps(&shows, &dcAmps)
	}
	for k := range n {
		if need>>k&1 == 1 && s.judge(&v.ac, a, k, &amps, &dcAmps) {
			live |= 1 << k
		}
	}
	held := &s.more.held
	for r := range c.sections {
		if live == need {
			break
		}
		if s.pulled[r] {
			continue
		}
		h := &v.held[r]
		if !h.add(ports, held) {
			return 0, false
		}
		for i := range held.n {
			shows[i] = held.rows[i][0]
		}
		held.amps(&shows, &amps)
		for k := range n {
			if (need&^live)>>k&1 == 1 && s.judge(h, held, k, &amps, &dcAmps) {
				live |= 1 << k
			}
		}
	}
	return live, true
}

// judge tells whether the k-th touch point is live by what a view at AC and that at DC show there.
func (s *searcher) judge(v *view, a *added, k int, amps, dcAmps *[maxAdded]complex128) bool {
	open, steady := s.d.c.Set.Volts*modulus(a.less(v.own[k][0], 1+k, amps)), 0.0
	var direct *view
	if s.dc != nil {
		direct = &s.views[len(s.set)].dc
		steady = math.Abs(real(s.more.dc.less(s.direct(direct.own[k]), 1+k, dcAmps)))
	}
	if open/ES2VoltsAC+steady/ES2VoltsDC <= 1 {
		return false
	}
	severity := 1e3 * open / modulus(s.d.c.body+v.impedance(a, k)) / ES2AmpsAC
	if steady > 0 {
		severity += 1e3 * steady / (BodyDCOhms + real(direct.impedance(&s.more.dc, k))) / ES2AmpsDC
	}
	return severity > 1
}

// direct is what batteries and rectifiers show at a port at DC, by its row.
func (s *searcher) direct(row []complex128) complex128 {
	x := row[0]
	for r, emf := range s.emf {
		x += complex(emf, 0) * row[1+len(s.points)+r]
	}
	return x
}

// slow looks at the prefix with one fault more the long way, which needs the circuit to itself
// where not all columns are there.
func (s *searcher) slow(g *Fault) (live uint64) {
	if !s.d.c.keepsColumns {
		s.d.slow.Lock()
		defer s.d.slow.Unlock()
	}
	set := append(slices.Clone(s.set), g)
	var run func(without bool)
	run = func(without bool) {
		again := false
		s.solver.run(s.way, s.combo, set, without, nil, s.d.touches, everything, func(_ string, cleared bool, at []thevenin) bool {
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
