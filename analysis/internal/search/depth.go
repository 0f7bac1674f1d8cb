package search

import (
	"runtime"
	"slices"

	"coldcheck/analysis/internal/circuit"
	"coldcheck/analysis/internal/nodal"
	"coldcheck/analysis/internal/parallel"
)

// depthSearch is the search for live targets over sets of faults.
type depthSearch struct {
	c         *circuit.Circuit
	n         *nodal.Network
	limit     int // K
	together  int // faults in a set
	targets   []target
	leftOut   [][]*circuit.TouchPoint
	free      []*circuit.Fault // of cost 0
	costly    []*circuit.Fault
	found     []cutSets // by target, guards aside
	marked    []int     // by target: least cost with the plug as marked, guards aside
	normal    []worst   // by target
	oneFault  []worst
	notJudged Count

	block block
}

// block is the targets that are searched at a time: as many as a targetSet has bits.
type block struct {
	first, count int
	points       []int       // in Circuit.Points: those that are read
	within       []targetSet // by cost: those of which a set of that cost may speak
	covered      covered
	workers      []*worker
}

const blockOf = 64

func newDepthSearch(n *nodal.Network, o Options, sought Sought) *depthSearch {
	c := n.Circuit
	d := &depthSearch{c: c, n: n, limit: o.Faults, together: o.Together}
	d.targets, d.leftOut = targetsOf(c)
	d.targets = slices.DeleteFunc(d.targets, func(t target) bool {
		var b *circuit.TouchPoint
		if t.b >= 0 {
			b = &c.Points[t.b]
		}
		return !sought(&c.Points[t.a], b)
	})
	d.found, d.marked = make([]cutSets, len(d.targets)), make([]int, len(d.targets))
	d.normal, d.oneFault = make([]worst, len(d.targets)), make([]worst, len(d.targets))
	for _, f := range c.Faults {
		if f.Cost == 0 {
			d.free = append(d.free, f)
		} else {
			d.costly = append(d.costly, f)
		}
	}
	for k := range d.marked {
		d.marked[k] = None
	}
	return d
}

// run searches the targets block by block. Each block goes through the sets by size, so that every
// proper subset of a set came before it.
func (d *depthSearch) run() {
	for first := 0; first < len(d.targets); first += blockOf {
		d.startBlock(first)
		for size := 0; size <= d.together; size++ {
			if size > len(d.free)+min(d.limit, len(d.costly)) {
				continue // there is no such set
			}
			parallel.Each(len(d.block.workers), func(i int) { d.block.workers[i].sets(size) })
			d.gatherHits()
			switch size {
			case 1:
				d.noteSingles()
			case 2:
				d.notePairs()
			}
		}
		d.gatherWorsts()
	}
	d.block = block{}
	d.chains()
}

// startBlock shares the states out: each worker takes one position of switches and controls, and its
// share of the sets.
func (d *depthSearch) startBlock(first int) {
	b := &d.block
	*b = block{first: first, count: min(blockOf, len(d.targets)-first), covered: covered{one: make([]targetSet, len(d.c.Faults))}}
	b.within = make([]targetSet, d.limit+1)
	var probes []probe
	for k, t := range d.targets[first : first+b.count] {
		for cost := range b.within {
			if cost+t.guardCost() <= d.limit {
				b.within[cost] |= 1 << k
			}
		}
		probes = append(probes, b.probe(t))
	}
	order := append(slices.Clone(d.free), d.costly...)
	positions := len(d.c.Positions)
	shares := (runtime.GOMAXPROCS(0) + positions - 1) / positions
	b.workers = make([]*worker, positions*shares)
	parallel.Each(positions, func(position int) {
		e := d.n.EvaluatorOf(position, b.points)
		for share := range shares {
			b.workers[position*shares+share] = newWorker(d, e, order, probes, share, shares)
			e = e.Fork()
		}
	})
}

// probe is where a target is read, by the places of its points among those that are read.
type probe struct{ a, b int }

// probe gives a target's, and has its points read.
func (b *block) probe(t target) probe {
	place := func(point int) int {
		if point < 0 {
			return -1
		}
		k := slices.Index(b.points, point)
		if k < 0 {
			k = len(b.points)
			b.points = append(b.points, point)
		}
		return k
	}
	return probe{place(t.a), place(t.b)}
}

// hit is a set of faults that makes targets live in one plug polarity.
type hit struct {
	set    []*circuit.Fault
	live   targetSet
	marked bool // with the plug as marked
}

// gatherHits puts together what the workers found, in an order that does not depend on which was
// first.
func (d *depthSearch) gatherHits() {
	var all []hit
	for _, w := range d.block.workers {
		all = append(all, w.hits...)
		w.hits = w.hits[:0]
	}
	slices.SortStableFunc(all, func(a, b hit) int { return circuit.CompareFaults(a.set, b.set) })
	for i := 0; i < len(all); {
		live, cost := targetSet(0), circuit.CostOf(all[i].set)
		j := i
		for ; j < len(all) && circuit.CompareFaults(all[i].set, all[j].set) == 0; j++ {
			live |= all[j].live
			if all[j].marked {
				d.mark(all[j].live, cost)
			}
		}
		for k := range d.block.count {
			if t := d.block.first + k; (live & d.block.within[cost]).has(k) && !d.found[t].holdsSubset(all[i].set) {
				d.found[t].add(all[i].set)
			}
		}
		i = j
	}
}

// mark lowers the depth as marked.
func (d *depthSearch) mark(live targetSet, cost int) {
	for k := range d.block.count {
		if t := d.block.first + k; (live & d.block.within[cost]).has(k) && (d.marked[t] == None || cost < d.marked[t]) {
			d.marked[t] = cost
		}
	}
}

// mayMark are the targets for which a set of that cost may lower the depth as marked.
func (d *depthSearch) mayMark(cost int) (may targetSet) {
	for k := range d.block.count {
		if marked := d.marked[d.block.first+k]; marked == None || cost < marked {
			may |= 1 << k
		}
	}
	return may
}

// gatherWorsts puts the workers' worst states and counts together, in the order of the states. Every
// block counts the same states.
func (d *depthSearch) gatherWorsts() {
	first := d.block.first
	for _, w := range d.block.workers {
		if first == 0 {
			d.notJudged.States += w.notJudged.States
			d.notJudged.Of += w.notJudged.Of
		}
		for k := range w.normal {
			d.normal[first+k].addAll(&w.normal[k])
			d.oneFault[first+k].addAll(&w.oneFault[k])
		}
	}
}
