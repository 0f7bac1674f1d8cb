package analysis

import (
	"cmp"
	"runtime"
	"slices"
)

// hit is a set of faults that makes points live in one plug way; a bit a point.
type hit struct {
	set    []*Fault
	live   uint64
	marked bool // in the plug's marked way
}

// searchers look at the states of the set side by side: states are independent, and what they
// find is put together in an order that does not depend on which was first. Each takes one switch
// combination, in both plug ways, and its share of the sets.
type searcher struct {
	d         *depthSearch
	combo     int
	share, of int // of the faults that a set may begin with, those whose place leaves share, divided by of
	solver    *solver
	order     []*Fault    // free ones first
	bases     [2]searched // by plug way
	points    []int
	puller    []*Fault // by rectifier: the fault that its tube is pulled; nil for none
	levels    []level  // by size of the prefix
	hits      []hit
	set       []*Fault
	looking   looking
}

// larger searches the sets of one size of two and more, but for those that were looked at for the
// worst states.
func (d *depthSearch) larger(size int) {
	if d.searchers == nil {
		d.makeSearchers()
	}
	SideBySide(len(d.searchers), func(i int) {
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
	if d.limit >= 2 || d.together > d.limit+1 {
		order = append(order, d.costly...)
	}
	among := d.c.portsOf(order)
	combos := len(d.c.combos)
	shares := (runtime.GOMAXPROCS(0) + combos - 1) / combos
	for combo := range combos {
		for share := range shares {
			s := &searcher{d: d, combo: combo, share: share, of: shares, order: order}
			if share > 0 { // what the first lays out is only read
				s.bases = d.searchers[len(d.searchers)-1].bases
			}
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
		if len(s.set) == 0 && k%s.of != s.share || !s.fits(size, cost+f.Cost) || !compatible(s.set, f) || f.Cost == 0 && len(s.set) >= s.d.suspects {
			continue
		}
		s.set = append(s.set, f)
		s.prefixes(size, k+1, cost+f.Cost)
		s.set = s.set[:len(s.set)-1]
	}
}

// fits tells whether a set of that size may cost so much.
func (s *searcher) fits(size, cost int) bool {
	return cost <= s.d.limit && (size <= s.d.together || cost == 0)
}

// extend looks at every set of one fault more than the prefix.
func (s *searcher) extend(size, from, cost int) {
	covered := s.d.coverAll
	for _, f := range s.set {
		covered |= s.d.coveredBy(f, s.set)
	}
	s.level().ready = false
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
		open := s.d.within[total] &^ (covered | s.d.coveredBy(g, s.set))
		need := [2]uint64{open, open}
		need[0] |= s.d.within[total] & s.d.openMarks(total)
		if need[0] == 0 {
			continue
		}
		for w, live := range s.look(g, need) {
			if live != 0 {
				s.hits = append(s.hits, hit{inOrder(append(slices.Clone(s.set), g)), live, ways[w] == AsMarked})
			}
		}
	}
}

// changesNothing tells whether a short lies between nodes that are joined in this state, or that the
// prefix shorts already: the larger set is then live where the smaller is.
func (s *searcher) changesNothing(g *Fault) bool {
	if !g.short && g.Kind != Stuck {
		return false
	}
	row := s.bases[0].ac.row
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
