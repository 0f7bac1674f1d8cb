package search

import (
	"runtime"
	"slices"

	"coldcheck/analysis/internal/circuit"
	"coldcheck/analysis/internal/nodal"
	"coldcheck/analysis/internal/parallel"
)

// depthSearch is the search for live points over sets of faults.
type depthSearch struct {
	c         *circuit.Circuit
	n         *nodal.Network
	limit     int
	suspects  int // faults of cost 0 tried together
	together  int // faults in a set that costs anything
	pairs     []pair
	free      []*circuit.Fault // of cost 0
	costly    []*circuit.Fault
	found     []cutSets // by point, guard aside
	marked    []int     // by point: least cost with the plug as marked, guard aside
	normal    []worst   // by point, then by pair
	oneFault  []worst
	notJudged Count

	// The block of touch points that is searched.
	first, count int
	within       []pointSet // by cost: those of which a set of that cost may speak
	covered      covered
	workers      []*worker
}

// blockOf is how many touch points are searched at a time: as many as a pointSet has bits.
const blockOf = 64

func newDepthSearch(n *nodal.Network, limit int) *depthSearch {
	c := n.Circuit
	d := &depthSearch{c: c, n: n, limit: limit, together: limit + 1, suspects: suspectsTogether, pairs: pairsOf(len(c.Points)),
		found: make([]cutSets, len(c.Points)), marked: make([]int, len(c.Points))}
	d.normal, d.oneFault = make([]worst, len(c.Points)+len(d.pairs)), make([]worst, len(c.Points)+len(d.pairs))
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

// run searches the touch points block by block. Each block goes through the sets by size, so that
// every proper subset of a set came before it: at most together faults, or suspects where they all
// cost nothing.
func (d *depthSearch) run() {
	for d.first = 0; d.first < len(d.c.Points); d.first += blockOf {
		d.count = min(blockOf, len(d.c.Points)-d.first)
		d.startBlock()
		for size := 0; size <= max(d.together, d.suspects); size++ {
			if size > len(d.free) && (size > d.together || len(d.free)+d.limit < size) {
				continue // there is no such set
			}
			parallel.Each(len(d.workers), func(i int) { d.workers[i].sets(size) })
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
}

// startBlock shares the states out: each worker takes one combination of switch positions, and its
// share of the sets.
func (d *depthSearch) startBlock() {
	d.within = make([]pointSet, d.limit+1)
	for cost := range d.within {
		for k := range d.count {
			if cost+d.c.Points[d.first+k].GuardCost() <= d.limit {
				d.within[cost] |= 1 << k
			}
		}
	}
	d.covered = covered{one: make([]pointSet, len(d.c.Faults))}
	order := append(slices.Clone(d.free), d.costly...)
	shares := (runtime.GOMAXPROCS(0) + len(d.c.Positions) - 1) / len(d.c.Positions)
	d.workers = make([]*worker, len(d.c.Positions)*shares)
	parallel.Each(len(d.c.Positions), func(position int) {
		e := d.n.EvaluatorOf(position, d.first, d.count)
		for share := range shares {
			d.workers[position*shares+share] = newWorker(d, e, order, share, shares)
			e = e.Fork()
		}
	})
}

// hit is a set of faults that makes points live in one plug polarity.
type hit struct {
	set    []*circuit.Fault
	live   pointSet
	marked bool // with the plug as marked
}

// gatherHits puts together what the workers found, in an order that does not depend on which was
// first.
func (d *depthSearch) gatherHits() {
	var all []hit
	for _, w := range d.workers {
		all = append(all, w.hits...)
		w.hits = w.hits[:0]
	}
	slices.SortStableFunc(all, func(a, b hit) int { return circuit.CompareFaults(a.set, b.set) })
	for i := 0; i < len(all); {
		live, cost := pointSet(0), circuit.CostOf(all[i].set)
		j := i
		for ; j < len(all) && circuit.CompareFaults(all[i].set, all[j].set) == 0; j++ {
			live |= all[j].live
			if all[j].marked {
				d.mark(all[j].live, cost)
			}
		}
		for k := range d.count {
			if p := d.first + k; (live & d.within[cost]).has(k) && !d.found[p].holdsSubset(all[i].set) {
				d.found[p].add(all[i].set)
			}
		}
		i = j
	}
}

// mark lowers the depth as marked.
func (d *depthSearch) mark(live pointSet, cost int) {
	for k := range d.count {
		if p := d.first + k; (live & d.within[cost]).has(k) && (d.marked[p] == None || cost < d.marked[p]) {
			d.marked[p] = cost
		}
	}
}

// mayMark are the points for which a set of that cost may lower the depth as marked.
func (d *depthSearch) mayMark(cost int) (may pointSet) {
	for k := range d.count {
		if marked := d.marked[d.first+k]; marked == None || cost < marked {
			may |= 1 << k
		}
	}
	return may
}

// gatherWorsts puts the workers' worst states and counts together, in the order of the states. Every
// block counts the same states.
func (d *depthSearch) gatherWorsts() {
	if d.first == 0 {
		for _, w := range d.workers {
			d.notJudged.States += w.notJudged.States
			d.notJudged.Of += w.notJudged.Of
		}
	}
	for _, w := range d.workers {
		for k := range w.normal {
			d.normal[d.first+k].addAll(&w.normal[k])
			d.oneFault[d.first+k].addAll(&w.oneFault[k])
		}
	}
}
